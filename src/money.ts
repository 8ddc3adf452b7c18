import { Decimal } from "decimal.js";

/**
 * Money is decimal, in units of the currency (12.50, not 1250). A private Decimal constructor keeps
 * 40 digits whatever a library elsewhere sets, and never falls into exponents when printed.
 */
export const Amount = Decimal.clone({
  precision: 40,
  rounding: Decimal.ROUND_HALF_UP,
  toExpNeg: -40,
  toExpPos: 40,
});
export type Amount = Decimal;

export interface Currency {
  /** ISO 4217 alphabetic code. */
  readonly code: string;
  /** ISO 4217 minor units: 2 for EUR, 0 for JPY, 3 for BHD. */
  readonly minorDigits: number;
}

/** ISO 4217, list one: the codes whose minor units are not 2 (from memory; main ones checked). */
const MINOR_DIGITS: Readonly<Record<number, readonly string[]>> = {
  0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF".split(" "),
  3: "BHD IQD JOD KWD LYD OMR TND".split(" "),
  4: "CLF UYW".split(" "),
};

/** The currency of an ISO 4217 code, or null when there is no such code. */
export function currencyOf(code: string): Currency | null {
  const upper = code.trim().toUpperCase();
  const special = Object.entries(MINOR_DIGITS).find(([, codes]) => codes.includes(upper));
  if (special) return { code: upper, minorDigits: Number(special[0]) };
  if (!Intl.supportedValuesOf("currency").includes(upper)) return null;
  return { code: upper, minorDigits: 2 };
}

/** A plain decimal such as `12.50` or `-3`; null for anything else, also `0x10`, `1e3`, `1,5`. */
export function parseDecimal(text: string): Amount | null {
  const trimmed = text.trim();
  return /^[+-]?\d+(\.\d+)?$/.test(trimmed) ? new Amount(trimmed) : null;
}

/** Rounded half away from zero to the minor unit, as invoices do. */
export function roundMoney(amount: Amount, currency: Currency): Amount {
  return plainZero(amount.toDecimalPlaces(currency.minorDigits, Decimal.ROUND_HALF_UP));
}

/** `1234.50`: with all minor digits, no grouping, a point: for files. */
export function moneyText(amount: Amount, currency: Currency): string {
  return roundMoney(amount, currency).toFixed(currency.minorDigits);
}

/** Decimal prints negative zero as `-0`; a price never is. */
function plainZero(amount: Amount): Amount {
  return amount.isZero() ? new Amount(0) : amount;
}

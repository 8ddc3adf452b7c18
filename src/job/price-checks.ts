import type { Amount, Currency } from "../money.ts";
import { moneyText } from "../money.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Fault, Place, Problem } from "../problem.ts";
import { withPoint } from "./numerals.ts";
import type { Setting, SettingName, Tables } from "./types.ts";

/**
 * Prices that nobody can pay: finer than the currency's minor unit (ISO 4217). A rate by the metre,
 * minute or hour may be finer, because it is multiplied before it is rounded.
 */

/** A price as it stands in its cell. */
export interface WrittenPrice {
  readonly place: Place;
  readonly written: string;
  readonly price: Amount;
}

/** `12.345` in EUR; also `1.200`, which may be twelve hundred where a point parts thousands. */
export function finePrices(
  prices: readonly WrittenPrice[],
  column: string,
  currency: Currency | null,
): readonly Problem[] {
  if (currency === null) return [];
  return prices
    .filter(({ written, price }) => isFine(price, currency) || mayPartThousands(written, currency))
    .map(({ place, written, price }) =>
      errorAt(inColumn(place, column), tooFine(written, price, currency)),
    );
}

/** The settings that are sums of money, of the job and of the tables. */
export function fineSums(
  settings: readonly ReadonlyMap<SettingName, Setting>[],
  { currency }: Pick<Tables, "currency">,
): readonly Problem[] {
  if (currency === null) return [];
  const sums = settings.flatMap((ones) => SUMS.flatMap((name) => ones.get(name) ?? []));
  return sums
    .filter(({ value }) => isFine(value, currency))
    .map(({ value, place }) => errorAt(place, tooFine(value.toFixed(), value, currency)));
}

const SUMS: readonly SettingName[] = [
  "delivery",
  "round_total_to",
  "minimum_order",
  "discount",
  "revision_price",
];

function isFine(price: Amount, { minorDigits }: Currency): boolean {
  return price.decimalPlaces() > minorDigits;
}

function mayPartThousands(written: string, { minorDigits }: Currency): boolean {
  return minorDigits !== 3 && /^[1-9]\d{0,2}\.\d{3}$/.test(withPoint(written) ?? written);
}

function tooFine(found: string, price: Amount, currency: Currency): Fault {
  const { code, minorDigits } = currency;
  const rounded = moneyText(price, currency);
  const thousands = mayPartThousands(found, currency)
    ? `Write ${found.replace(/[.,]/, "")} if thousands are meant, or ${rounded}`
    : `Write ${rounded}, or correct it`;
  const digits = minorDigits === 0 ? "no decimals" : `at most ${minorDigits} decimals`;
  return {
    code: "price-too-fine",
    found,
    expected: `a price that can be paid, with ${digits} in ${code}`,
    mend: thousands,
  };
}

import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount, currencyOf, moneyText, parseDecimal, roundMoney } from "../src/money.ts";
import type { Currency } from "../src/money.ts";

const EUR = { code: "EUR", minorDigits: 2 };
const CURRENCIES: fc.Arbitrary<Currency> = fc.constantFrom(
  EUR,
  { code: "JPY", minorDigits: 0 },
  { code: "BHD", minorDigits: 3 },
  { code: "CLF", minorDigits: 4 },
);

/** Decimals as two whole numbers: digits and how many of them stand behind the point. */
const DECIMALS = fc.record({
  digits: fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }),
  places: fc.integer({ min: 0, max: 9 }),
});

function amountOf({ digits, places }: { digits: bigint; places: number }): Amount {
  return new Amount(digits.toString()).div(new Amount(10).pow(places));
}

describe("currencyOf", () => {
  // ISO 4217, list one: every code whose minor unit is not 2.
  it.each([
    [0, "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"],
    [3, "BHD IQD JOD KWD LYD OMR TND"],
    [4, "CLF UYW"],
    [2, "EUR GBP USD CHF SEK DKK NOK PLN CZK HUF CAD AUD INR CNY ZAR BRL MXN TRY COP IDR"],
  ])("gives %i minor digits to %s", (minorDigits, codes) => {
    for (const code of codes.split(" ")) expect(currencyOf(code)).toEqual({ code, minorDigits });
  });

  it.each(["", "EURO", "XQQ", "E", "€", "EU R", "constructor"])("does not know %j", (code) => {
    expect(currencyOf(code)).toBeNull();
  });

  it("takes codes as people write them", () => {
    expect(currencyOf(" eur ")).toEqual(EUR);
  });
});

describe("parseDecimal", () => {
  it.each(["12.50", "-3", "+3", "0", " 7 ", "0.1", "12345678901234567890.123456789"])(
    "%s",
    (text) => {
      expect(parseDecimal(text)?.toFixed()).toBe(
        text.trim().replace("+", "").replace("12.50", "12.5"),
      );
    },
  );

  it.each(["", "1,5", "0x10", "1e3", ".5", "1.", "1 000", "NaN", "Infinity", "--1", "€1"])(
    "refuses %j",
    (text) => {
      expect(parseDecimal(text)).toBeNull();
    },
  );
});

describe("roundMoney", () => {
  it("rounds half away from zero, as whole-number arithmetic does", () => {
    let halves = 0;
    const nearHalf = fc.record({
      digits: fc.bigInt({ min: -(10n ** 6n), max: 10n ** 6n }).map((n) => n * 10n + 5n),
      places: fc.integer({ min: 1, max: 5 }),
    });
    fc.assert(
      fc.property(fc.oneof(DECIMALS, nearHalf), CURRENCIES, ({ digits, places }, currency) => {
        const unit = 10n ** BigInt(currency.minorDigits);
        const bottom = 10n ** BigInt(places);
        const size = (digits < 0n ? -digits : digits) * unit;
        // floor(x + 1/2) of the size, in minor units.
        const wanted = ((2n * size + bottom) / (2n * bottom)) * (digits < 0n ? -1n : 1n);
        if ((2n * size) % (2n * bottom) === bottom) halves += 1;
        const rounded = roundMoney(amountOf({ digits, places }), currency);
        expect(rounded.times(unit.toString()).toFixed()).toBe(wanted.toString());
      }),
      { numRuns: 2000, seed: 1 },
    );
    expect(halves).toBeGreaterThan(100);
  });

  it.each([
    ["0.005", EUR, "0.01"],
    ["-0.005", EUR, "-0.01"],
    ["2.675", EUR, "2.68"],
    ["-0.001", EUR, "0.00"],
    ["1234567.5", { code: "JPY", minorDigits: 0 }, "1234568"],
    ["1.0005", { code: "BHD", minorDigits: 3 }, "1.001"],
    ["12", EUR, "12.00"],
  ])("writes %s in full minor digits", (text, currency, wanted) => {
    expect(moneyText(new Amount(text), currency)).toBe(wanted);
  });
});

describe("Amount", () => {
  it("is decimal: ten dimes are one", () => {
    const dimes = Array.from({ length: 10 }, () => new Amount("0.1"));
    expect(dimes.reduce((a, b) => a.plus(b)).equals(1)).toBe(true);
  });

  it("prints without exponents", () => {
    expect(new Amount("0.000000001").toString()).toBe("0.000000001");
    expect(new Amount("1e30").toString()).toBe(`1${"0".repeat(30)}`);
  });
});

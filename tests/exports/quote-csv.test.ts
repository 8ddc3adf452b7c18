import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { quoteCsv } from "../../src/exports/quote-csv.ts";
import { Amount } from "../../src/money.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated, SMALL, SMALL_TABLES, withTexts } from "../helpers/job.ts";
import { headerOf, rowsOf } from "../helpers/rows.ts";

const SETTINGS = "price-tables/settings.csv";

function inCurrency(code: string): Estimate {
  const settings = SMALL_TABLES.find(({ name }) => name === SETTINGS)?.text ?? "";
  return estimated(withTexts(SMALL, { [SETTINGS]: settings.replace("EUR", code) }));
}

function sum(amounts: readonly string[]): Amount {
  return amounts.reduce((total, amount) => total.plus(amount), new Amount(0));
}

describe.each([
  ["a small job", () => estimated(SMALL), "EUR", 2],
  ["yen, without a minor unit", () => inCurrency("JPY"), "JPY", 0],
  ["Bahraini dinars, with three digits", () => inCurrency("BHD"), "BHD", 3],
  ["the demo", async () => estimated(await demoInput()), "EUR", 2],
] as const)("quote.csv of %s", async (_, make, currency, digits) => {
  const estimate = await make();
  const csv = quoteCsv(estimate);
  const rows = rowsOf(csv);
  const amountsOf = (kind: string): string[] =>
    rows.filter((row) => row["kind"] === kind).map((row) => row["amount"] ?? "");
  const figure = (id: string): Amount =>
    new Amount(estimate.figures.find((one) => one.id === id)?.value ?? Number.NaN);

  it("has the header that others rely on", () => {
    expect(headerOf(csv)).toBe(
      "section,line,description,quantity,unit,unit_price,amount,currency,kind,basis",
    );
    expect(csv.endsWith("\r\n")).toBe(true);
  });

  it("sums to the net total over its lines, to the cent", () => {
    const lines = amountsOf("line");
    expect(lines.length).toBeGreaterThan(5);
    expect(amountsOf("subtotal")).toEqual([sum(lines).toFixed(digits)]);
    expect(sum(lines).eq(figure("quote.net"))).toBe(true);
  });

  it("adds tax once, on the net total", () => {
    const net = new Amount(amountsOf("subtotal")[0] ?? 0);
    const percent = figure("rule.tax");
    expect(percent.toNumber()).toBe(20);
    const tax = net.times(percent).div(100).toDecimalPlaces(digits, Amount.ROUND_HALF_UP);
    expect(amountsOf("tax")).toEqual([tax.toFixed(digits)]);
    expect(amountsOf("total")).toEqual([net.plus(tax).toFixed(digits)]);
  });

  it("is a round sum: the net total is a multiple of the step", () => {
    const step = figure("rule.round-to");
    expect(step.toNumber()).toBe(5);
    expect(new Amount(amountsOf("subtotal")[0] ?? 1).mod(step).isZero()).toBe(true);
  });

  it("writes every amount with the currency's minor digits (ISO 4217)", () => {
    const form = digits === 0 ? /^-?\d+$/ : new RegExp(`^-?\\d+\\.\\d{${digits}}$`);
    for (const { amount, unit_price: unitPrice, currency: code } of rows) {
      expect(amount).toMatch(form);
      expect(unitPrice).toMatch(form);
      expect(code).toBe(currency);
    }
  });

  it("has amounts that are quantity times unit price, and lines numbered from 1", () => {
    const lines = rows.filter(({ kind }) => kind === "line");
    for (const { quantity = "", unit_price: unitPrice = "", amount = "" } of lines)
      expect(new Amount(quantity).times(unitPrice).toFixed(digits)).toBe(amount);
    expect(lines.map(({ line }) => line)).toEqual(lines.map((_, index) => String(index + 1)));
    const others = rows.filter(({ kind }) => kind !== "line");
    expect(others.map(({ kind, line }) => [kind, line])).toEqual([
      ["subtotal", ""],
      ["tax", ""],
      ["total", ""],
    ]);
  });

  it("shows no rate, percentage or hour of the house to the customer", () => {
    const shown = rows.map(
      ({ section, description, basis }) => `${section} ${description} ${basis}`,
    );
    expect(
      shown.filter((text) => /overhead|contingency|markup|margin|profit|\/h\b/i.test(text)),
    ).toEqual([]);
  });
});

it("takes no text for a formula (CWE-1236)", () => {
  const named = withTexts(SMALL, {
    "job.yaml": ["title: t", "pieces: 2", 'piece_name: "=1+1"'],
    "hardware.csv": ["item,qty,per", "m5-bolt,1,piece"],
  });
  const cells = rowsOf(quoteCsv(estimated(named))).flatMap((row) => Object.values(row));
  expect(cells.length).toBeGreaterThan(50);
  expect(cells.filter((cell) => /^[=+@\t\r]/.test(cell))).toEqual([]);
});

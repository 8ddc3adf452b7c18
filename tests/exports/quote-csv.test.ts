import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { quoteCsv } from "../../src/exports/quote-csv.ts";
import { Amount } from "../../src/money.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated, SMALL, SMALL_TABLES, withTexts } from "../helpers/job.ts";
import { headerOf, rowsOf } from "../helpers/rows.ts";
import { withPrices } from "../helpers/prices.ts";

const SETTINGS = "price-tables/settings.csv";

function inCurrency(code: string): Estimate {
  const settings = SMALL_TABLES.find(({ name }) => name === SETTINGS)?.text ?? "";
  const payable = SMALL_TABLES.map(({ name, text }) => [
    name,
    code === "JPY" ? withPrices(text, (price) => price.times(100).toString()) : text,
  ]);
  const job = SMALL.job.find(({ name }) => name === "job.yaml")?.text ?? "";
  const changed = {
    ...Object.fromEntries(payable),
    [SETTINGS]: settings.replace("EUR", code),
    "job.yaml": code === "JPY" ? job.replace("12.35", "1235") : job,
  };
  return estimated(withTexts(SMALL, changed));
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

describe("what the customer reads", () => {
  const tasks = [
    ...(SMALL_TABLES.find(({ name }) => name.endsWith("tasks.csv"))?.text.split("\n") ?? []),
  ];
  const [head = "", ...known] = tasks;
  const table = [
    head.replace("section,", "section,on_quote,"),
    ...known.map((row) =>
      row.replace(",2026-", row.startsWith("assemble,") ? ",put together,2026-" : ",,2026-"),
    ),
    "sweep,Sweeping the bench,order,1,5,9,bench,always,,Making and assembly,,2026-01-01,test",
    "sand,Rubbing down grubby faces,m2,0,0,9,bench,no,,Finishing,sanded,2026-01-01,test",
    "bag,Bagging,piece,1,2,3,bench,always,,Delivery,bagged,2026-01-01,test",
  ];
  const named = withTexts(SMALL, {
    "price-tables/tasks.csv": table,
    "job.yaml": [
      "title: Bird table",
      "customer: The Mill",
      "reference: BT-7",
      "date: 2026-11-20",
      "pieces: 3",
      "piece_name: table",
      "price:",
      "  delivery: 12.35",
    ],
    "hand-work.csv": ["task,part,qty,minutes,note", "assemble,,1,,", "sand,,1,,"],
  });
  const rows = rowsOf(quoteCsv(estimated(named)));
  const all = rows.map((row) => Object.values(row).join(" ")).join("\n");
  const basisOf = (description: string): string | undefined =>
    rows.find((row) => row["description"] === description)?.["basis"];

  const deliveryLines = (delivery: string, packed: boolean): readonly unknown[] => {
    const texts = {
      "job.yaml": ["title: t", "pieces: 3", "price:", `  delivery: ${delivery}`],
      "price-tables/tasks.csv": packed ? table : table.filter((row) => !row.startsWith("bag,")),
    };
    return rowsOf(quoteCsv(estimated(withTexts(named, texts))))
      .filter(({ section }) => section === "Delivery")
      .map(({ description }) => description);
  };

  it("names the commission, the customer, the reference and the day of the prices", () => {
    expect(basisOf("Net total")).toMatch(/^Bird table: 3 x table, (about )?\d+\.\d\d each$/);
    expect(basisOf("Total with tax")).toBe(
      "for The Mill; reference BT-7; prices of 2026-11-20; in EUR",
    );
  });

  it("has the words meant for it, not those of the workshop", () => {
    expect(basisOf("Making and assembly")).toBe("put together");
    expect(basisOf("Packing and delivery")).toBe("bagged; to the agreed address");
    expect(all).not.toMatch(/sweep|grubby/i);
  });

  it("names no work that costs nothing, and nothing that the job does not have", () => {
    expect(basisOf("Finishing")).toBe("9 parts in reed");
    expect(all).not.toMatch(/sanded|lacquer|screw|adhesive|engrav|consumable/i);
  });

  it("has no line of 0.00", () => {
    const free = SMALL_TABLES.find(({ name }) => name.endsWith("sheets.csv"))?.text ?? "";
    const given = withTexts(named, {
      "price-tables/sheets.csv": free.replace(",2.40,", ",0.00,"),
    });
    const before = rows.filter(({ kind }) => kind === "line");
    const after = rowsOf(quoteCsv(estimated(given))).filter(({ kind }) => kind === "line");
    expect(before.map(({ description }) => description)).toContain("Card 1 mm");
    expect(after.map(({ description }) => description)).not.toContain("Card 1 mm");
    for (const { amount } of [...before, ...after]) expect(Number(amount)).not.toBe(0);
    expect(after.map(({ line }) => line)).toEqual(after.map((_, index) => String(index + 1)));
  });

  it("keeps a thing that every piece gets, though it costs nothing", () => {
    const hardware = SMALL_TABLES.find(({ name }) => name.endsWith("hardware.csv"))?.text ?? "";
    const yours = withTexts(named, {
      "price-tables/hardware.csv": `${hardware}\nbell,"Bell, supplied by you",bought-in,,1,0,0,,2026-01-01,test`,
      "hardware.csv": ["item,qty,per", "bell,1,piece", "m5-bolt,1,piece"],
    });
    const bell = rowsOf(quoteCsv(estimated(yours))).find(({ description }) =>
      description?.startsWith("Bell"),
    );
    expect(bell).toMatchObject({ quantity: "3", unit: "pcs", unit_price: "0.00", amount: "0.00" });
  });

  it("says packing or delivery only where there is such a thing", () => {
    expect(deliveryLines("12", true)).toEqual(["Packing and delivery"]);
    expect(deliveryLines("12", false)).toEqual(["Delivery"]);
    expect(deliveryLines("0", true)).toEqual(["Packing"]);
    expect(deliveryLines("0", false)).toEqual([]);
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

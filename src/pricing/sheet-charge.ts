import type { Job, SheetCharge, Tables } from "../job/types.ts";
import { Amount } from "../money.ts";
import { placeText } from "../problem.ts";
import { stockName } from "../units.ts";
import { settingOf } from "./build-up.ts";
import { givenOnce, settingSource } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { madeId, partId } from "./parts.ts";
import { m2Of, nestedFrom, partsOf, stockId } from "./stock-figures.ts";
import type { PricedSheets, PricedStock, PricingInput } from "./types.ts";

/**
 * What of the sheets a customer is charged for. It is a choice of the house, and told (trade facts 9:
 * full sheet, part sheet or pieces). What is bought stays the same: whole sheets.
 */

interface From {
  readonly job: Job;
  readonly tables: Tables;
}

/** The job's own choice, else that of the tables, else whole sheets. */
export function sheetCharge(from: From): SheetCharge {
  return ruleOf(from)?.word ?? "whole sheets";
}

function ruleOf({ job, tables }: From): Tables["rules"]["charge_sheets"] {
  return job.rules.charge_sheets ?? tables.rules.charge_sheets;
}

interface Bought {
  /** Figure of what all sheets of the stock cost. */
  readonly cost: string;
  /** Figure of the worth of the largest rectangle left; null for none. */
  readonly worth: string | null;
}

/** @returns the figure of what is charged for the sheets of a stock; never below 0. */
export function addSheetCharge(
  ledger: Ledger,
  input: PricingInput,
  stock: PricedStock,
  { cost, worth }: Bought,
): string {
  const rule = ruleOf(input);
  if (rule === null) return cost;
  const because = `${rule.word}: ${placeText(rule.place)}`;
  const id = stockId(stock, "charged");
  const label = `${stockName(stock)}, charged for sheets`;
  const { sheet } = ledger;
  if (rule.word === "area of the parts") {
    const inputs = [
      addChargedArea(ledger, input, stock),
      addPricePerM2(ledger, input, stock, cost),
    ];
    return sheet.derived(id, label, "currency", "product", inputs, because);
  }
  const kept = rule.word === "less what is left" ? worth : null;
  return kept === null
    ? sheet.derived(id, label, "currency", "sum", [cost], because)
    : sheet.derived(id, label, "currency", "difference", [cost, kept], because);
}

/** Faces of all copies, and what is wasted on top. */
function addChargedArea(ledger: Ledger, input: PricingInput, stock: PricedStock): string {
  const { sheet } = ledger;
  const id = (what: string): string => stockId(stock, what);
  const faces = partsOf(input, stock).map(({ part }) =>
    sheet.derived(
      partId(part.name, "all-faces"),
      `${part.name}, one face of all copies`,
      "m2",
      "product",
      [partId(part.name, "face"), madeId(ledger, part.name)],
    ),
  );
  const area = sheet.derived(
    id("parts-area"),
    `${stockName(stock)}, area of the parts`,
    "m2",
    "sum",
    faces,
  );
  const setting = settingOf(input, "waste_percent");
  if (setting === null) throw new RangeError("no waste_percent: it was to be asked for beforehand");
  const waste = givenOnce(
    sheet,
    "rule.waste",
    "waste on top of the area of the parts",
    "percent",
    setting.value,
    settingSource(setting),
  );
  const label = `${stockName(stock)}, area charged`;
  return sheet.derived(id("charged-area"), label, "m2", "plus percentage", [area, waste]);
}

/** What was paid for a m2 of all the sheets together. */
function addPricePerM2(
  { sheet }: Ledger,
  input: PricingInput,
  stock: PricedStock,
  cost: string,
): string {
  const name = stockName(stock);
  const areas = stock.used.map(boughtM2);
  const area = sheet.given(
    stockId(stock, "bought-area"),
    `${name}, area of the sheets`,
    "m2",
    areas.reduce((sum, one) => sum.plus(one), new Amount(0)),
    {
      kind: "computed",
      by: "nest",
      what: `area of ${stock.used.map(({ row }) => `"${row.id}"`).join(" and ")} that the judged nest takes`,
      from: nestedFrom(input, stock),
    },
  );
  return sheet.derived(
    stockId(stock, "per-m2"),
    `${name}, price of a m2`,
    "currency/m2",
    "quotient",
    [cost, area],
  );
}

/** Also of panels that nothing lies on; of a roll the length that is used. */
function boughtM2({ row, sheets, panels }: PricedSheets): Amount {
  if (row.heightMm === null || panels === null)
    return sheets.reduce((sum, one) => sum.plus(m2Of(one)), new Amount(0));
  const bought = Math.ceil(sheets.length / (panels.across * panels.along));
  return m2Of({ widthMm: row.widthMm, heightMm: row.heightMm }).times(bought);
}

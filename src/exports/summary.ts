import type {
  Estimate,
  FigureRecord,
  SawnBars,
  ShoppingItem,
  TimedStock,
} from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { stockId } from "../pricing/stock-figures.ts";
import type { SheetCharge } from "../job/types.ts";
import { counted, noun } from "../names.ts";
import { clockText, stockName, trimmed } from "../units.ts";
import { madeText } from "./made-words.ts";
import { rangeBlock } from "./range-text.ts";
import { oneSizeText } from "./sheets-words.ts";
import { pricesBlock, termsBlock } from "./summary-prices.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** What a maker wants to see at a glance: sheets, machine, buying, hours, price, cautions. */
export function summary(estimate: Estimate): string {
  const blocks = [
    headingBlock(estimate),
    [`What it takes (${estimate.currency.code})`, ...goods(estimate)],
    pricesBlock(estimate),
    rangeBlock(estimate),
    termsBlock(estimate, WIDTH),
    cautionBlock(estimate),
  ];
  const filled = blocks.filter((lines) => lines.length > 0);
  return `${filled.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

function headingBlock(estimate: Estimate): readonly string[] {
  const { title, customer } = estimate;
  const name = customer === "" ? title : `${title}, for ${customer}`;
  return [...wrapped(name, WIDTH), madeText(estimate)];
}

function goods(estimate: Estimate): readonly string[] {
  const rows = [
    ...estimate.stocks.flatMap((stock) => sheetRows(stock, estimate)),
    chargedRow(estimate),
    ...machineRows(estimate),
    ...BOUGHT.flatMap((bought) => boughtRow(estimate, bought)),
    workRow(estimate),
    ...suppliesRow(estimate),
    ...leadRow(estimate),
  ];
  return columns(rows, [3]).map((line) => `  ${line}`);
}

/** A row for each size of sheet; the first has what all of them come to. */
function sheetRows(stock: TimedStock, { currency }: Estimate): readonly (readonly string[])[] {
  const [first = "", ...others] = stock.used.map((one) => oneSizeText(one, metres));
  const whole = [
    stockName(stock),
    first,
    `${trimmed(stock.utilisation * 100, 0)} % used, ${clockText(runningSeconds(stock))}`,
    moneyText(new Amount(stock.sheetCost), currency),
  ];
  return [whole, ...others.map((text) => ["", text, "", ""])];
}

/** What of them the price stands on. */
function chargedRow(estimate: Estimate): readonly string[] {
  const figure = finder(estimate);
  const charged = estimate.stocks.flatMap((stock) => {
    const its = figure(stockId(stock, "charged")) ?? figure(stockId(stock, "cost"));
    return its ? [its.value] : [];
  });
  const sum = charged.reduce((total, value) => total.plus(value), new Amount(0));
  return ["Sheets charged", CHARGED[estimate.sheetCharge], "", moneyText(sum, estimate.currency)];
}

const CHARGED: Readonly<Record<SheetCharge, string>> = {
  "whole sheets": "whole, as bought",
  "less what is left": "less what is left whole",
  "area of the parts": "by area, with waste",
};

function metres(mm: number): string {
  return `${trimmed(mm / 1000, 2)} m`;
}

/** Loading and set-up left out, s. */
function runningSeconds({ times }: TimedStock): number {
  return times.reduce((sum, { runningS }) => sum + runningS, 0);
}

/** Below it what of its charge is no time: up to a minimum, and rush. */
function machineRows(estimate: Estimate): readonly (readonly string[])[] {
  const { currency, machine } = estimate;
  const figure = finder(estimate);
  const value = (id: string): Amount => new Amount(figure(id)?.value ?? 0);
  const billed = figure("machine.billed");
  const minutes = Number((billed ?? figure("machine.minutes"))?.value ?? 0);
  const time = `${trimmed(minutes, 1)} min${billed ? " billed" : ""}`;
  const raised = value("machine.charged").gt(value("machine.charges"));
  const extras = [
    ...(raised ? [`at its minimum, ${moneyText(value("machine.charged"), currency)}`] : []),
    ...(value("machine.rush").gt(0)
      ? [`of it rush, ${moneyText(value("machine.rush"), currency)}`]
      : []),
  ];
  return [
    ["Machine", time, machine.id, moneyText(value("machine.cost"), currency)],
    ...extras.map((text) => ["", text, "", ""]),
  ];
}

interface Bought {
  readonly kind: ShoppingItem["kind"];
  readonly label: string;
  /** What one of them is called, and several. */
  readonly unit: readonly [string, string];
}

const BOUGHT: readonly Bought[] = [
  { kind: "paint", label: "Paint", unit: ["can", "cans"] },
  {
    kind: "consumable",
    label: "Consumables",
    unit: ["pad, roll or bottle", "pads, rolls and bottles"],
  },
  { kind: "stock length", label: "Stock lengths", unit: ["bar", "bars"] },
  { kind: "hardware", label: "Fixings, bought-in", unit: ["pack or piece", "packs and pieces"] },
];

const NOTES: Partial<Record<Bought["kind"], (estimate: Estimate) => string>> = {
  paint: ({ making }) => `, ${coatsText(making)}`,
  "stock length": (estimate) => `, ${boundText(estimate)}`,
};

function boughtRow(
  estimate: Estimate,
  { kind, label, unit }: Bought,
): readonly (readonly string[])[] {
  const { shopping, currency } = estimate;
  const items = shopping.filter((item) => item.kind === kind);
  if (items.length === 0) return [];
  const total = (of: (item: ShoppingItem) => string): Amount =>
    items.reduce((sum, item) => sum.plus(of(item)), new Amount(0));
  const kinds = `of ${counted(items.length, "kind")}`;
  const quantity = total((item) => item.quantity).toString();
  return [
    [
      label,
      counted(quantity, ...unit),
      kinds + (NOTES[kind]?.(estimate) ?? ""),
      moneyText(
        total((item) => item.amount),
        currency,
      ),
    ],
  ];
}

/** `5 coats`, or `2-5 coats` where finishes differ. */
function coatsText({ finishes }: Estimate["making"]): string {
  const counts = finishes.map(({ steps }) =>
    steps.reduce((sum, { coats, kind }) => sum + (kind === "paint" ? coats : 0), 0),
  );
  const [least, most] = [Math.min(...counts), Math.max(...counts)];
  return least === most ? counted(most, "coat") : `${least}-${most} coats`;
}

/** How far all bars together may be from the cheapest there could be. */
function boundText({ bars, currency }: Estimate): string {
  const sum = (of: (one: SawnBars) => string): Amount =>
    bars.reduce((total, one) => total.plus(of(one)), new Amount(0));
  const bound = sum(({ costBound }) => costBound);
  return bound.eq(sum(({ cost }) => cost))
    ? "proved cheapest"
    : `at least ${moneyText(bound, currency)}`;
}

function workRow({ figures, currency }: Estimate): readonly string[] {
  const total = (what: RegExp): Amount =>
    figures
      .filter(({ id }) => what.test(id))
      .reduce((sum, { value }) => sum.plus(value), new Amount(0));
  const hours = trimmed(total(/^work\..*\.hours$/).toNumber(), 1);
  return ["Hand work", `${hours} h`, "", moneyText(total(/^work\..*\.cost$/), currency)];
}

/** What hand work uses up, where tasks say so. */
function suppliesRow({ figures, currency }: Estimate): readonly (readonly string[])[] {
  const used = figures.filter(({ id }) => /^work\..*\.supplies$/.test(id));
  if (used.length === 0) return [];
  const sum = used.reduce((total, { value }) => total.plus(value), new Amount(0));
  return [["Used up by it", `in ${counted(used.length, "task")}`, "", moneyText(sum, currency)]];
}

/** Apart from the hours: how long it takes until the customer has it. */
function leadRow({ leadTime, making }: Estimate): readonly (readonly string[])[] {
  if (leadTime === null) return [];
  const dries = making.finishes.some(({ calendar }) => calendar !== null);
  const days = counted(leadTime.workingDays, "working day");
  return [["Ready in", days, dries ? "with drying" : "", ""]];
}

/** The first sentence of each; the maker's sheet has them whole. */
function cautionBlock({ cautions, warnings }: Estimate): readonly string[] {
  const lines = cautions.flatMap(({ topic, text }) =>
    wrapped(`${topic}: ${text.replace(/^(.*?\.)(?:\s.*)?$/s, "$1")}`, WIDTH, "  - "),
  );
  const more =
    warnings.length === 0
      ? []
      : [
          `  ${counted(warnings.length, "warning")} ${noun(warnings.length, "stands", "stand")} above.`,
        ];
  return lines.length + more.length === 0 ? [] : ["Mind", ...lines, ...more];
}

function finder({ figures }: Estimate): (id: string) => FigureRecord | undefined {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  return (id) => byId.get(id);
}

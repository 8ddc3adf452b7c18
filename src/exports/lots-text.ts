import { Amount, moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import { isError, sentence } from "../problem.ts";
import type { Lot, LotPrice, LotsReport } from "../stages/lots.ts";
import { trimmed } from "../units.ts";
import { hoursText } from "./sheets-words.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Prices by number of pieces, and what one piece costs of what at each of them. */
export function lotsText(report: LotsReport): string {
  const { title, pieceName, lots, currency } = report;
  const made = lots.flatMap(({ price, ...lot }) => (price === null ? [] : [{ ...lot, price }]));
  const blocks = [
    [...wrapped(`${title}: price of 1 ${pieceName}, by the number ordered`, WIDTH)],
    priceTable(made, currency),
    ...costTables(made, currency).map((table, index) => [
      `What one costs you in itself${index > 0 ? ", continued" : ""} (${currency.code})`,
      ...table,
    ]),
    wrapped(NOTES, WIDTH),
    lots.flatMap(refusal),
  ];
  const filled = blocks.filter((lines) => lines.length > 0);
  return `${filled.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

type Made = Lot & { readonly price: LotPrice };

const NOTES =
  "Net prices; each number is nested anew, and the one marked is the job's own. Once for the order: what does not grow with the number, such as drawing, set-up and delivery. Used: what parts cover of the sheets and coats take of the cans, by their cost; the rest is bought with them.";

function priceTable(made: readonly Made[], { code }: Currency): readonly string[] {
  const dated = made.some(({ price }) => price.workingDays !== null);
  const head = [
    "  pieces",
    "each",
    `net ${code}`,
    "with tax",
    "sheets",
    "machine",
    "cans",
    "hands",
  ];
  const rows = made.map(({ pieces, own, price }) => [
    `${own ? ">" : " "} ${String(pieces).padStart(6)}`,
    price.each,
    price.net,
    price.total,
    String(price.sheets),
    hoursText(Number(price.machineMinutes) * SECONDS),
    String(price.cans),
    `${trimmed(Number(price.handHours), 1)} h`,
    ...(dated ? [price.workingDays === null ? "-" : String(price.workingDays)] : []),
  ]);
  return columns([[...head, ...(dated ? ["days"] : [])], ...rows], [1, 2, 3, 4, 5, 6, 7, 8]);
}

const SECONDS = 60;

/** In as many tables as the screen's width needs. */
function costTables(made: readonly Made[], currency: Currency): readonly (readonly string[])[] {
  for (let abreast = made.length; abreast > 1; abreast -= 1) {
    const tables = inGroups(made, abreast).map((group) => costTable(group, currency));
    if (tables.flat().every(({ length }) => length <= WIDTH)) return tables;
  }
  return inGroups(made, 1).map((group) => costTable(group, currency));
}

function inGroups(made: readonly Made[], abreast: number): readonly (readonly Made[])[] {
  const count = Math.ceil(made.length / abreast);
  return Array.from({ length: count }, (_, index) =>
    made.slice(index * abreast, (index + 1) * abreast),
  );
}

function costTable(made: readonly Made[], currency: Currency): readonly string[] {
  const names = [...new Set(made.flatMap(({ price }) => price.sections.map(({ name }) => name)))];
  const each = (name: string, costOf: (price: LotPrice) => string | null): readonly string[] => [
    name,
    ...made.map(({ pieces, price }) => {
      const cost = costOf(price);
      return cost === null ? "-" : moneyText(new Amount(cost).div(pieces), currency);
    }),
  ];
  const share = (name: string, of: (price: LotPrice) => number | null): readonly string[] => [
    name,
    ...made.map(({ price }) => {
      const used = of(price);
      return used === null ? "-" : `${trimmed(used * 100, 0)} %`;
    }),
  ];
  const rows = [
    ["pieces", ...made.map(({ pieces, own }) => `${own ? "> " : ""}${pieces}`)],
    ...names.map((name) =>
      each(name, ({ sections }) => sections.find((one) => one.name === name)?.cost ?? null),
    ),
    each("Direct cost", ({ direct }) => direct),
    each("  once for the order", ({ once }) => once),
    share("Sheets used", ({ sheetsUsed }) => sheetsUsed),
    share("Paint used", ({ paintUsed }) => paintUsed),
  ];
  return columns(
    rows.map(([name = "", ...numbers]) => [`  ${name}`, ...numbers]),
    made.map((_, index) => index + 1),
  );
}

/** Why so many can not be made. */
function refusal({ pieces, price, problems }: Lot): readonly string[] {
  if (price !== null) return [];
  return problems
    .filter(isError)
    .flatMap((problem) => wrapped(`${pieces} can not be made: ${sentence(problem)}`, WIDTH));
}

import type { ComparedChoice, ComparedStock, SheetsReport } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import { MM2_PER_M2, stockName, trimmed } from "../units.ts";
import { gapHint, hoursText, nameOf, partsOf, wholeText } from "./sheets-words.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Every choice of sheets that was tried for each material, in one table, the one taken marked. */
export function sheetsText(report: SheetsReport): string {
  const blocks = report.compared.map((stock) => [
    stockName(stock),
    ...table(stock, report),
    ...wrapped(boundText(stock, report), WIDTH, "  "),
  ]);
  const notes = wrapped(notesText(report), WIDTH);
  return `${[...blocks, notes].map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

/** As wide as the screen allows: the columns closer together, else names on lines of their own. */
function table(stock: ComparedStock, report: SheetsReport): readonly string[] {
  const head = headOf(report.currency);
  const rows = stock.choices.map((choice) => numbersOf(choice, report.currency));
  const inLine = [head, ...rows].map((numbers, index) => [
    index === 0 ? "  choice" : titleOf(stock.choices[index - 1]!),
    ...numbers,
  ]);
  const apart = ["  ", " "].map((gap) => columns(inLine, RIGHT, gap));
  const fitting = apart.find((lines) => Math.max(...lines.map(({ length }) => length)) <= WIDTH);
  const [first = "", ...lines] =
    fitting ??
    columns(
      [head, ...rows].map((numbers) => ["   ", ...numbers]),
      RIGHT,
    );
  return [
    first,
    ...stock.choices.flatMap((choice, index) => [
      ...(fitting === undefined ? [titleOf(choice)] : []),
      lines[index] ?? "",
      ...partsOf(choice).map((part) => `    ${part}`),
    ]),
  ];
}

const RIGHT = [1, 2, 3, 4, 5, 6, 7];

function headOf(currency: Currency | null): readonly string[] {
  return ["sheets", currency?.code ?? "cost", "machine", "used", "waste", "left whole", "gap"];
}

function numbersOf(choice: ComparedChoice, currency: Currency | null): readonly string[] {
  const { sheets, cost, machineS, utilisation, wasteMm2, leftover, gapPercent } = choice;
  return [
    `${sheets}`,
    money(cost, currency),
    machineS === null ? "-" : hoursText(machineS),
    `${trimmed(utilisation * 100, 0)} %`,
    (wasteMm2 / MM2_PER_M2).toFixed(2),
    leftover === null ? "-" : wholeText(leftover),
    gapPercent === null ? "-" : `${trimmed(gapPercent, 0)} %`,
  ];
}

function titleOf(choice: ComparedChoice): string {
  return `${choice.chosen ? ">" : " "} ${nameOf(choice)}`;
}

function money(amount: string, currency: Currency | null): string {
  return currency === null ? amount : moneyText(new Amount(amount), currency);
}

function boundText(stock: ComparedStock, { currency, steps }: SheetsReport): string {
  const bound = money(stock.costBound, currency);
  const hint = gapHint(stock.choices.find(({ chosen }) => chosen) ?? null, steps);
  return `No choice of these sheets can cost less than ${bound}${hint}`;
}

function notesText({ currency, machine, compared }: SheetsReport): string {
  const cost = currency === null ? "Cost" : currency.code;
  const untimed = compared.some(({ choices }) => choices.some(({ machineS }) => machineS === null));
  const time =
    machine === null
      ? "Machine: name one in job.yaml for its time."
      : `Machine: running, laying down and set-up on ${machine.id}${untimed ? "; - where that is not known, and time says why" : ""}.`;
  return `${cost}: the sheets alone. ${time} Used: by parts. Waste: m2 that are neither part nor left whole. Left whole: the largest rectangle, mm, less margin and gap. Gap: how far the cost is above what it can not be below.`;
}

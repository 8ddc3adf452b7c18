import type { ComparedChoice, ComparedStock, OffcutLeft, SheetsReport } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import { MM2_PER_M2, stockName, trimmed } from "../units.ts";
import {
  cheapestSheets,
  gapHint,
  hoursText,
  nameOf,
  partsOf,
  usedText,
  wholeText,
} from "./sheets-words.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Every choice of sheets that was tried for each material, in one table, the one taken marked. */
export function sheetsText(report: SheetsReport): string {
  const blocks = report.compared.map((stock) => [
    stockName(stock),
    ...table(stock, report),
    ...wrapped(boundText(stock, report), WIDTH, "  "),
    ...[dearerText(stock, report), offcutsText(stock)].flatMap((text) =>
      text === "" ? [] : wrapped(text, WIDTH, "  "),
    ),
  ]);
  const notes = wrapped(notesText(report), WIDTH);
  return `${[...blocks, notes].map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

/** As wide as the screen allows: the columns closer together, else names on lines of their own. */
function table(stock: ComparedStock, report: SheetsReport): readonly string[] {
  const head = headOf(report.currency);
  const marked = stock.choices.find(({ chosen }) => chosen)?.jobCost ?? null;
  const rows = stock.choices.map((choice) => numbersOf(choice, marked, report.currency));
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

const RIGHT = [1, 2, 3, 4, 5, 6, 7, 8];

function headOf(currency: Currency | null): readonly string[] {
  return ["pcs", currency?.code ?? "cost", "job", "time", "used", "waste", "left whole", "gap"];
}

/** @param marked what the whole job costs with the sheets chosen. */
function numbersOf(
  choice: ComparedChoice,
  marked: string | null,
  currency: Currency | null,
): readonly string[] {
  const { sheets, cost, jobCost, machineS, utilisation, wasteMm2, leftover, gapPercent } = choice;
  return [
    `${sheets}`,
    money(cost, currency),
    jobCost === null || marked === null ? "-" : more(jobCost, marked, currency),
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

/** `+4.54`; nothing more is `0.00`. */
function more(cost: string, marked: string, currency: Currency | null): string {
  const dearer = new Amount(cost).minus(marked);
  return `${dearer.gt(0) ? "+" : ""}${money(dearer.toString(), currency)}`;
}

/** Said where other sheets alone would be cheaper. */
function dearerText({ choices }: ComparedStock, { currency }: SheetsReport): string {
  const marked = choices.find(({ chosen }) => chosen);
  const cheapest = cheapestSheets(choices);
  if (!marked || !cheapest || marked === cheapest || !marked.jobCost || !cheapest.jobCost)
    return "";
  const sheets = new Amount(marked.cost).minus(cheapest.cost).toString();
  const job = new Amount(cheapest.jobCost).minus(marked.jobCost).toString();
  return `The sheets marked cost ${money(sheets, currency)} more than ${usedText(cheapest.used)}, and the whole job ${money(job, currency)} less, with machine and handling.`;
}

function offcutsText({ offcutsLeft }: ComparedStock): string {
  if (offcutsLeft.length === 0) return "";
  return `Not used of the shelf: ${offcutsLeft.map(({ offcut, why }) => `${offcut}, ${WHY[why]}`).join("; ")}.`;
}

const WHY: Readonly<Record<OffcutLeft["why"], string>> = {
  "none there": "none of it there",
  "too large for the bed": "too large for the machine's bed",
  "too small": "too small for every part",
  "saves nothing": "which saved nothing where it was tried",
};

function boundText(stock: ComparedStock, { currency, steps }: SheetsReport): string {
  const bound = money(stock.costBound, currency);
  const hint = gapHint(stock.choices, steps);
  return `No choice of these sheets can cost less than ${bound}${hint}`;
}

function notesText({ currency, machine, compared }: SheetsReport): string {
  const cost = currency === null ? "Cost" : currency.code;
  const untimed = compared.some(({ choices }) => choices.some(({ machineS }) => machineS === null));
  const time =
    machine === null
      ? "Time: name a machine in job.yaml for it."
      : `Time: running, laying down and set-up on ${machine.id}${untimed ? "; - where that is not known, and time says why" : ""}.`;
  const job = compared.some(({ choices }) => choices.some(({ jobCost }) => jobCost !== null))
    ? "Job: how much more the whole job costs you, sheets, machine and handling, than with those marked."
    : "Job: check says what is missing for a price of the whole job.";
  return `Pcs: sheets, or lengths of a roll. ${cost}: the sheets alone. ${job} ${time} Used: by parts. Waste: m2 that are neither part nor left whole. Left whole: the largest rectangle, mm, less margin and gap. Gap: how far the cost is above what it can not be below.`;
}

import { Amount } from "../money.ts";
import { counted } from "../names.ts";
import { placeText } from "../problem.ts";
import type { Cause, FigureDifference } from "../stages/causes.ts";
import type { Compared, DifferenceReport } from "../stages/differences.ts";
import type { LineDifference } from "../stages/line-differences.ts";
import { unitText, valueText } from "./figure-text.ts";
import { columns, wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Two estimates: what each line became, and what that comes from, largest first. */
export function differencesText(report: DifferenceReport): string {
  const { currency, before, after, net, causes } = report;
  const blocks = [
    [
      ...wrapped(nameOf(before), WIDTH, "before: "),
      ...wrapped(nameOf(after), WIDTH, "after:  "),
      `Net total ${net.before} -> ${net.after} ${currency.code}: ${signed(net.difference)}`,
    ],
    linesOf(report),
    causes.length === 0 ? ["Nothing was given otherwise."] : causesOf(report),
    ...(isNestedAlike(report) ? [] : [wrapped(effortText(report), WIDTH)]),
  ];
  return `${blocks.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

/** `Marsh birds, 12 x way-marker, prices of 2026-11-20`. */
function nameOf({ title, pieces, pieceName, date }: Compared): string {
  return `${title}, ${pieces} x ${pieceName}${date === null ? "" : `, prices of ${date}`}`;
}

function isNestedAlike({ before, after }: DifferenceReport): boolean {
  return before.steps === after.steps && before.seed === after.seed;
}

function effortText({ before, after }: DifferenceReport): string {
  const was = `--steps ${before.steps} --seed ${before.seed}`;
  const is = `--steps ${after.steps} --seed ${after.seed}`;
  return `Nested with ${was} before, with ${is} after: other sheets may come of that alone.`;
}

function linesOf({ lines, currency }: DifferenceReport): readonly string[] {
  return lineTable(lines, currency);
}

/** Lines of two quotes beside each other. */
export function lineTable(
  lines: readonly LineDifference[],
  currency: DifferenceReport["currency"],
): readonly string[] {
  const head = [currency.code, "before", "after", "difference"];
  const names = lines.map(({ description }) => description);
  const rows = lines.map((line) => [
    shortened(lineName(line, names)),
    line.before ?? "-",
    line.after ?? "-",
    new Amount(line.difference).isZero() ? "" : signed(line.difference),
  ]);
  return columns([head, ...rows], [1, 2, 3]);
}

const MOST_NAME = 46;

function shortened(text: string): string {
  return text.length > MOST_NAME ? `${text.slice(0, MOST_NAME - 3)}...` : text;
}

/** With its section where another line has the same description. */
function lineName({ section, description }: LineDifference, names: readonly string[]): string {
  const isTwice = names.filter((name) => name === description).length > 1;
  return isTwice ? `${section}: ${description}` : description;
}

function causesOf({ causes, net, currency }: DifferenceReport): readonly string[] {
  const telling = causes.filter(({ effect }) => !new Amount(effect).isZero());
  const still = causes.length - telling.length;
  const width = Math.max(
    ...[...telling.map(({ effect }) => effect), net.difference].map((text) => signed(text).length),
  );
  const told = telling.flatMap((cause) => {
    const lead = `${signed(cause.effect).padStart(width + 2)}  `;
    const [first = "", ...more] = causeText(cause, currency.code);
    return [
      ...wrapped(first, WIDTH, lead),
      ...more.flatMap((text) => wrapped(text, WIDTH, " ".repeat(lead.length + 2))),
    ];
  });
  return [
    `What caused it (net, ${currency.code})`,
    ...told,
    `${signed(net.difference).padStart(width + 2)}  in all`,
    ...(still > 0 ? [`${counted(still, "other change")} without effect on the net total.`] : []),
  ];
}

/** The cause, and under it what was given otherwise, a line for each. */
function causeText(cause: Cause, currency: string): readonly string[] {
  const { kind, figures, follows } = cause;
  const [first] = figures;
  if (first === undefined) return [WORDS[kind]];
  if (kind === "given") return givenText(first, figures.length, currency);
  const moved = figures
    .toSorted((one, other) => rankOf(one) - rankOf(other))
    .map((one) => movedText(one, currency))
    .filter((text) => text !== null);
  const shown = moved.slice(0, MOST_FIGURES);
  const rest = moved.length - shown.length;
  return [
    `${subjectOf(cause)}: ${WORDS[kind]}${follows.length > 0 ? `, for ${follows.join("; ")} changed` : ""}`,
    ...shown,
    ...(rest > 0 ? [`and ${counted(rest, "more figure")}`] : []),
  ];
}

const MOST_FIGURES = 4;

/** Counts and money tell more than seconds. */
function rankOf({ unit }: FigureDifference): number {
  if (unit === "pcs" || unit === "m") return 0;
  return unit === "s" ? 2 : 1;
}

const WORDS: Readonly<Record<Cause["kind"], string>> = {
  given: "",
  "worked out": "nested and timed anew",
  added: "new",
  gone: "gone",
  replaced: "replaced",
  reckoned: "put together in another way",
  version: "the earlier estimate was worked out by another version of tallywright",
  rounding: "rounding of the lines and of the total",
};

/** `price-tables/sheets.csv, line 3, price: 55.45 -> 62.00 EUR`, with what it is the price of. */
function givenText(first: FigureDifference, count: number, currency: string): readonly string[] {
  const { source } = first;
  const place = source === null || source.kind === "computed" ? "" : placeText(source.place);
  const others = count > 1 ? ` (and ${counted(count - 1, "figure")} read with it)` : "";
  return [`${place}: ${movedText(first, currency) ?? first.label}${others}`];
}

/** What the figures of a cause have in common in their labels. */
function subjectOf({ figures }: Cause): string {
  const labels = figures.map(({ label }) => label.split(", "));
  const [first = []] = labels;
  const common = first.filter((_, index) =>
    labels.every((label) => label.slice(0, index + 1).join() === first.slice(0, index + 1).join()),
  );
  return common.length > 0 ? common.join(", ") : (figures[0]?.label ?? "");
}

/** `way-markers commissioned 12 -> 24 pcs`; null where it looks the same. */
function movedText(
  { label, unit, before, after }: FigureDifference,
  currency: string,
): string | null {
  const text = (value: string | null): string =>
    value === null ? "none" : valueText({ value, unit }, currency);
  const from =
    before === null || after === null
      ? text(before)
      : text(before).replace(` ${unitText(unit, currency)}`, "");
  return text(before) === text(after) ? null : `${label} ${from} -> ${text(after)}`;
}

/** `+12.50` */
export function signed(amount: string): string {
  return amount.startsWith("-") ? amount : `+${amount}`;
}

import type { OtherSheets, Shortening, TimeReport } from "../estimate-data.ts";
import { Amount } from "../money.ts";
import { clockText, stockName, trimmed } from "../units.ts";
import { usedText } from "./sheets-words.ts";
import { columns, wrapped } from "./wrap.ts";

/** What would shorten the machine's time, then what does already; no lines where nothing applies. */
export function shorteningText({ shortening, currency }: TimeReport): readonly string[] {
  const rows = (done: boolean): readonly string[][] =>
    shortening
      .filter((one) => one.done === done)
      .map((one) => [
        `  ${what(one)}`,
        stockName(one),
        one.lessMm > 0 ? `${trimmed(one.lessMm / 1000, 2)} m` : "",
        clockText(one.savesS),
        note(one, currency?.code ?? ""),
      ]);
  return [
    ...section("What would shorten it", rows(false)),
    ...section("What shortens it already", rows(true)),
  ];
}

/** What does not fit into the line stands under it. */
function section(title: string, rows: readonly string[][]): readonly string[] {
  if (rows.length === 0) return [];
  const lines = columns(
    rows.map((row) => row.slice(0, -1)),
    [2, 3],
  );
  return [
    "",
    title,
    ...lines.flatMap((line, index) => {
      const note = rows[index]?.at(-1) ?? "";
      const whole = `${line}  ${note}`.trimEnd();
      return whole.length <= WIDTH ? [whole] : [line, ...wrapped(note, WIDTH, "      ")];
    }),
  ];
}

const WIDTH = 80;

const WHAT: Readonly<Record<Shortening["kind"], string>> = {
  "common cuts": "common edges cut once",
  sheets: "other sheets",
  "set-ups": "one set-up fewer",
  "drawn twice": "lines drawn twice, worked once",
  order: "order of the contours",
};

function what({ kind }: Shortening): string {
  return WHAT[kind];
}

function note({ kind, done, instead, insteadMm, material }: Shortening, code: string): string {
  if (instead !== null) return sheetsNote(instead, code);
  if (insteadMm !== null)
    return `all from ${stockName({ material, thicknessMm: insteadMm })}, if the piece allows it`;
  if (kind === "order") return "against copy by copy as drawn";
  if (kind === "drawn twice") return "delete them before the drawing goes to the machine as it is";
  return done ? "" : "common_cuts: once in job.yaml";
}

function sheetsNote({ used, costsMore }: OtherSheets, code: string): string {
  const more = new Amount(costsMore);
  const price = more.isZero()
    ? "at the same price"
    : `${more.abs().toFixed(2)} ${code} ${more.isNegative() ? "less" : "more"}`;
  return `${usedText(used)}: ${price}`;
}

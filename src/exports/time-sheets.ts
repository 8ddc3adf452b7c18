import type { TimeReport, TimedStock } from "../estimate-data.ts";
import type { SheetTime } from "../machine/types.ts";
import { clockText } from "../units.ts";
import { kindOf } from "./sheets-words.ts";
import { columns, wrapped } from "./wrap.ts";

/** The sheets of one material and thickness, operation by operation; those alike once. */

const SHEET_HEAD = ["", "m", "contours", "at feed", "slower", "starts", "time", ""];
const WIDTH = 80;
const NUMBERS = [1, 2, 3, 4, 5, 6];

export function sheetLines(stock: TimedStock, handling: TimeReport["handling"]): readonly string[] {
  const blocks = alike(stock).map((numbers) => {
    const times = numbers.flatMap((index) => stock.times[index] ?? []);
    return { head: headline(stock, numbers, times), rows: rowsOf(times, handling) };
  });
  const table = columns([SHEET_HEAD, ...blocks.flatMap(({ rows }) => rows)], NUMBERS);
  let at = 1;
  return [
    table[0] ?? "",
    ...blocks.flatMap(({ head, rows }) => {
      const lines = table.slice(at, at + rows.length);
      at += rows.length;
      return [...wrapped(head, WIDTH, "  "), ...lines];
    }),
  ];
}

/** Numbers of the sheets, together where their operations read the same. */
function alike({ sheets, times }: TimedStock): readonly (readonly number[])[] {
  const groups = new Map<string, number[]>();
  for (const [index, time] of times.entries()) {
    const done = time.operations.map((one) => operationRow(one).join(" "));
    const key = [sheets[index]?.sheet ?? "", ...done].join("\n");
    groups.set(key, [...(groups.get(key) ?? []), index]);
  }
  return [...groups.values()];
}

/** `sheets 1 to 3 of 4, mdf-6-900x600, each 20:18 min; 12:58 to 31:58 by the feeds`. */
function headline(
  stock: TimedStock,
  numbers: readonly number[],
  times: readonly SheetTime[],
): string {
  const id = stock.sheets[numbers[0] ?? 0]?.sheet ?? "";
  const kind = kindOf(stock, id);
  const several = numbers.length > 1;
  const fastest = Math.min(...times.map((time) => withFeeds(time, ({ fastestS }) => fastestS)));
  const slowest = Math.max(...times.map((time) => withFeeds(time, ({ slowestS }) => slowestS)));
  const running = spanned(times.map(({ runningS }) => clockText(runningS)));
  const feeds = `${bare(fastest)} to ${bare(slowest)} by the feeds`;
  return `${several ? `${kind}s` : kind} ${numbersText(numbers)} of ${stock.times.length}, ${id}${several ? ", each" : ":"} ${running}; ${feeds}`;
}

/** What a sheet takes when its operations take so long along their lines, s. */
function withFeeds(
  { travelS, operations }: SheetTime,
  of: (one: SheetTime["operations"][number]) => number,
): number {
  return travelS + sum(operations.map((one) => of(one) + one.pierceS));
}

/** `2`, `1 and 2`, `1, 3, 4`, `1 to 30`. */
function numbersText(numbers: readonly number[]): string {
  const [first = 0, last = 0] = [numbers[0], numbers.at(-1)];
  const unbroken = last - first === numbers.length - 1;
  if (unbroken && numbers.length > 2) return `${first + 1} to ${last + 1}`;
  return numbers.map((one) => one + 1).join(numbers.length === 2 ? " and " : ", ");
}

function rowsOf(
  times: readonly SheetTime[],
  handling: TimeReport["handling"],
): readonly (readonly string[])[] {
  const [first] = times;
  if (first === undefined) return [];
  const least = Math.min(...times.map(({ leastTravelMm }) => leastTravelMm));
  const eachS = SECONDS * sum(handling.flatMap((one) => (one.per === "sheet" ? one.minutes : [])));
  return [
    ...first.operations.map(operationRow),
    [
      "    travel",
      spanned(times.map(({ travelMm }) => metres(travelMm))),
      "",
      "",
      "",
      "",
      spanned(times.map(({ travelS }) => bare(travelS))),
      `at least ${metres(least)}`,
    ],
    ...(eachS === 0 ? [] : [["    handling", "", "", "", "", "", bare(eachS), ""]]),
  ];
}

const SECONDS = 60;

function operationRow(one: SheetTime["operations"][number]): readonly string[] {
  return [
    `    ${one.operation}`,
    metres(one.lengthMm),
    String(one.contours),
    bare(one.atFullFeedS),
    bare(one.workingS - one.atFullFeedS),
    bare(one.pierceS),
    bare(one.workingS + one.pierceS),
    one.passes === 1 ? "" : `${one.passes} passes`,
  ];
}

/** The first and the last of what is not the same for all. */
function spanned(texts: readonly string[]): string {
  const sorted = [...new Set(texts)].toSorted((a, b) => a.length - b.length || (a < b ? -1 : 1));
  const [first = "", last] = [sorted[0], sorted.at(-1)];
  return last === undefined || last === first ? first : `${first.replace(/ .*/, "")}-${last}`;
}

/** `4:07`, `1:02:09`: of which a column is. */
function bare(seconds: number): string {
  return clockText(seconds).replace(/ .*/, "");
}

function metres(mm: number): string {
  return (mm / 1000).toFixed(2);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

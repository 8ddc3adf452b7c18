import type { TimeReport, TimedStock } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { clockText, stockName, trimmed } from "../units.ts";
import { timedStockJson } from "./estimate-json.ts";
import type { TimedStockJson } from "./estimate-json.ts";
import { shorteningText } from "./shortening-text.ts";
import { kindOf } from "./sheets-words.ts";
import { columns } from "./wrap.ts";

export type TimeJson = Omit<TimeReport, "stocks"> & { readonly stocks: readonly TimedStockJson[] };

export function timeJson(report: TimeReport): TimeJson {
  return { ...report, stocks: report.stocks.map(timedStockJson) };
}

/** The machine's time for each sheet and operation; the range is that of the feeds. */
export function timeText(report: TimeReport): string {
  const { machine, stocks } = report;
  const blocks = stocks.map((stock) => {
    const rows = stock.times.flatMap((time, index) => [
      ...time.operations.map((one) => [
        sheetName(stock, index),
        one.operation,
        `${trimmed(one.lengthMm / 1000, 2)} m`,
        String(one.contours),
        one.passes === 1 ? "" : counted(one.passes, "pass", "passes"),
        clockText(one.workingS + one.pierceS),
        `${clockText(one.fastestS + one.pierceS)} to ${clockText(one.slowestS + one.pierceS)}`,
      ]),
      [
        sheetName(stock, index),
        "travel",
        `${trimmed(time.travelMm / 1000, 2)} m`,
        "",
        "",
        clockText(time.travelS),
        `not below ${trimmed(time.leastTravelMm / 1000, 2)} m`,
      ],
    ]);
    const head = ["", "", "length", "contours", "", "time", "fastest to slowest"];
    const total = clockText(stock.times.reduce((sum, { runningS }) => sum + runningS, 0));
    return [
      `${stockName(stock)}: ${total} running`,
      `  ${sharesText(stock)}`,
      ...columns([head, ...rows], [2, 3, 5]),
    ];
  });
  const seconds = stocks
    .flatMap(({ times }) => times)
    .reduce((sum, { runningS }) => sum + runningS, 0);
  const total = `In all ${clockText(seconds)} running on ${machine.description}; loading and set-up come on top. Travel: not below that in any order, with starts where contours may have them.`;
  return `${blocks.map((lines) => lines.join("\n")).join("\n\n")}\n\n${[total, ...shorteningText(report)].join("\n")}\n`;
}

function sheetName(stock: TimedStock, index: number): string {
  return `  ${kindOf(stock, stock.sheets[index]?.sheet ?? "")} ${index + 1}`;
}

/** What the running time goes to. */
function sharesText({ times }: TimedStock): string {
  const done = times.flatMap(({ operations }) => operations);
  const total = (of: (one: (typeof done)[number]) => number): string =>
    clockText(done.reduce((sum, one) => sum + of(one), 0));
  const travel = clockText(times.reduce((sum, { travelS }) => sum + travelS, 0));
  return [
    `at full feed ${total(({ atFullFeedS }) => atFullFeedS)}`,
    `slower ${total(({ workingS, atFullFeedS }) => workingS - atFullFeedS)}`,
    `starts ${total(({ pierceS }) => pierceS)}`,
    `travel ${travel}`,
  ].join(", ");
}

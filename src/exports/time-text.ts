import type { TimeReport, TimedStock } from "../estimate-data.ts";
import { handlingSum } from "../job/handling.ts";
import { clockText, stockName } from "../units.ts";
import { timedStockJson } from "./estimate-json.ts";
import type { TimedStockJson } from "./estimate-json.ts";
import { shorteningText } from "./shortening-text.ts";
import { sheetLines } from "./time-sheets.ts";
import { wrapped } from "./wrap.ts";

export type TimeJson = Omit<TimeReport, "stocks"> & { readonly stocks: readonly TimedStockJson[] };

export function timeJson(report: TimeReport): TimeJson {
  return { ...report, stocks: report.stocks.map(timedStockJson) };
}

const WIDTH = 80;
const SECONDS = 60;

/** The machine's time for each sheet and operation; the range is that of the feeds. */
export function timeText(report: TimeReport): string {
  const { machine, stocks, handling } = report;
  const blocks = stocks.map((stock) => {
    const handled = SECONDS * handlingSum(handling, stock.times.length);
    return [
      `${stockName(stock)}: ${clockText(runningOf(stock))} running, ${clockText(handled)} handling`,
      `  ${sharesText(stock)}`,
      ...sheetLines(stock, handling),
    ].join("\n");
  });
  const running = stocks.reduce((sum, stock) => sum + runningOf(stock), 0);
  const sheets = stocks.map(({ times }) => times.length);
  const handled = sheets.reduce((sum, count) => sum + SECONDS * handlingSum(handling, count), 0);
  const total = `In all ${clockText(running)} running and ${clockText(handled)} handling on ${machine.description}. ${NOTES} ${handlingText(report)}`;
  return `${blocks.join("\n\n")}\n\n${[...wrapped(total, WIDTH), ...shorteningText(report)].join("\n")}\n`;
}

const NOTES =
  "At feed: length over feed; slower: what stops, corners and curves add. Travel: at least so many m in any order, with starts where contours may have them.";

/** `Handling: each sheet loading 2:00 min; each material and thickness set-up 5:00 min.` */
function handlingText({ handling }: TimeReport): string {
  const of = (wanted: "sheet" | "set-up"): string => {
    const its = handling.filter(({ per, minutes }) => per === wanted && minutes > 0);
    return its.map(({ label, minutes }) => `${label} ${clockText(SECONDS * minutes)}`).join(", ");
  };
  const [sheet, setUp] = [of("sheet"), of("set-up")];
  const said = [
    ...(sheet === "" ? [] : [`each sheet ${sheet}`]),
    ...(setUp === "" ? [] : [`each material and thickness ${setUp}`]),
  ];
  return said.length === 0 ? "Handling: none." : `Handling: ${said.join("; ")}.`;
}

function runningOf({ times }: TimedStock): number {
  return times.reduce((sum, { runningS }) => sum + runningS, 0);
}

/** What the running time goes to. */
function sharesText({ times }: TimedStock): string {
  const done = times.flatMap(({ operations }) => operations);
  const total = (of: (one: (typeof done)[number]) => number): string =>
    clockText(done.reduce((sum, one) => sum + of(one), 0));
  const travel = clockText(times.reduce((sum, { travelS }) => sum + travelS, 0));
  return [
    `at feed ${total(({ atFullFeedS }) => atFullFeedS)}`,
    `slower ${total(({ workingS, atFullFeedS }) => workingS - atFullFeedS)}`,
    `starts ${total(({ pierceS }) => pierceS)}`,
    `travel ${travel}`,
  ].join(", ");
}

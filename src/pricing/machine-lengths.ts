import type { FigureSheet } from "../figure.ts";
import type { MachineRow } from "../job/types.ts";
import type { Feed } from "../machine/types.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { stockName } from "../units.ts";
import { cell, distinct } from "./ledger.ts";
import { commonCutsFrom, machineId, nestedFrom } from "./stock-figures.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/** Work that a service charges by the metre of line or by the area engraved, as its feeds rows say. */

/** @returns the ids of the charges; none where no feed in use has a price by length. */
export function addLengthCharges(sheet: FigureSheet, input: PricingInput): readonly string[] {
  return input.stocks.flatMap((stock) =>
    stock.feeds.flatMap((feed) =>
      feed.operation === "engrave"
        ? addEngraved(sheet, input, stock, feed)
        : addLines(sheet, input, stock, feed),
    ),
  );
}

/**
 * A feed in use without a price by length beside others that have one: it would be worked for
 * nothing.
 */
export function lengthPriceProblems(
  feeds: readonly Feed[],
  { kind }: Pick<MachineRow, "kind">,
): readonly Problem[] {
  if (kind === "own") return feeds.flatMap((feed) => priceOfOwn(feed));
  const unpriced = feeds.filter((feed) => priceOf(feed) === null);
  if (unpriced.length === feeds.length) return [];
  return unpriced.map((feed) =>
    errorAt(inColumn(feed.place, priceColumn(feed)), {
      code: "no-price-by-length",
      found: "",
      expected: "an amount, since other work of this job on this machine is priced by length",
      mend: "Fill it in; 0 where time or the other work pays for it",
    }),
  );
}

/** One's own machine costs its hour; a price by length beside it would be charged twice. */
function priceOfOwn(feed: Feed): readonly Problem[] {
  const price = priceOf(feed);
  if (price === null || price.isZero()) return [];
  return [
    errorAt(inColumn(feed.place, priceColumn(feed)), {
      code: "price-by-length-not-used",
      found: price.toString(),
      expected: "an empty cell for one's own machine, which is charged by its hour",
      mend: "Empty the cell, or write service under kind in machines.csv if somebody bills it",
    }),
  ];
}

function priceColumn({ operation }: Feed): string {
  return operation === "engrave" ? "price_per_m2" : "price_per_m";
}

function priceOf({ operation, pricePerM, pricePerM2 }: Feed): Feed["pricePerM"] {
  return operation === "engrave" ? pricePerM2 : pricePerM;
}

/** Once over, whatever the passes. */
function addLines(
  sheet: FigureSheet,
  input: PricingInput,
  stock: PricedStock,
  feed: Feed,
): readonly string[] {
  if (feed.pricePerM === null) return [];
  const id = (what: string): string => machineId(stock, `${feed.operation}.${what}`);
  const name = `${stockName(stock)}, ${feed.operation}`;
  const length = addLength(sheet, input, stock, feed, `${name}, length`);
  const source = cell(feed, "price_per_m");
  sheet.given(id("price"), `${name}, a metre`, "currency/m", feed.pricePerM, source);
  const inputs = [length, id("price")];
  return [sheet.derived(id("charge"), `${name}, charged`, "currency", "product", inputs)];
}

/** The boxes that are gone over line by line. */
function addEngraved(
  sheet: FigureSheet,
  input: PricingInput,
  stock: PricedStock,
  feed: Feed,
): readonly string[] {
  if (feed.pricePerM2 === null) return [];
  const { machine } = input;
  const id = (what: string): string => machineId(stock, `engrave.${what}`);
  const name = `${stockName(stock)}, engrave`;
  const lines = addLength(sheet, input, stock, feed, `${name}, lines`);
  sheet.given(
    id("interval"),
    "distance of engraved lines",
    "mm",
    machine.lineIntervalMm,
    cell(machine, "line_interval_mm"),
  );
  sheet.derived(id("area"), `${name}, area`, "m2", "lines to area", [lines, id("interval")]);
  const source = cell(feed, "price_per_m2");
  sheet.given(id("price"), `${name}, a m2`, "currency/m2", feed.pricePerM2, source);
  const inputs = [id("area"), id("price")];
  return [sheet.derived(id("charge"), `${name}, charged`, "currency", "product", inputs)];
}

function addLength(
  sheet: FigureSheet,
  input: PricingInput,
  stock: PricedStock,
  { operation }: Feed,
  label: string,
): string {
  const done = stock.times.flatMap(({ operations }) => operations);
  const mm = done
    .filter((one) => one.operation === operation)
    .reduce((sum, { lengthMm }) => sum + lengthMm, 0);
  return sheet.given(machineId(stock, `${operation}.length`), label, "m", mm / 1000, {
    kind: "computed",
    by: "motion",
    what: "lines on all sheets, once over",
    from: distinct([...nestedFrom(input, stock), ...commonCutsFrom(input)]),
  });
}

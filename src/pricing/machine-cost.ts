import { counted } from "../names.ts";
import { stockName, trimmed } from "../units.ts";
import type { FigureSheet, FigureSpread } from "../figure.ts";
import { handlingOf } from "../job/handling.ts";
import type { Handling } from "../job/handling.ts";
import type { Feed, OperationTime } from "../machine/types.ts";
import { cell, distinct } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addBill } from "./machine-bill.ts";
import { commonCutsFrom, machineId, nestedFrom } from "./stock-figures.ts";
import { cuttingBasis, cuttingWords } from "./quote-words.ts";
import { Amount } from "../money.ts";
import type { Place } from "../problem.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/** Minutes of the machine, and what they cost. */
export function addMachine(ledger: Ledger, input: PricingInput): void {
  const { sheet, costs } = ledger;
  const { stocks } = input;
  for (const stock of stocks) addStockTime(sheet, input, stock);
  const minutes = stocks.map((stock) => machineId(stock, "minutes"));
  sheet.derived("machine.minutes", "machine, minutes in all", "min", "sum", minutes);
  const cost = addBill(ledger, input);
  costs.push({
    section: "Cutting",
    of: "machine",
    description: cuttingWords(input),
    basis: cuttingBasis(input),
    cost,
    each: null,
  });
}

function addStockTime(sheet: FigureSheet, input: PricingInput, stock: PricedStock): void {
  const id = (what: string): string => machineId(stock, what);
  const name = stockName(stock);
  const running = addRunning(sheet, input, stock);
  sheet.derived(id("running"), `${name}, machine running`, "s", "sum", running);
  sheet.derived(id("running-minutes"), `${name}, machine running`, "min", "seconds to minutes", [
    id("running"),
  ]);
  sheet.given(id("sheets"), `${name}, sheets laid down`, "pcs", stock.times.length, {
    kind: "computed",
    by: "nest",
    what: "sheets that the machine works",
    from: nestedFrom(input, stock),
  });
  const handled = handlingOf(input.machine).map((one) => addHandling(sheet, input, stock, one));
  const all = [id("running-minutes"), ...handled];
  sheet.derived(id("minutes"), `${name}, machine minutes`, "min", "sum", all);
}

/** For each sheet so many times over, once for each material and thickness. */
function addHandling(
  sheet: FigureSheet,
  { machine }: PricingInput,
  stock: PricedStock,
  { id: what, label, each, per, minutes, column }: Handling,
): string {
  const id = machineId(stock, what);
  const name = `${stockName(stock)}, ${label}`;
  const source = cell(machine, column);
  if (per === "set-up") return sheet.given(id, name, "min", minutes, source);
  const one = sheet.given(`${id}-each`, each, "min", minutes, source);
  return sheet.derived(id, name, "min", "product", [machineId(stock, "sheets"), one]);
}

/** Working and starting time of each operation over all sheets, and the travel between. */
function addRunning(sheet: FigureSheet, input: PricingInput, stock: PricedStock): string[] {
  const nested = [...nestedFrom(input, stock), ...commonCutsFrom(input)];
  const operations = new Set(
    stock.times.flatMap((time) => time.operations.map(({ operation }) => operation)),
  );
  const ids = [...operations].flatMap((operation) => {
    const done = stock.times.flatMap((time) =>
      time.operations.filter((one) => one.operation === operation),
    );
    const total = (of: (one: (typeof done)[number]) => number): number =>
      done.reduce((sum, one) => sum + of(one), 0);
    const feed = stock.feeds.find((one) => one.operation === operation);
    const from = distinct([...(feed?.rows ?? []), ...nested]);
    const contours = counted(
      total((one) => one.contours),
      "contour",
    );
    const length = `${trimmed(total(({ lengthMm }) => lengthMm) / 1000, 3)} m in ${contours}`;
    const name = `${stockName(stock)}, ${operation}`;
    const working = {
      kind: "computed",
      by: "motion",
      what: `${length}, at the likely feed${feed === undefined ? "" : feedWords(feed)}`,
      from,
    } as const;
    const starting = { ...working, what: `starts of ${contours}, in each pass` };
    return [
      sheet.given(
        machineId(stock, `${operation}.working`),
        `${name}, working`,
        "s",
        total(({ workingS }) => workingS),
        working,
        workingSpread(done),
      ),
      sheet.given(
        machineId(stock, `${operation}.starting`),
        `${name}, starting`,
        "s",
        total(({ pierceS }) => pierceS),
        starting,
      ),
    ];
  });
  const feeds = goneBackFor(stock).flatMap(({ rows }) => rows);
  const travel = stock.times.reduce((sum, time) => sum + time.travelMm, 0);
  const travelId = sheet.given(
    machineId(stock, "travel"),
    `${stockName(stock)}, travelling`,
    "s",
    stock.times.reduce((sum, time) => sum + time.travelS, 0),
    {
      kind: "computed",
      by: "motion",
      what: `${trimmed(travel / 1000, 3)} m with the beam off`,
      from: distinct([...feeds, ...nested]),
    },
  );
  addLeastTravel(sheet, stock, travel, distinct([...feeds, ...nested]));
  return [...ids, travelId];
}

/** Feeds whose passes the travel hangs on: what is open is gone back over before each further one. */
function goneBackFor({ feeds, times }: PricedStock): readonly Feed[] {
  const done = times.flatMap(({ operations }) => operations);
  const open = new Set(done.filter(({ backMm }) => backMm > 0).map(({ operation }) => operation));
  return feeds.filter(({ operation }) => open.has(operation));
}

/** From the slowest feed of the row to the fastest; null where it says one alone. */
function workingSpread(done: readonly OperationTime[]): FigureSpread | null {
  const [first] = done;
  const [low, likely, high] = [
    sum(done, ({ fastestS }) => fastestS),
    sum(done, ({ workingS }) => workingS),
    sum(done, ({ slowestS }) => slowestS),
  ];
  if (first === undefined || (low === likely && high === likely)) return null;
  return { low: new Amount(low), high: new Amount(high), of: first.feed };
}

function sum(done: readonly OperationTime[], of: (one: OperationTime) => number): number {
  return done.reduce((all, one) => all + of(one), 0);
}

/** What the travel is to be held against; nothing is worked out from it. */
function addLeastTravel(
  sheet: FigureSheet,
  stock: PricedStock,
  travelMm: number,
  from: readonly Place[],
): void {
  const leastMm = stock.times.reduce((sum, time) => sum + time.leastTravelMm, 0);
  sheet.given(
    machineId(stock, "travel-least"),
    `${stockName(stock)}, travel in the best order there could be, at least`,
    "m",
    leastMm / 1000,
    {
      kind: "computed",
      by: "motion",
      what: `shortest tour where contours are few, else a tree that joins them all, each entered and left where it suits best; ${trimmed(travelMm / 1000, 3)} m are travelled`,
      from,
    },
  );
}

/** Where the feed is no row from elsewhere as it stands. */
function feedWords({ rule, feedMmS, measured, validFrom }: Feed): string {
  const speed = `${trimmed(feedMmS.likely, 2)} mm/s`;
  if (rule !== null) return ` of ${speed}, worked out: ${rule}`;
  return measured ? ` of ${speed}, measured on ${validFrom}` : "";
}

import { existsSync, readFileSync } from "node:fs";
import { Amount } from "../dist/money.js";
import { planCuts } from "../dist/nesting/bars/saw-plan.js";

/**
 * Saw plans against the published optima of `../shared/bench/lengths`, and on generated orders for
 * which nobody knows the optimum: there the proven bound says how far off a plan can be at most.
 * Seconds are of the whole plan on this machine. Exits 1 where a published optimum is missed.
 */

const FILE = new URL("../../shared/bench/lengths/cutting-stock.json", import.meta.url);

function say(text) {
  process.stdout.write(`${text}\n`);
}

function bar({ length, cost, limit }, sawKerfMm = 0) {
  const price = new Amount(cost);
  return { lengthMm: length, price, sawKerfMm, endTrimMm: 0, onHand: limit };
}

function measured(name, lengths, bars, published) {
  const start = performance.now();
  const work = planCuts("sawing", lengths, bars);
  let turn = work.next();
  while (turn.done !== true) turn = work.next();
  const seconds = ((performance.now() - start) / 1000).toFixed(2);
  const { cost, costBound, missing } = turn.value;
  const gap = costBound.isZero() ? 0 : cost.div(costBound).minus(1).times(100).toNumber();
  const state =
    missing.length > 0 ? "pieces missing" : gap === 0 ? "proved" : `${gap.toFixed(2)} %`;
  const row = [name, published, cost.toString(), costBound.toString(), state, seconds];
  return { row, missed: published !== "" && (!cost.eq(published) || missing.length > 0) };
}

function publishedRows() {
  if (!existsSync(FILE)) {
    say("../shared/bench/lengths/cutting-stock.json is not there: generated orders only.");
    return [];
  }
  return JSON.parse(readFileSync(FILE, "utf8")).map(({ name, orders, stocks, computed }) => {
    const lengths = orders.map(({ length, demand }, index) => ({
      name: String(index),
      lengthMm: length,
      count: demand,
    }));
    const optimum = String(Number(computed.optimum.toFixed(6)));
    return measured(
      name,
      lengths,
      stocks.map((stock) => bar(stock)),
      optimum,
    );
  });
}

/** Whole numbers from a seed, the same on every machine (Park and Miller 1988). */
function randomFrom(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

const SOLD = [
  { length: 6000, cost: 22.5, limit: null },
  { length: 5000, cost: 19.3, limit: 5 },
  { length: 4000, cost: 15.9, limit: null },
  { length: 3000, cost: 11.1, limit: 5 },
];

/** So many sizes, each 1 to 20 times, from `least` to `most` mm, with a kerf of 3 mm. */
function generated(sizes, least, most, kinds) {
  const random = randomFrom(sizes * 100 + kinds);
  const lengths = Array.from({ length: sizes }, (_, index) => ({
    name: String(index),
    lengthMm: least + random(most - least),
    count: 1 + random(20),
  }));
  const name = `${sizes} sizes of ${least}-${most} mm, ${kinds === 1 ? "1 length" : `${kinds} lengths`}`;
  return measured(
    name,
    lengths,
    SOLD.slice(0, kinds).map((stock) => bar(stock, 3)),
    "",
  );
}

function table(rows) {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) =>
          column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column]),
        )
        .join("  "),
    )
    .join("\n");
}

const results = [
  ...publishedRows(),
  ...[10, 20, 40, 60].flatMap((sizes) =>
    [1, 4].flatMap((kinds) => [
      generated(sizes, 300, 3000, kinds),
      generated(sizes, 120, 1200, kinds),
    ]),
  ),
];
say(
  table([
    ["instance", "optimum", "ours", "bound", "gap", "seconds"],
    ...results.map(({ row }) => row),
  ]),
);
if (results.some(({ missed }) => missed)) process.exitCode = 1;

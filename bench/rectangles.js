import { existsSync, readFileSync } from "node:fs";
import { Amount } from "../dist/money.js";
import { costBound } from "../dist/nesting/cost-bound.js";
import { outlineOf } from "../dist/nesting/outline.js";
import { layRectangles } from "../dist/nesting/rectangles/search.js";
import { rectanglesOf } from "../dist/nesting/rectangles/sizes.js";

/**
 * Rectangles against published instances in `../shared/bench/rectangles`, and how soon a thousand of
 * them lie. Seconds are of the processor, not of the clock. Every layout is judged here, by boxes
 * that share nothing with the search. Exits 1 where one is faulty or a known optimum is missed.
 *
 *     npm run bench:rectangles -- [seconds per instance]
 */

const FOLDER = new URL("../../shared/bench/rectangles/", import.meta.url);
const SECONDS = Number(process.argv[2] ?? 5);

/**
 * What the sheets cost at least, where that is more than `fitLBrot` and area say: by column
 * generation over patterns that keep to areas scaled by dual feasible functions (Fekete and Schepers
 * 2004, from memory) and to pairs that do not fit together. Worked out once, outside the project.
 */
const BOUNDS = {
  VS_1_01: 633,
  VS_1_18: 1565,
  VS_1_35: 2158,
  VS_3_03: 6964,
  VS_3_20: 8721,
  VS_5_05: 42532,
  VS_7_07: 31043,
  VS_8_08: 39732,
  VS_9_09: 137587,
  VS_9_26: 276932,
};

function say(text) {
  process.stdout.write(`${text}\n`);
}

function piece(part, width, height) {
  const outer = [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  return {
    part: String(part),
    copies: 1,
    region: { outer, holes: [] },
    flatteningMm: 0,
    turn: "quarter",
    flip: false,
  };
}

function offered(id, widthMm, heightMm, price, more = {}) {
  return {
    id: String(id),
    form: heightMm === null ? "roll" : "sheet",
    widthMm,
    heightMm,
    longestMm: null,
    price: new Amount(price),
    marginMm: 0,
    gapMm: 0,
    onHand: null,
    ...more,
  };
}

function spentSeconds() {
  return process.cpuUsage().user / 1e6;
}

/** The best after so many seconds, and when there was a first one and the last gain. */
function laid(pieces, choices, valueOf, seconds = SECONDS) {
  const start = spentSeconds();
  const search = layRectangles(rectanglesOf(pieces.map(outlineOf)), choices, 1);
  let [first, gained, best] = [null, 0, null];
  for (const found of search) {
    const now = spentSeconds() - start;
    first ??= now;
    if (best === null || valueOf(found.best) < valueOf(best)) gained = now;
    ({ best } = found);
    if (now > seconds) break;
  }
  const faults = faultsOf(pieces, best);
  for (const fault of faults) say(`FAULT: ${fault}`);
  return { best, value: valueOf(best), first, gained, faulty: faults.length > 0 };
}

/** Boxes by pairs. */
function faultsOf(pieces, { sheets, left }) {
  const faults = [];
  const count = left.reduce((sum, copies) => sum + copies, 0);
  const seen = new Set(sheets.flatMap(({ placed }) => placed.map(({ shape }) => shape)));
  if (seen.size + count !== pieces.length) faults.push(`${seen.size} placed, ${count} left`);
  for (const { choice, placed, usedMm } of sheets) {
    const { gapMm, marginMm } = choice;
    const end = choice.heightMm ?? usedMm + marginMm;
    const boxes = placed.map(({ shape, variant, x, y }) => boxOf(pieces[shape], variant, x, y));
    for (const [at, a] of boxes.entries()) {
      const edge = Math.min(a.x0, a.y0, choice.widthMm - a.x1, end - a.y1);
      if (edge < marginMm - 1e-6) faults.push(`${at} lies ${edge} from the edge`);
      for (const b of boxes.slice(0, at)) {
        const apart = Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1);
        if (apart < gapMm - 1e-6) faults.push(`${at} lies ${apart} from another`);
      }
    }
  }
  return faults;
}

/** The outlines have their 0,0 in a corner and are turned by quarters. */
function boxOf({ region }, { turnDeg }, x, y) {
  const { x: w, y: h } = region.outer[2];
  const far = { 0: [w, h], 90: [-h, w], 180: [-w, -h], 270: [h, -w] }[turnDeg];
  const [xs, ys] = [x, y].map((from, axis) => [from, from + far[axis]].sort((a, b) => a - b));
  return { x0: xs[0], x1: xs[1], y0: ys[0], y1: ys[1] };
}

function read(name) {
  const file = new URL(name, FOLDER);
  if (existsSync(file)) return JSON.parse(readFileSync(file, "utf8"));
  say(`../shared/bench/rectangles/${name} is not there.`);
  return null;
}

function table(head, rows) {
  const all = [head, ...rows].map((row) => row.map(String));
  const widths = head.map((_, column) => Math.max(...all.map((row) => row[column].length)));
  const pad = (cell, column) =>
    column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column]);
  say(`\n${all.map((row) => row.map(pad).join("  ")).join("\n")}`);
}

function percent(value, bound) {
  return ((value / bound - 1) * 100).toFixed(2);
}

function mean(numbers) {
  return numbers.reduce((sum, number) => sum + Number(number), 0) / numbers.length;
}

/** Hopper and Turton, EJOR 128 (2001) 34-57: a strip, turns by 90 degrees allowed. */
function strips() {
  const results = (read("hopper-turton-c1-c4.json")?.instances ?? []).map((instance) => {
    const { name, items, stripWidth, optimalHeight } = instance;
    const pieces = items.map(([height, width], at) => piece(at, width, height));
    const result = laid(pieces, [offered("roll", stripWidth, null, 1)], lengthOf);
    const gap = percent(result.value, optimalHeight);
    const { value, first, gained, faulty } = result;
    const row = [
      name,
      items.length,
      optimalHeight,
      value,
      gap,
      first.toFixed(2),
      gained.toFixed(2),
    ];
    return { row, gap, bad: faulty };
  });
  if (results.length === 0) return [];
  table(["strip", "pieces", "optimum", "ours", "gap %", "first s", "last gain s"], rowsOf(results));
  say(`mean gap ${mean(results.map(({ gap }) => gap)).toFixed(2)} %`);
  return results;
}

function lengthOf({ sheets }) {
  return sheets[0].usedMm;
}

/** All squares are to lie on the one sheet. */
function squares() {
  const results = Object.entries(read("perfect-squares.json") ?? {}).map(([name, instance]) => {
    const pieces = instance.sides.map((side, at) => piece(at, side, side));
    const choices = [offered("sheet", instance.width, instance.height, 0, { onHand: 1 })];
    const { value, gained, faulty } = laid(pieces, choices, leftOf);
    return { row: [name, pieces.length, value, gained.toFixed(2)], bad: faulty };
  });
  if (results.length > 0)
    table(["squared square", "pieces", "left over", "last gain s"], rowsOf(results));
  return results;
}

function leftOf({ left }) {
  return left.reduce((sum, copies) => sum + copies, 0);
}

/** Pisinger and Sigurd, Discrete Optimization 2 (2005) 154-167: turns by 90 degrees allowed. */
function mixes() {
  const results = (read("variable-sheets-with-cost.json")?.instances ?? []).map((instance) => {
    const { name, cls, items, bins, fitLBrot } = instance;
    const pieces = items.map(([width, height], at) => piece(at, width, height));
    const choices = bins.map(([width, height, cost], at) => offered(at, width, height, cost));
    const result = laid(pieces, choices, ({ cost }) => cost);
    const byArea = costBound(pieces, choices).toNumber();
    const bound = Math.max(fitLBrot, byArea, BOUNDS[name] ?? 0);
    const [fit, gap] = [percent(result.value, fitLBrot), percent(result.value, bound)];
    const { value, gained, faulty } = result;
    const row = [name, items.length, fitLBrot, bound, value, fit, gap, gained.toFixed(2)];
    return { row, cls, fit, gap, bad: faulty || value < bound * (1 - 1e-9) };
  });
  if (results.length === 0) return [];
  const head = ["sheets", "pieces", "fitLBrot", "bound", "ours", "over fit %", "over bound %"];
  table([...head, "last gain s"], rowsOf(results));
  const classes = [...new Set(results.map(({ cls }) => cls))].map((cls) => {
    const own = results.filter((result) => result.cls === cls);
    return [cls, ...["fit", "gap"].map((key) => mean(own.map((one) => one[key])).toFixed(2))];
  });
  const all = ["all", ...["fit", "gap"].map((key) => mean(results.map((r) => r[key])).toFixed(2))];
  table(["class", "over fit %", "over bound %"], [...classes, all]);
  return results;
}

/** Whole numbers from a seed, the same on every machine (Park and Miller 1988). */
function randomFrom(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

/** Every one of another size. */
function thousand() {
  const random = randomFrom(1000);
  const pieces = Array.from({ length: 1000 }, (_, at) =>
    piece(at, 50 + random(550), 50 + random(550)),
  );
  const kept = { marginMm: 5, gapMm: 3 };
  const choices = [
    offered("a", 2500, 1250, 50, kept),
    offered("b", 1250, 1250, 27, kept),
    offered("c", 3000, 1500, 80, kept),
  ];
  const { value, first, faulty } = laid(pieces, choices, ({ cost }) => cost);
  const bound = costBound(pieces, choices).toNumber();
  table(
    ["generated", "bound", "cost", "first s"],
    [["1000 sizes on 3 sheets", bound, value, first.toFixed(2)]],
  );
  return [{ bad: faulty }];
}

function rowsOf(results) {
  return results.map(({ row }) => row);
}

say(`Up to ${SECONDS} s of the processor for each.`);
const all = [...strips(), ...squares(), ...mixes(), ...thousand()];
if (all.some(({ bad }) => bad)) process.exitCode = 1;

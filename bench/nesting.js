import { existsSync, readFileSync } from "node:fs";
import { Amount } from "../dist/money.js";
import { judge } from "../dist/nesting/check.js";
import { nestPieces } from "../dist/nesting/nest.js";
import { threadAide } from "../dist/threads/thread-aide.js";

/**
 * Nests against published records, on the instances of `../shared/bench`:
 *
 *     npm run bench:nesting -- [strip|bins] [seconds] [seeds] [NAME ...]
 *
 * 60 s and seeds 1 to 3 unless said. Strips run as a roll of their width, their length along it;
 * density is the area of the pieces over width times length, beside the best published value and
 * the mean of the best published method (arXiv:2509.13329, tables 2 and 3; sources in the files).
 * Every nest is judged once more at the end; a fault ends the command with 1. `--wider` widens
 * strips and bins by 0.01 %, as that paper does; densities count the width as published.
 */

const SHARED = new URL("../../shared/bench/", import.meta.url);
const WIDER = 1.0001;

function say(text) {
  process.stdout.write(`${text}\n`);
}

function data(path) {
  return JSON.parse(readFileSync(new URL(path, SHARED), "utf8"));
}

function signedArea(points) {
  return points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length];
    return sum + (x * nextY - nextX * y) / 2;
  }, 0);
}

/** Counter-clockwise, without points given twice. */
function ringOf(points, turned) {
  const apart = points.filter(([x, y], index) => {
    const [lastX, lastY] = points[(index + points.length - 1) % points.length];
    return Math.hypot(x - lastX, y - lastY) > 1e-9;
  });
  const ring = signedArea(apart) > 0 ? apart : apart.toReversed();
  return ring.map(([x, y]) => (turned ? { x: -y, y: x } : { x, y }));
}

function pieceOf(part, points, copies, turn, turned) {
  const region = { outer: ringOf(points, turned), holes: [] };
  return { part, copies, region, flatteningMm: 0, turn, flip: false };
}

function choiceOf(id, widthMm, heightMm) {
  const form = heightMm === null ? "roll" : "sheet";
  const plain = { longestMm: null, price: new Amount(1), marginMm: 0, gapMm: 0, onHand: null };
  return { id, form, widthMm, heightMm, ...plain };
}

/** The best nest after so many seconds, and when it was found. */
function nested(pieces, choice, { seconds, seed, aide }, isEnough = () => false) {
  const start = performance.now();
  const passed = () => (performance.now() - start) / 1000;
  const work = nestPieces("bench", pieces, [choice], { seed, steps: 1e6, aide });
  let [best, first, at] = [null, 0, 0];
  let turn = work.next();
  while (turn.done !== true) {
    const now = turn.value.best?.best ?? null;
    if (now !== null && now !== best) {
      if (best === null) first = passed();
      if (best === null || now.sheetCost.lt(best.sheetCost)) at = passed();
      best = now;
    }
    turn = work.next(passed() > seconds || (best !== null && isEnough(best)));
  }
  best = turn.value.best;
  const faults = judge(pieces, [choice], best.sheets, best.unplaced);
  if (faults.length > 0) throw new Error(`${choice.id}: ${faults[0].what}`);
  return { best, first, at, steps: turn.value.steps };
}

const TURNS = { 1: "fixed", 2: "half", 4: "quarter" };

function strips({ names, wider, ...effort }) {
  const rows = data("strip/published.json").rows.filter(
    ({ name }) => names.length === 0 || names.includes(name),
  );
  let [short, worst] = [0, 0];
  say("strip      seeds: density %               mean    best  published  of method  first s");
  for (const { name, bestKnownDensity, meanDensity = {} } of rows) {
    const { stripWidth, allowedRotationsDeg, items } = data(`strip/${name}.json`);
    const turn = TURNS[allowedRotationsDeg.length];
    const pieces = items.map(({ points, demand }, index) =>
      pieceOf(`p${index}`, points, demand, turn, true),
    );
    const area = items.reduce((sum, { points, demand }) => {
      return sum + Math.abs(signedArea(points)) * demand;
    }, 0);
    const runs = effort.seeds.map((seed) => {
      const choice = choiceOf(name, stripWidth * (wider ? WIDER : 1), null);
      const { best, first } = nested(pieces, choice, { ...effort, seed });
      return { first, density: (100 * area) / (stripWidth * best.sheets[0].heightMm) };
    });
    const densities = runs.map(({ density }) => density);
    const mean = densities.reduce((sum, density) => sum + density, 0) / densities.length;
    const known = bestKnownDensity ?? 100;
    short += known - mean;
    worst = Math.max(worst, known - mean);
    const method = Object.values(meanDensity)[0];
    say(
      [
        name.padEnd(10),
        densities
          .map((density) => density.toFixed(2))
          .join(" ")
          .padEnd(30),
        mean.toFixed(2).padStart(6),
        Math.max(...densities)
          .toFixed(2)
          .padStart(7),
        known.toFixed(2).padStart(10),
        (method?.toFixed(2) ?? "").padStart(10),
        Math.max(...runs.map(({ first }) => first))
          .toFixed(2)
          .padStart(8),
      ].join(" "),
    );
  }
  say(
    `short of the best published: ${(short / rows.length).toFixed(2)} points in the mean, ${worst.toFixed(2)} at worst`,
  );
}

function bins({ names, wider, ...effort }) {
  const { instances } = data("bins/jigsaw-bins.json");
  let [met, counted] = [0, 0];
  say("bins    pieces  optimum  seeds: bins (seconds)");
  for (const { name, bin, items, optimumBins } of instances) {
    if (names.length > 0 && !names.includes(name)) continue;
    const pieces = items.map((points, index) => pieceOf(`p${index}`, points, 1, "quarter", false));
    const [width, height] = bin.map((side) => side * (wider ? WIDER : 1));
    const runs = effort.seeds.map((seed) => {
      const choice = choiceOf(name, width, height);
      return nested(pieces, choice, { ...effort, seed }, ({ sheets }) => {
        return optimumBins !== null && sheets.length <= optimumBins;
      });
    });
    if (optimumBins !== null) counted++;
    if (runs.some(({ best }) => best.sheets.length === optimumBins)) met++;
    const found = runs.map(({ best, at }) => `${best.sheets.length} (${at.toFixed(1)})`).join("  ");
    say(
      `${name.padEnd(8)} ${String(items.length).padStart(5)} ${String(optimumBins ?? "?").padStart(8)}  ${found}`,
    );
  }
  say(`optimum met by some seed: ${met} of ${counted}`);
}

function numberAt(words, index, otherwise) {
  const number = Number(words[index]);
  return Number.isFinite(number) && number > 0 ? number : otherwise;
}

const words = process.argv.slice(2).filter((word) => word !== "--wider");
const [kind = "strip"] = words;
const count = numberAt(words, 2, 3);
const aide = threadAide();
const settings = {
  seconds: numberAt(words, 1, 60),
  seeds: Array.from({ length: count }, (_, index) => index + 1),
  names: words.slice(3),
  wider: process.argv.includes("--wider"),
  aide,
};
if (!existsSync(SHARED)) say("../shared/bench is not there: nothing to measure against.");
else if (kind === "bins") bins(settings);
else strips(settings);
aide?.close();

import { readFileSync } from "node:fs";
import { Amount } from "../../dist/money.js";
import { judge } from "../../dist/nesting/check.js";
import { nestPieces } from "../../dist/nesting/nest.js";

/** Published instances as pieces and sheets of ours, and a nest of them, judged. */

export const SHARED = new URL("../../../shared/bench/", import.meta.url);
/** As arXiv:2509.13329 widens its strips. */
export const WIDER = 1.0001;

export function say(text) {
  process.stdout.write(`${text}\n`);
}

export function data(path) {
  return JSON.parse(readFileSync(new URL(path, SHARED), "utf8"));
}

export function signedArea(points) {
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

export function pieceOf(part, points, copies, turn, turned) {
  const region = { outer: ringOf(points, turned), holes: [] };
  return { part, copies, region, flatteningMm: 0, turn, flip: false };
}

export function choiceOf(id, widthMm, heightMm) {
  const form = heightMm === null ? "roll" : "sheet";
  const plain = { longestMm: null, price: new Amount(1), marginMm: 0, gapMm: 0, onHand: null };
  return { id, form, widthMm, heightMm, ...plain };
}

/** The best nest after so many seconds, and when it was found. */
export function nested(pieces, choice, { seconds, seed, aide }, isEnough = () => false) {
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

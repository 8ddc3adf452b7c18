import { turnsThatFit } from "./bed.ts";
import { goalFor, KINDS_OF_PARTS, partOf, type KnownSets, type Mixing } from "./mix-goal.ts";
import type { Random } from "../random.ts";
import type { KeptModel } from "./separation/model.ts";
import { pack } from "./separation/packing.ts";
import type { Nested, Ready } from "./size.ts";
import { bestOf, judged, order, sheetsInOrder, triedOf, type Tried } from "./tried.ts";
import type { Turned } from "./turns.ts";
import type { SheetChoice } from "./types.ts";

/** What the packing of sets keeps from round to round. */
export interface Packing {
  /** How often a set was packed in vain, by its key. */
  readonly packed: Map<string, number>;
  readonly packingModel: KeptModel;
}

/**
 * Where passes do not get all copies on a cheaper set of sheets, they are strewn on it and moved until
 * none overlaps ({@link pack}): the most promising sets of rectangles in turn, for so many depths together. Yields
 * now and then; returns a better nest, judged, or null.
 */
export function* packSets(
  job: Nested & Mixing & Packing,
  ready: Ready,
  random: Random,
  most: number,
): Generator<void, Tried | null, void> {
  const choices = ready.sizes.map(({ bed }) => bed.choice);
  const sheets = choices.filter(({ form }) => form === "sheet");
  if (new Set(sheets.map(({ gapMm }) => gapMm)).size !== 1) return null;
  const known: KnownSets = new Map();
  let spent = 0;
  for (let attempt = 0; attempt < KINDS_OF_PARTS && spent < most; attempt++) {
    const best = bestOf(job.tried, job.mix);
    if (best === null || best.leftOver > 0) return null;
    const part = partOf(best, attempt, random);
    const goal = goalFor(job, ready, { best, part, failed: job.packed, known, optimism: OPTIMISM });
    if (goal === null || goal.copies.reduce((sum, count) => sum + count, 0) > MOST_COPIES) continue;
    const odd = choices.some(({ outline }, size) => outline && goal.set.counts[size]! > 0);
    if (odd) continue;
    job.packed.set(goal.key, (job.packed.get(goal.key) ?? 0) + 1);
    const load = {
      shapes: ready.shapes,
      turns: ready.shapes.map((shape) => allTurns(shape, sheets)),
      copies: goal.copies,
      sheets: choices.flatMap((choice, size) =>
        Array.from({ length: goal.set.counts[size]! }, () => choice),
      ),
    };
    const end = spent + most / ATTEMPTS;
    const packing = pack(load, random, job.packingModel);
    let turn = packing.next();
    for (; turn.done !== true && spent < end; turn = packing.next()) {
      spent += turn.value;
      yield;
    }
    if (turn.done !== true || turn.value === null) continue;
    const filled = sheetsInOrder(choices, [
      ...goal.kept,
      ...turn.value.filter(({ placed }) => placed.length > 0),
    ]);
    const now = triedOf(ready.shapes, choices, { sheets: filled, unplaced: [] });
    if (order(now, best) < 0) return judged(job, now);
  }
  return null;
}

/** More than passes get on to sheets. */
const OPTIMISM = 0.08;
/** That the depths of a round are shared by. */
const ATTEMPTS = 2;
/** More take too long to be parted. */
const MOST_COPIES = 150;

function allTurns(
  shape: Ready["shapes"][number],
  sheets: readonly SheetChoice[],
): readonly Turned[] {
  const all = sheets.flatMap((choice) => turnsThatFit(shape, choice));
  return all.filter(
    ({ turnDeg, mirrored }, index) =>
      all.findIndex((other) => other.turnDeg === turnDeg && other.mirrored === mirrored) === index,
  );
}

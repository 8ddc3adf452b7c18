import type { Figure, Source } from "../figure.ts";
import { placeText } from "../problem.ts";
import { aloneOf, isAlone, isMoved, isReckonedAnew, sumsOf } from "./pairs.ts";
import type { Pair, Pairs } from "./pairs.ts";

/**
 * What one would change by hand to get from one sheet of figures to the other, each change whole: a
 * cell with all figures that are read from it; what was nested and timed of a material; a part with
 * everything that only it brings; a figure that is reckoned in another way.
 */
export interface Change {
  /** Figures that are given another value, come, go, or are reckoned anew; in the order of their ids. */
  readonly pairs: readonly Pair[];
}

/** In the order of the first of their ids. */
export function changesOf(pairs: Pairs): readonly Change[] {
  const ties = new Ties();
  for (const pair of pairs.values()) {
    for (const source of sourcesOf(pair)) ties.tie(pair.id, keyOf(pair.id, source));
    for (const input of broughtBy(pair, pairs)) ties.tie(pair.id, input);
  }
  const changes = new Map<string, Pair[]>();
  for (const pair of pairs.values()) {
    if (!isChanged(pair, pairs)) continue;
    const key = ties.rootOf(pair.id);
    const same = changes.get(key);
    if (same) same.push(pair);
    else changes.set(key, [pair]);
  }
  return [...changes.values()].map((its) => ({ pairs: its }));
}

/** A sum is not, whose summands come and go with changes of their own. */
function isChanged(pair: Pair, pairs: Pairs): boolean {
  if (aloneOf(pair) !== null || isMoved(pair)) return true;
  if (!isReckonedAnew(pair)) return false;
  const sums = sumsOf(pair);
  return sums === null || [...sums.before, ...sums.after].some((id) => !isAlone(id, pairs));
}

/** Of a value that moved, or of a computed one that came or went. */
function sourcesOf(pair: Pair): readonly Source[] {
  const { before, after } = pair;
  const sources = [after, before].flatMap((one) =>
    one?.origin.kind === "given" ? [one.origin.source] : [],
  );
  if (isMoved(pair)) return sources.slice(0, 1);
  return aloneOf(pair) === null ? [] : sources.filter(({ kind }) => kind === "computed");
}

/** The cell, the drawing, or for what a nest or a run of the machine gave, the material. */
function keyOf(id: string, source: Source): string {
  if (source.kind !== "computed") return `${source.kind} ${placeText(source.place)}`;
  const [, material = ""] = id.split(".");
  return `computed ${material}`;
}

/** Figures on one side only that it needs on that side. A sum needs none of its summands. */
function broughtBy(pair: Pair, pairs: Pairs): readonly string[] {
  const alone = aloneOf(pair);
  if (alone === null && (!isReckonedAnew(pair) || sumsOf(pair) !== null)) return [];
  const figures: readonly (Figure | null)[] = alone === null ? [pair.before, pair.after] : [alone];
  return figures
    .flatMap((one) => (one?.origin.kind === "derived" ? one.origin.inputs : []))
    .filter((input) => isAlone(input, pairs));
}

/** Names tied to each other, directly or by others between (union-find). */
class Ties {
  readonly #above = new Map<string, string>();

  rootOf(name: string): string {
    let root = name;
    for (let above = this.#above.get(root); above !== undefined; above = this.#above.get(root))
      root = above;
    if (root !== name) this.#above.set(name, root);
    return root;
  }

  tie(one: string, other: string): void {
    const [a, b] = [this.rootOf(one), this.rootOf(other)];
    if (a !== b) this.#above.set(a, b);
  }
}

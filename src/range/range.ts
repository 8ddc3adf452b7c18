import type { Figure } from "../figure.ts";
import type { Place } from "../problem.ts";
import { randomFrom } from "../random.ts";
import { latinHypercube } from "./draws.ts";
import { programFor } from "./program.ts";
import type { Program } from "./program.ts";
import { quantile } from "./quantile.ts";
import { triangleQuantile } from "./triangle.ts";
import type { ThreePoints } from "./triangle.ts";

/** How far a figure may lie off for all that is uncertain, in the figure's unit. */
export interface FigureRange {
  /** Sorted upwards. */
  readonly draws: Float64Array;
  /** One outcome in ten lies below, half of them do, nine in ten do. */
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
  /** What is uncertain, by the swing from the largest down. */
  readonly drivers: readonly Driver[];
}

/** A row whose values are uncertain, with what hangs on it. */
export interface Driver {
  /** Ids of the figures that vary with it. */
  readonly figures: readonly string[];
  readonly place: Place;
  /** The figure with this row alone at its P10 and its P90, all else as likely. */
  readonly atP10: number;
  readonly atP90: number;
  /** How much the figure swings between the two, 0 or more. */
  readonly swing: number;
  /** Share of the variance that goes with this row (squared correlation with its rank), 0 to 1. */
  readonly share: number;
}

/** Given figures that vary together, because one row says them all. */
interface Varying {
  readonly place: Place;
  readonly figures: readonly (ThreePoints & { readonly id: string })[];
}

/**
 * Draws all uncertain figures over and over and works the target out each time, by the same formulas
 * that its value comes from. What one row says varies together; rows do not depend on each other.
 * @returns null when nothing that the target hangs on is uncertain.
 */
export function rangeOf(
  figures: readonly Figure[],
  target: string,
  { seed, draws }: { readonly seed: number; readonly draws: number },
): FigureRange | null {
  const varying = varyingRows(leadingTo(figures, target));
  const ids = varying.flatMap((row) => row.figures.map(({ id }) => id));
  const program = programFor(figures, ids, target);
  const swings = varying.map((_, index) => swingOf(program, varying, index));
  if (swings.every(({ moves }) => !moves)) return null;
  const shares = latinHypercube(varying.length, draws, randomFrom(seed));
  const outcomes = Float64Array.from({ length: draws }, (_, draw) =>
    program.run(valuesAt(varying, (row) => shares[row]![draw]!)),
  );
  const drivers = varying.flatMap(({ place, figures: its }, index): readonly Driver[] => {
    const { moves, atP10, atP90 } = swings[index]!;
    if (!moves) return [];
    const share = squaredCorrelation(shares[index]!, outcomes);
    const swing = Math.abs(atP90 - atP10);
    return [{ figures: its.map(({ id }) => id), place, atP10, atP90, swing, share }];
  });
  const sorted = Float64Array.from(outcomes).toSorted();
  return {
    draws: sorted,
    p10: quantile(sorted, LOW),
    p50: quantile(sorted, MIDDLE),
    p90: quantile(sorted, HIGH),
    drivers: drivers.toSorted((a, b) => b.swing - a.swing || b.share - a.share),
  };
}

const LOW = 0.1;
const MIDDLE = 0.5;
const HIGH = 0.9;

/** What the target hangs on: draws must not change with an uncertain figure that it does not. */
function leadingTo(figures: readonly Figure[], target: string): readonly Figure[] {
  const needed = new Set([target]);
  for (const { id, origin } of figures.toReversed())
    if (needed.has(id) && origin.kind === "derived")
      for (const input of origin.inputs) needed.add(input);
  return figures.filter(({ id }) => needed.has(id));
}

/** By the row that each uncertain figure hangs on, in the order of the figures. */
function varyingRows(figures: readonly Figure[]): readonly Varying[] {
  const rows = new Map<string, { place: Place; figures: Varying["figures"][number][] }>();
  for (const { id, value, spread, origin } of figures) {
    if (!spread || origin.kind !== "given") continue;
    const place = spread.of ?? placeOf(origin.source);
    const key = `${place.file}\n${place.line ?? place.column ?? id}`;
    const row = rows.get(key) ?? { place, figures: [] };
    const points = { low: spread.low.toNumber(), high: spread.high.toNumber() };
    row.figures.push({ id, likely: value.toNumber(), ...points });
    rows.set(key, row);
  }
  return [...rows.values()];
}

function placeOf(source: Extract<Figure["origin"], { kind: "given" }>["source"]): Place {
  if (source.kind !== "computed") return source.place;
  return source.from[0] ?? { file: source.by, line: null, column: null };
}

/** @param shareOf of the row with this number; null for its likely values. */
function valuesAt(
  varying: readonly Varying[],
  shareOf: (row: number) => number | null,
): readonly number[] {
  return varying.flatMap(({ figures }, row) => {
    const share = shareOf(row);
    return figures.map((points) =>
      share === null ? points.likely : triangleQuantile(points, share),
    );
  });
}

function swingOf(program: Program, varying: readonly Varying[], index: number) {
  const at = (share: number): number =>
    program.run(valuesAt(varying, (row) => (row === index ? share : null)));
  const [atP10, atP90] = [at(LOW), at(HIGH)];
  // Whole cans may hide what only the extremes move.
  return { atP10, atP90, moves: new Set([atP10, atP90, at(0), at(1)]).size > 1 };
}

function squaredCorrelation(a: Float64Array, b: Float64Array): number {
  const [meanA, meanB] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (const [at, value] of a.entries()) {
    const [da, db] = [value - meanA, b[at]! - meanB];
    ab += da * db;
    aa += da * da;
    bb += db * db;
  }
  return aa * bb === 0 ? 0 : (ab * ab) / (aa * bb);
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

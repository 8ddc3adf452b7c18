import { dot, inverseDiagonal, normalMatrix, solved } from "./normal-equations.ts";

/**
 * Least squares that a few odd values do not carry away: Huber's M-estimate by iteratively
 * reweighted least squares (P. J. Huber, Robust regression, Annals of Statistics 1 (1973) 799-821;
 * P. W. Holland and R. E. Welsch, Communications in Statistics A6 (1977) 813-827), its scale the
 * median of the absolute residuals, estimated anew in each round.
 */

/** What was seen under known circumstances: y = sum of coefficients times x, but for chance. */
export interface Seen {
  /** As many in each. */
  readonly x: readonly number[];
  readonly y: number;
}

export interface RobustFit {
  readonly coefficients: readonly number[];
  /** Of each coefficient; null where as many coefficients as values leave nothing over. */
  readonly standardErrors: readonly number[] | null;
  /** What a single value usually strays by, in the unit of y. */
  readonly scale: number;
  /** 1 for what counts in full, less the odder a value is. */
  readonly weights: readonly number[];
  /** Values less coefficients. */
  readonly freedom: number;
}

/** 95 % as good as plain least squares where there is nothing odd (Holland and Welsch). */
const HUBER = 1.345;
/** The median absolute deviation of a normal distribution, in standard deviations. */
const MEDIAN_OF_NORMAL = 0.6745;
const MOST_ROUNDS = 200;
const SETTLED = 1e-10;

/**
 * @param leastScale no smaller scale is believed, in the unit of y: two values that happen to agree
 * do not make a certainty.
 * @returns null when the coefficients can not be told apart by what was seen.
 */
export function robustFit(seen: readonly Seen[], leastScale = 0): RobustFit | null {
  const first = weightedFit(
    seen,
    seen.map(() => 1),
  );
  if (first === null || seen.length < first.length) return null;
  let now = { coefficients: first, scale: scaleOf(seen, first, leastScale) };
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const next = weightedFit(seen, weightsOf(seen, now));
    if (next === null) return null;
    const moved = next.map((one, index) => Math.abs(one - (now.coefficients[index] ?? 0)));
    now = { coefficients: next, scale: scaleOf(seen, next, leastScale) };
    if (Math.max(...moved) <= SETTLED * now.scale) break;
  }
  const freedom = seen.length - first.length;
  const standardErrors = freedom === 0 ? null : errorsOf(seen, now, leastScale);
  return { ...now, standardErrors, weights: weightsOf(seen, now), freedom };
}

type Fitted = Pick<RobustFit, "coefficients" | "scale">;

function weightedFit(seen: readonly Seen[], weights: readonly number[]): readonly number[] | null {
  const rows = seen.map(({ x }) => x);
  const right = (rows[0] ?? []).map((_, i) =>
    seen.reduce((sum, { x, y }, at) => sum + (weights[at] ?? 0) * (x[i] ?? 0) * y, 0),
  );
  return solved(normalMatrix(rows, weights), right);
}

function weightsOf(seen: readonly Seen[], { coefficients, scale }: Fitted): readonly number[] {
  return residuals(seen, coefficients).map((one) => {
    const size = Math.abs(one);
    return size <= HUBER * scale ? 1 : (HUBER * scale) / size;
  });
}

function residuals(seen: readonly Seen[], coefficients: readonly number[]): readonly number[] {
  return seen.map(({ x, y }) => y - dot(x, coefficients));
}

function scaleOf(
  seen: readonly Seen[],
  coefficients: readonly number[],
  leastScale: number,
): number {
  const sizes = residuals(seen, coefficients).map(Math.abs);
  return Math.max(median(sizes) / MEDIAN_OF_NORMAL, leastScale);
}

/**
 * Huber's estimate of their spread, corrected for few values (Robust Statistics, 1981, 7.6):
 * K^2 [sum psi^2 / (n - p)] / [mean psi']^2 times the inverse of X'X.
 */
function errorsOf(
  seen: readonly Seen[],
  { coefficients, scale }: Fitted,
  leastScale: number,
): readonly number[] | null {
  const [n, p] = [seen.length, coefficients.length];
  const off = residuals(seen, coefficients);
  const bend = HUBER * scale;
  const psi = off.map((one) => Math.max(-bend, Math.min(bend, one)));
  const inside = off.filter((one) => Math.abs(one) <= bend).length / n;
  const correction = 1 + ((p / n) * (1 - inside)) / inside;
  const ofChance = Math.max(dot(psi, psi) / (n - p), leastScale ** 2);
  const spread = (correction ** 2 * ofChance) / inside ** 2;
  const rows = seen.map(({ x }) => x);
  const diagonal = inverseDiagonal(
    normalMatrix(
      rows,
      seen.map(() => 1),
    ),
  );
  return diagonal?.map((one) => Math.sqrt(spread * one)) ?? null;
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const [below, above] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return ((below ?? Number.NaN) + (above ?? Number.NaN)) / 2;
}

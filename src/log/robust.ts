import { dot, inverseOf, normalMatrix, solved } from "./normal-equations.ts";
import type { Matrix } from "./normal-equations.ts";

/**
 * Least squares that a few odd values do not carry away: Huber's M-estimate by iteratively
 * reweighted least squares (P. J. Huber, Robust regression, Annals of Statistics 1 (1973) 799-821;
 * P. W. Holland and R. E. Welsch, Communications in Statistics A6 (1977) 813-827), its scale the
 * median of the absolute residuals.
 *
 * It sets out from the least absolute deviations, which of three values are their median: from least
 * squares one odd value of three would have spoilt the scale it is to be judged by.
 */

/** What was seen under known circumstances: y = sum of coefficients times x, but for chance. */
export interface Seen {
  /** As many in each. */
  readonly x: readonly number[];
  readonly y: number;
  /** What shares its chance with others of the same name, such as runs of one job; null alone. */
  readonly cluster?: string | null;
}

export interface RobustFit {
  readonly coefficients: readonly number[];
  /** Of each coefficient; null where no more clusters than coefficients leave nothing over. */
  readonly standardErrors: readonly number[] | null;
  /** What a single value usually strays by, in the unit of y. */
  readonly scale: number;
  /** 1 for what counts in full, less the odder a value is. */
  readonly weights: readonly number[];
  /** Clusters less coefficients. */
  readonly freedom: number;
}

export interface ScaleRule {
  /** No smaller scale is believed, in the unit of y: two values that agree make no certainty. */
  readonly least: number;
  /**
   * Whether the scale stays that of the first fit (R. A. Maronna, R. D. Martin and V. J. Yohai, Robust
   * Statistics, 2006, 2.8). Estimated anew in each round, that of three values grows until the odd
   * one among them is none.
   */
  readonly held: boolean;
}

/** 95 % as good as plain least squares where there is nothing odd (Holland and Welsch). */
const HUBER = 1.345;
/** The median absolute deviation of a normal distribution, in standard deviations. */
const MEDIAN_OF_NORMAL = 0.6745;
const MOST_ROUNDS = 200;
const SETTLED = 1e-10;

/**
 * What the median deviation of few values falls short by (C. Croux and P. J. Rousseeuw, COMPSTAT 1992,
 * 411-428; from memory, and drawn anew in the tests).
 */
export function forFew(count: number): number {
  return FOR_FEW[count - 2] ?? count / (count - 0.8);
}

/** For 2, 3, 4, ... values. */
const FOR_FEW: readonly number[] = [1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107];

/** @returns null when the coefficients can not be told apart by what was seen. */
export function robustFit(
  seen: readonly Seen[],
  { least, held }: ScaleRule = { least: 0, held: false },
): RobustFit | null {
  const first = middleFit(seen);
  if (first === null) return null;
  if (seen.length === first.length) return exactFit(seen, first, least);
  const few = held ? forFew(seen.length - first.length + 1) : 1;
  let now = { coefficients: first, scale: Math.max(few * scaleOf(seen, first, 0), least) };
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const next = weightedFit(seen, weightsOf(seen, now));
    if (next === null) return null;
    const moved = next.map((one, index) => Math.abs(one - (now.coefficients[index] ?? 0)));
    now = { coefficients: next, scale: held ? now.scale : scaleOf(seen, next, least) };
    if (Math.max(...moved) <= SETTLED * now.scale) break;
  }
  const freedom = new Set(clustersOf(seen)).size - first.length;
  const standardErrors = freedom <= 0 ? null : errorsOf(seen, now, least);
  return { ...now, standardErrors, weights: weightsOf(seen, now), freedom };
}

/** Of as many values as coefficients: what is left over is dust, and tells nothing. */
function exactFit(
  seen: readonly Seen[],
  coefficients: readonly number[],
  scale: number,
): RobustFit {
  const weights = seen.map(() => 1);
  return { coefficients, scale, weights, standardErrors: null, freedom: 0 };
}

/**
 * The least absolute deviations, by the same reweighting. Null as {@link robustFit}.
 * From this fit on residuals tell what is odd: of n values fewer than half may be anything.
 */
export function middleFit(seen: readonly Seen[]): readonly number[] | null {
  let now = weightedFit(
    seen,
    seen.map(() => 1),
  );
  if (now === null || seen.length < now.length) return null;
  if (seen.length === now.length) return now;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const sizes = residuals(seen, now).map(Math.abs);
    const nearest = NEAREST * Math.max(...sizes);
    if (nearest === 0) break;
    const next = weightedFit(
      seen,
      sizes.map((size) => 1 / Math.max(size, nearest)),
    );
    if (next === null) break;
    const moved = next.map((one, index) => Math.abs(one - (now?.[index] ?? 0)));
    now = next;
    if (Math.max(...moved) <= nearest) break;
  }
  return now;
}

/** Of the largest residual: a smaller one weighs no more, or a value would weigh without bound. */
const NEAREST = 1e-6;

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

/** Of each value what its coefficients leave over, in the unit of y. */
export function residuals(
  seen: readonly Seen[],
  coefficients: readonly number[],
): readonly number[] {
  return seen.map(({ x, y }) => y - dot(x, coefficients));
}

function scaleOf(seen: readonly Seen[], coefficients: readonly number[], least: number): number {
  const sizes = residuals(seen, coefficients).map(Math.abs);
  return Math.max(median(sizes) / MEDIAN_OF_NORMAL, least);
}

/**
 * Huber's estimate of their spread, corrected for few values (Robust Statistics, 1981, 7.6):
 * K^2 [sum psi^2 / (n - p)] / [mean psi']^2 times the inverse of X'X.
 */
function errorsOf(
  seen: readonly Seen[],
  { coefficients, scale }: Fitted,
  least: number,
): readonly number[] | null {
  const [n, p] = [seen.length, coefficients.length];
  const off = residuals(seen, coefficients);
  const bend = HUBER * scale;
  const psi = off.map((one) => Math.max(-bend, Math.min(bend, one)));
  const inside = off.filter((one) => Math.abs(one) <= bend).length / n;
  const correction = 1 + ((p / n) * (1 - inside)) / inside;
  const rows = seen.map(({ x }) => x);
  const inverse = inverseOf(
    normalMatrix(
      rows,
      seen.map(() => 1),
    ),
  );
  if (inverse === null) return null;
  const clusters = clustersOf(seen);
  const count = new Set(clusters).size;
  const ofChance = count === n ? dot(psi, psi) / (n - p) : 0;
  const shared = count === n ? inverse.map(() => 0) : sharedChance(rows, psi, clusters, inverse);
  return inverse.map((row, i) => {
    const own = row[i] ?? 0;
    const spread = Math.max(ofChance * own, shared[i] ?? 0, (least ** 2 * own * n) / count);
    return (correction / inside) * Math.sqrt(spread);
  });
}

/**
 * Where values share a cluster their deviations add up before they are squared (K.-Y. Liang and
 * S. L. Zeger, Biometrika 73 (1986) 13-22): five runs of one bad day are one bad day. Squares of the
 * standard errors, corrected for few clusters.
 */
function sharedChance(
  rows: Matrix,
  psi: readonly number[],
  clusters: readonly string[],
  inverse: Matrix,
): readonly number[] {
  const names = [...new Set(clusters)];
  const scores = names.map((name) =>
    inverse.map((_, i) =>
      rows.reduce(
        (sum, row, at) => sum + (clusters[at] === name ? (psi[at] ?? 0) * (row[i] ?? 0) : 0),
        0,
      ),
    ),
  );
  const few = names.length / (names.length - inverse.length);
  return inverse.map((row) => few * scores.reduce((sum, score) => sum + dot(row, score) ** 2, 0));
}

/** Of each value; one without a name is a cluster of its own. */
function clustersOf(seen: readonly Seen[]): readonly string[] {
  return seen.map(({ cluster }, index) => cluster ?? `value ${index}`);
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const [below, above] = [sorted[(sorted.length - 1) >> 1], sorted[sorted.length >> 1]];
  return ((below ?? Number.NaN) + (above ?? Number.NaN)) / 2;
}

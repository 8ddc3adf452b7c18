import { median, middleFit, residuals, robustFit } from "./robust.ts";
import type { RobustFit, Seen } from "./robust.ts";
import { standardErrorsFor80Percent } from "./student.ts";

/**
 * By how much the estimate is to be multiplied, from pairs of what was estimated and what it took.
 *
 * What goes wrong with a time goes wrong in proportion: published speeds differ two to five times,
 * either way. So the fit is one of logarithms, log took = log sum(factor x estimated) with chance
 * added. For one operation that is a mean of log ratios; where several ran together it is bent, and
 * solved by straight fits about the last answer (Gauss and Newton), each of them robust.
 */

/** What one run was estimated to take, by what it consists of, and took; all above 0. */
export interface Compared {
  readonly estimated: readonly number[];
  readonly took: number;
  /** Runs of one job share what went well or wrong with it; without a job each is its own. */
  readonly job?: string;
}

export interface Factor {
  readonly factor: number;
  /** Between which it lies in 8 of 10 cases; null where too few jobs leave nothing to tell by. */
  readonly between: readonly [number, number] | null;
  /** Between which the next run lies in 8 of 10 cases, over its estimate. */
  readonly next: readonly [number, number] | null;
}

/**
 * Either way, as a ratio: a time so far from what it is held against is more likely a slip of the pen
 * or an accident than a measurement. Published speeds for the same cut differ two to five times, from
 * the middle of which this is farther than most (common practice, no source).
 */
export const FAR_OFF = 3;

/** @returns whether a ratio is farther from 1 than {@link FAR_OFF}. */
export function isFarOff(ratio: number): boolean {
  return Math.max(ratio, 1 / ratio) > FAR_OFF;
}

export interface Factors {
  /** One for each place of `estimated`. */
  readonly factors: readonly Factor[];
  /** Which runs count, those that are far off from what most of them say being left out. */
  readonly counts: readonly boolean[];
}

/** @returns null where the runs can not tell the factors apart. */
export function factorsOf(compared: readonly Compared[]): Factors | null {
  const middle = settled(compared, startOf(compared), (seen) => {
    const coefficients = middleFit(seen);
    return coefficients === null ? null : { coefficients };
  });
  if (middle === null) return null;
  const off = residuals(seenAbout(compared, middle.coefficients), middle.coefficients);
  const counts = off.map((one) => !isFarOff(Math.exp(one)));
  // Of two that contradict each other none is the odd one.
  const kept = compared.filter((_, index) => counts[index]);
  const most = 2 * kept.length > compared.length ? kept : compared;
  const fit = settled(most, middle.coefficients, (seen) =>
    robustFit(seen, { least: LEAST_SCALE, held: true }),
  );
  if (fit === null) return null;
  return {
    factors: fit.coefficients.map((log, index) => factorAt(log, fit, index)),
    counts: most === kept ? counts : counts.map(() => true),
  };
}

const MOST_ROUNDS = 100;
const SETTLED = 1e-9;
/** Of an operation's factor from that of all together: ten times off, it is not being told. */
const FARTHEST = Math.log(10);

/** Minutes by a clock and a job that never is quite the same: 2 % (common practice, no source). */
const LEAST_SCALE = 0.02;

/** The logs of factors that are all the same. */
function startOf(compared: readonly Compared[]): readonly number[] {
  const common = median(compared.map(({ estimated, took }) => Math.log(took / total(estimated))));
  return (compared[0]?.estimated ?? []).map(() => common);
}

/** Straight fits about the last answer until it stays; null where it does not, or runs away. */
function settled<T extends { readonly coefficients: readonly number[] }>(
  compared: readonly Compared[],
  start: readonly number[],
  fitted: (seen: readonly Seen[]) => T | null,
): T | null {
  const [common = 0] = startOf(compared);
  let logs = start;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const fit = fitted(seenAbout(compared, logs));
    if (fit === null) return null;
    const moved = Math.max(...fit.coefficients.map((one, i) => Math.abs(one - (logs[i] ?? 0))));
    if (fit.coefficients.some((one) => Math.abs(one - common) > FARTHEST)) return null;
    logs = fit.coefficients;
    if (moved < SETTLED) return fit;
  }
  return null;
}

/** About these logs of factors, a change of one changes log took by its share of the whole. */
function seenAbout(compared: readonly Compared[], logs: readonly number[]): readonly Seen[] {
  return compared.map(({ estimated, took, job }) => {
    const parts = estimated.map((one, i) => one * Math.exp(logs[i] ?? 0));
    const x = parts.map((one) => one / total(parts));
    const about = x.reduce((sum, share, i) => sum + share * (logs[i] ?? 0), 0);
    return { x, y: Math.log(took / total(parts)) + about, cluster: job ?? null };
  });
}

function factorAt(log: number, { standardErrors, scale, freedom }: RobustFit, i: number): Factor {
  const error = standardErrors?.[i];
  if (error === undefined) return { factor: Math.exp(log), between: null, next: null };
  const t = standardErrorsFor80Percent(freedom);
  const range = (width: number): readonly [number, number] => [
    Math.exp(log - t * width),
    Math.exp(log + t * width),
  ];
  return { factor: Math.exp(log), between: range(error), next: range(Math.hypot(error, scale)) };
}

function total(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0);
}

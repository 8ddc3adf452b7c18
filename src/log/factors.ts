import { median, robustFit } from "./robust.ts";
import type { RobustFit } from "./robust.ts";
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
}

export interface Factor {
  readonly factor: number;
  /** Between which it lies in 8 of 10 cases; null where too few runs leave nothing to tell by. */
  readonly between: readonly [number, number] | null;
  /** Between which the next run lies in 8 of 10 cases, over its estimate. */
  readonly next: readonly [number, number] | null;
}

/**
 * One factor for each place of `estimated`.
 * @returns null where the runs can not tell them apart.
 */
export function factorsOf(compared: readonly Compared[]): readonly Factor[] | null {
  const places = compared[0]?.estimated.length ?? 0;
  const common = Math.exp(
    median(compared.map(({ estimated, took }) => Math.log(took / total(estimated)))),
  );
  let logs: readonly number[] = Array.from({ length: places }, () => Math.log(common));
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const fit = straightFit(compared, logs);
    if (fit === null) return null;
    const moved = Math.max(...fit.coefficients.map((one, i) => Math.abs(one - (logs[i] ?? 0))));
    if (fit.coefficients.some((one) => Math.abs(one - Math.log(common)) > FARTHEST)) return null;
    logs = fit.coefficients;
    if (moved < SETTLED) return logs.map((one, i) => factorAt(one, fit, i));
  }
  return null;
}

const MOST_ROUNDS = 100;
const SETTLED = 1e-9;
/** Of an operation's factor from that of all together: ten times off, it is not being told. */
const FARTHEST = Math.log(10);

/** Minutes by a clock and a job that never is quite the same: 2 % (common practice, no source). */
const LEAST_SCALE = 0.02;

/** About these logs of factors, a change of one changes log took by its share of the whole. */
function straightFit(compared: readonly Compared[], logs: readonly number[]): RobustFit | null {
  const seen = compared.map(({ estimated, took }) => {
    const parts = estimated.map((one, i) => one * Math.exp(logs[i] ?? 0));
    const x = parts.map((one) => one / total(parts));
    const about = x.reduce((sum, share, i) => sum + share * (logs[i] ?? 0), 0);
    return { x, y: Math.log(took / total(parts)) + about };
  });
  return robustFit(seen, LEAST_SCALE);
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

import type { Planned } from "./entries.ts";

/**
 * How long the lines of a row take at other feeds than the one it was estimated with.
 *
 * Over slowness s, the row's own feed divided by another, the minutes are W(s) = a s + c + b / s:
 * a is what runs at the feed. A stop costs v/a, thus b / s; passing a corner at v_c costs
 * (v - v_c)^2 / (a v), with something of each; a curve too tight for the feed, or a leg too short to
 * reach it, takes as long at any, thus c (derived from the formulas of motion.ts). As long as what
 * slows at the one feed slows at the other, three minutes therefore tell all others: those at half,
 * at once and at twice the feed.
 */
export interface WorkingMinutes {
  /** Whether it is known how the minutes go with the feed, or was taken as if nothing slowed. */
  readonly bent: boolean;
  /** At so many times the feed. */
  readonly at: (times: number) => number;
  /** At how many times the feed they take so long; null where they hardly go with the feed. */
  readonly timesFor: (minutes: number) => number | null;
}

/** Null where a row does not say what its lines take. */
export function workingMinutes(
  row: Pick<Planned, "workingMin" | "halfFeedMin" | "twiceFeedMin">,
): WorkingMinutes | null {
  const { workingMin, halfFeedMin, twiceFeedMin } = row;
  if (workingMin === null || workingMin <= 0) return null;
  if (halfFeedMin === null || twiceFeedMin === null)
    return along({ a: workingMin, b: 0, c: 0 }, false);
  // Slopes between s = 1/2, 1 and 2, of which the second is the steeper: more is slowed at more feed.
  const fast = (workingMin - twiceFeedMin) / (1 - 1 / 2);
  const slow = (halfFeedMin - workingMin) / (2 - 1);
  const b = Math.max(0, (slow - fast) / (2 - 1 / 2));
  const a = slow + b / 2;
  return along({ a, b, c: workingMin - a - b }, true);
}

/**
 * By how much of a percent the minutes must rise where the feed falls by one: with less, the 2 % that
 * no clock tells would be 8 % of the feed (common practice, no source).
 */
const LEAST_GOES = 0.25;

interface Parts {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

function along({ a, b, c }: Parts, bent: boolean): WorkingMinutes {
  return {
    bent,
    at: (times) => a / times + c + b * times,
    timesFor: (minutes) => {
      // a s^2 - (minutes - c) s + b = 0; of two feeds the slower, for the faster one would only brake.
      const half = (minutes - c) / 2;
      const root = half ** 2 - a * b;
      if (a <= 0 || half <= 0 || root < 0) return null;
      const slowness = (half + Math.sqrt(root)) / a;
      const goes = (a * slowness - b / slowness) / minutes;
      return goes < LEAST_GOES ? null : 1 / slowness;
    },
  };
}

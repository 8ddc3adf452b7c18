/**
 * Minutes from the first morning on. A day is worked from its morning for some hours; paint dries on
 * through the evening and the night. Days are working days, one after the other: that a weekend lies
 * between only gives paint more time.
 */

export const DAY_MIN = 24 * 60;

/** Far below a minute, and above the dust of sums. */
const DUST_MIN = 1e-6;

/** The first moment from `at` on at which work of so many minutes is begun: it is not left overnight. */
export function beginAt(at: number, minutes: number, openMin: number): number {
  const morning = morningOf(at);
  const needed = Math.min(minutes, openMin);
  return at - morning + needed <= openMin + DUST_MIN ? at : morning + DAY_MIN;
}

/** When work begun at that moment ends; what is longer than a day goes on the next morning. */
export function endOf(begin: number, minutes: number, openMin: number): number {
  let [end, left] = [begin, minutes];
  while (left > openMin + DUST_MIN) {
    end = morningOf(end) + DAY_MIN;
    left -= openMin;
  }
  return end + left;
}

/** The morning of that day. */
export function morningOf(at: number): number {
  return Math.floor((at + DUST_MIN) / DAY_MIN) * DAY_MIN;
}

/** The morning after, or that moment where it is a morning. */
export function nextMorning(at: number): number {
  const morning = morningOf(at);
  return at - morning <= DUST_MIN ? morning : morning + DAY_MIN;
}

/** Working days gone by then; what becomes ready in the evening is taken up the next morning. */
export function workingDays(at: number, openMin: number): number {
  const morning = morningOf(at);
  return morning / DAY_MIN + Math.min(1, (at - morning) / openMin);
}

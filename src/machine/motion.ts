/**
 * How long a straight move takes with limited acceleration: speed rises, stays at the cruising speed
 * if there is room for it, and falls. Formulas as in motion-control texts: trapezoid and triangle.
 * Lengths in mm, speeds in mm/s, accelerations in mm/s2, times in s.
 */

/**
 * Time of one move, s. Acceleration and braking are equal.
 * @throws RangeError when entry and exit speed can not both be met on this distance, or exceed the
 * cruising speed: a caller that plans speeds has planned them wrongly.
 */
export function moveTime(
  distanceMm: number,
  cruiseMmS: number,
  accelerationMmS2: number,
  entryMmS = 0,
  exitMmS = 0,
): number {
  const peak = peakSpeed(distanceMm, cruiseMmS, accelerationMmS2, entryMmS, exitMmS);
  if (distanceMm === 0) return 0;
  const changing = (2 * peak ** 2 - entryMmS ** 2 - exitMmS ** 2) / (2 * accelerationMmS2);
  const atPeak = Math.max(0, distanceMm - changing) / peak;
  return (2 * peak - entryMmS - exitMmS) / accelerationMmS2 + atPeak;
}

/**
 * Highest speed that a move reaches, mm/s: the cruising speed, or less where the distance is short.
 * @throws RangeError as {@link moveTime}.
 */
export function peakSpeed(
  distanceMm: number,
  cruiseMmS: number,
  accelerationMmS2: number,
  entryMmS = 0,
  exitMmS = 0,
): number {
  const fastestEnd = Math.max(entryMmS, exitMmS);
  const unbounded = Math.sqrt(
    (2 * accelerationMmS2 * distanceMm + entryMmS ** 2 + exitMmS ** 2) / 2,
  );
  if (!(distanceMm >= 0 && cruiseMmS > 0 && accelerationMmS2 > 0)) {
    throw new RangeError(
      `no move of ${distanceMm} mm at ${cruiseMmS} mm/s, ${accelerationMmS2} mm/s2`,
    );
  }
  if (fastestEnd > cruiseMmS || unbounded < fastestEnd * (1 - ROUNDING)) {
    throw new RangeError(`no move of ${distanceMm} mm from ${entryMmS} to ${exitMmS} mm/s`);
  }
  return Math.min(cruiseMmS, unbounded);
}

/** What binary arithmetic may take from a speed that is just reached, as a share of it. */
const ROUNDING = 1e-9;

/** How far the sides of a corner reach, and so how fast it can be passed. */

/** A path in stretches, each straight or of one radius, mm. */
export interface Bends {
  readonly lengthsMm: readonly number[];
  readonly radiiMm: readonly number[];
  /** By how much it turns at the end of each but the last, rad, from 0 to pi. */
  readonly turnsRad: readonly number[];
}

/**
 * Radius of the arc that stands for the corner at the end of each stretch but the last, mm: it misses
 * the corner by the tolerance d, so that R = d sin h / (1 - sin h), h half of the angle between the sides
 * (plane geometry; the tolerance as in Sencer, Ishizaki and Shamoto 2014, doi
 * 10.1007/s00170-014-6386-2). The arc has to go into half of the shorter side. A side reaches to where
 * the path has turned by half as much again: the chords of a flattened curve come out with the
 * radius of the curve, and a side in several pieces as one.
 */
export function cornerRadii(bends: Bends, toleranceMm: number): readonly number[] {
  return bends.turnsRad.map((turnRad, at) => {
    const half = turnRad / 2;
    if (half < STRAIGHT_RAD) return Infinity;
    const [sine, cosine] = [Math.sin(half), Math.cos(half)];
    // 1 - cos as 2 sin^2, for small turns would drown in rounding.
    const missed = (toleranceMm * cosine) / (2 * Math.sin(half / 2) ** 2);
    const enoughMm = (2 * missed * sine) / cosine;
    const before = sideMm(bends, at, -1, half, enoughMm);
    const after = sideMm(bends, at + 1, 1, half, enoughMm);
    return Math.min(missed, ((Math.min(before, after) / 2) * cosine) / sine);
  });
}

/** From a corner on, until the path has turned by so much, or for as long as is enough. */
function sideMm(
  { lengthsMm, radiiMm, turnsRad }: Bends,
  first: number,
  step: 1 | -1,
  turnRad: number,
  enoughMm: number,
): number {
  let [mm, leftRad] = [0, turnRad];
  for (let at = first; at >= 0 && at < lengthsMm.length; at += step) {
    const [lengthMm, radiusMm] = [lengthsMm[at]!, radiiMm[at]!];
    mm += Math.min(lengthMm, leftRad * radiusMm);
    leftRad -= lengthMm / radiusMm + (turnsRad[step === 1 ? at : at - 1] ?? 0);
    if (leftRad <= 0 || mm >= enoughMm) break;
  }
  return mm;
}

/** What turns by less does not turn. */
export const STRAIGHT_RAD = 1e-7;

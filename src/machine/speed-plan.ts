import { moveTime } from "./motion.ts";
import type { Stretches } from "./stretches.ts";

/**
 * How long a path takes from rest to rest, s, never faster than the feed, and sideways accelerated no
 * more than along: v = sqrt(a r) in curves and corners. Each corner is passed as fast as what comes
 * after it allows to brake for (backwards over the whole path), and as what came before allows to
 * reach (forwards): no other plan within these limits is faster.
 */
export function plannedTime(
  { lengthsMm, radiiMm, cornersMm }: Stretches,
  feedMmS: number,
  accelerationMmS2: number,
): number {
  const count = lengthsMm.length;
  const limit = (radiusMm: number): number =>
    Math.min(feedMmS, Math.sqrt(accelerationMmS2 * radiusMm));
  const cruise = radiiMm.map(limit);
  // At the start of each stretch, then at the end.
  const speeds = new Float64Array(count + 1);
  for (let at = 1; at < count; at++)
    speeds[at] = Math.min(cruise[at - 1]!, cruise[at]!, limit(cornersMm[at - 1]!));
  for (let at = count - 1; at > 0; at--)
    speeds[at] = Math.min(speeds[at]!, reached(speeds[at + 1]!, lengthsMm[at]!));
  for (let at = 1; at < count; at++)
    speeds[at] = Math.min(speeds[at]!, reached(speeds[at - 1]!, lengthsMm[at - 1]!));
  let seconds = 0;
  for (let at = 0; at < count; at++) {
    const ends = [speeds[at]!, speeds[at + 1]!] as const;
    seconds += moveTime(lengthsMm[at]!, cruise[at]!, accelerationMmS2, ...ends);
  }
  return seconds;

  function reached(fromMmS: number, overMm: number): number {
    return Math.sqrt(fromMmS ** 2 + 2 * accelerationMmS2 * overMm);
  }
}

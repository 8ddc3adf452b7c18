import type { Waiting } from "./waiting.ts";
import type { Ways } from "./ways.ts";

/**
 * The shortest tour there is, for a few stops: the least way to have done each set of stops and to
 * be at the end of each way of the last (M. Held, R. Karp, "A dynamic programming approach to
 * sequencing problems", 1962).
 */

/** Whether {@link shortestTour} is soon done: in some hundredths of a second. */
export function areFew({ count, home, first }: Ways): boolean {
  return count <= MOST_STOPS && 2 ** count * first[home]! ** 2 <= MOST_STEPS;
}

const MOST_STOPS = 16;
const MOST_STEPS = 4_000_000;

/** A way for each stop, in order. */
export function shortestTour(ways: Ways, { before }: Waiting): number[] {
  const { home, end, count, first } = ways;
  const all = first[home]!;
  const waitsFor = before.map((stops) => stops.reduce((set, stop) => set | (1 << stop), 0));
  const least = new Float64Array(2 ** count * all).fill(Infinity);
  const cameBy = new Int32Array(2 ** count * all);
  const goOn = (set: number, from: number, soFar: number): void => {
    for (let stop = 0; stop < count; stop += 1) {
      if ((set >> stop) % 2 === 1 || (waitsFor[stop]! & ~set) !== 0) continue;
      for (let way = first[stop]!; way < first[stop + 1]!; way += 1) {
        const state = (set | (1 << stop)) * all + way;
        const mm = soFar + ways.between(from, way);
        if (mm >= least[state]!) continue;
        least[state] = mm;
        cameBy[state] = from;
      }
    }
  };
  goOn(0, first[home]!, 0);
  for (let state = all; state < least.length; state += 1)
    if (least[state]! < Infinity) goOn(Math.floor(state / all), state % all, least[state]!);
  return wayBack(ways, least, cameBy, first[end]!);
}

function wayBack(ways: Ways, least: Float64Array, cameBy: Int32Array, to: number): number[] {
  const all = ways.first[ways.home]!;
  let set = 2 ** ways.count - 1;
  const whole = (way: number): number => least[set * all + way]! + ways.between(way, to);
  let at = 0;
  for (let way = 1; way < all; way += 1) if (whole(way) < whole(at)) at = way;
  const tour: number[] = [];
  while (set > 0) {
    tour.push(at);
    const from = cameBy[set * all + at]!;
    set &= ~(1 << ways.stopOf[at]!);
    at = from;
  }
  return tour.toReversed();
}

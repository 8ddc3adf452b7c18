import type { Waiting } from "./waiting.ts";
import type { Ways } from "./ways.ts";

/**
 * No way between two stops in a tour is shorter than what stands here, mm; Infinity between stops
 * that can not follow each other. Stops far apart stand with the way between their boxes.
 */
export class DistanceTable {
  readonly #ways: Ways;
  /** By pairs; null where there are too many to keep. */
  readonly #mm: Float64Array | null;

  /** @param phaseOf of each stop, in the order in which they are done. */
  constructor(ways: Ways, waiting: Waiting, phaseOf: readonly number[]) {
    this.#ways = ways;
    const { count } = ways;
    this.#mm = count > MOST_KEPT ? null : new Float64Array(count ** 2);
    if (this.#mm === null) return;
    const direct = waiting.before.map((stops) => withoutDetours(stops, waiting));
    for (let stop = 0; stop < count; stop += 1)
      for (let other = 0; other < stop; other += 1) {
        const follow =
          Math.abs(phaseOf[stop]! - phaseOf[other]!) <= 1 &&
          isDirect(stop, other, waiting, direct) &&
          isDirect(other, stop, waiting, direct);
        const mm = follow ? this.#least(stop, other) : Infinity;
        this.#mm[stop * count + other] = mm;
        this.#mm[other * count + stop] = mm;
      }
  }

  between(stop: number, other: number): number {
    return this.#mm === null
      ? this.#ways.boxesApart(stop, other)
      : this.#mm[stop * this.#ways.count + other]!;
  }

  /** Whether all pairs stand here, so that they can be changed. */
  get isKept(): boolean {
    return this.#mm !== null;
  }

  /** @param byMm below 0 shortens. */
  lengthen(stop: number, other: number, byMm: number): void {
    if (this.#mm === null) return;
    this.#mm[stop * this.#ways.count + other]! += byMm;
    this.#mm[other * this.#ways.count + stop]! += byMm;
  }

  #least(stop: number, other: number): number {
    const boxes = this.#ways.boxesApart(stop, other);
    if (boxes > FAR_MM) return boxes;
    return this.#ways.apart(other, stop, this.#ways.apart(stop, other));
  }
}

const MOST_KEPT = 2000;
const FAR_MM = 100;

/** Those that a stop waits for, less those that another of them waits for. */
function withoutDetours(stops: readonly number[], { before }: Waiting): ReadonlySet<number> {
  const direct = new Set(stops);
  for (const stop of stops) for (const earlier of before[stop] ?? []) direct.delete(earlier);
  return direct;
}

/** Whether nothing must come between a stop and one that it may wait for. */
function isDirect(
  stop: number,
  earlier: number,
  { after }: Waiting,
  direct: readonly ReadonlySet<number>[],
): boolean {
  return direct[stop]!.has(earlier) || !after[earlier]!.includes(stop);
}

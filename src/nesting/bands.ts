/**
 * Edges by the heights they run through, so that those level with a point are found without asking
 * all. An edge is known by a number; it may lie in several bands.
 */
export class Bands {
  readonly #lists: number[][];
  readonly #minY: number;
  readonly #perMm: number;

  /** For about so many edges between two heights. */
  constructor(minY: number, maxY: number, edges: number) {
    const count = Math.max(1, Math.min(MOST_BANDS, Math.ceil(Math.sqrt(edges))));
    this.#lists = Array.from({ length: count }, () => []);
    this.#minY = minY;
    this.#perMm = maxY > minY ? count / (maxY - minY) : 0;
  }

  add(edge: number, fromY: number, toY: number): void {
    const last = this.#bandAt(Math.max(fromY, toY));
    for (let band = this.#bandAt(Math.min(fromY, toY)); band <= last; band++)
      this.#lists[band]!.push(edge);
  }

  /** All edges that run through this height, each once, and others near it. */
  at(y: number): readonly number[] {
    return this.#lists[this.#bandAt(y)]!;
  }

  /** What lies below or above all bands is counted to the nearest one. */
  #bandAt(y: number): number {
    const band = Math.floor((y - this.#minY) * this.#perMm);
    return Math.max(0, Math.min(this.#lists.length - 1, band));
  }
}

/** Each edge may lie in all of them. */
const MOST_BANDS = 1024;

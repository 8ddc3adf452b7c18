import type { Ways } from "./ways.ts";

/** For each stop those nearest to it, home and end among them, nearest first. */
export function neighboursOf(ways: Ways, most: number): Int32Array[] {
  const links = ways.count + 2;
  return Array.from({ length: links }, (_, stop) => nearest(ways, stop, Math.min(most, links - 1)));
}

/** Hardly any pair is measured point by point: those with near boxes come first. */
function nearest(ways: Ways, stop: number, most: number): Int32Array {
  const boxes = new Float64Array(ways.count + 2);
  const byBox = new NearestList(most);
  for (let other = 0; other < boxes.length; other += 1) {
    boxes[other] = other === stop ? Infinity : ways.boxesApart(stop, other);
    byBox.add(other, boxes[other]!);
  }
  const near = byBox.farthest;
  const list = new NearestList(most);
  for (let other = 0; other < boxes.length; other += 1)
    if (boxes[other]! <= near) list.add(other, ways.apart(stop, other, list.farthest));
  for (let other = 0; other < boxes.length; other += 1)
    if (boxes[other]! > near && boxes[other]! < list.farthest)
      list.add(other, ways.apart(stop, other, list.farthest));
  return list.found;
}

class NearestList {
  readonly found: Int32Array;
  readonly #apart: Float64Array;

  constructor(most: number) {
    this.found = new Int32Array(most);
    this.#apart = new Float64Array(most).fill(Infinity);
  }

  get farthest(): number {
    return this.#apart[this.#apart.length - 1]!;
  }

  add(other: number, mm: number): void {
    if (mm >= this.farthest) return;
    let place = this.found.length - 1;
    for (; place > 0 && this.#apart[place - 1]! > mm; place -= 1) {
      this.#apart[place] = this.#apart[place - 1]!;
      this.found[place] = this.found[place - 1]!;
    }
    this.#apart[place] = mm;
    this.found[place] = other;
  }
}

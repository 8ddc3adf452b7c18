import { distanceToLine } from "../geometry/point.ts";
import { boundsOf } from "../geometry/ring.ts";
import type { Box, Point, Region } from "../geometry/types.ts";
import { turning } from "./convex.ts";
import { Grid } from "./grid.ts";

/** How far a region may grow. */
export interface GrowthLimit {
  /** Of one change, mm. */
  readonly mostMm: number;
  /** Rings of so few points are left as they are; 3 or more. */
  readonly enough: number;
  /** No more is changed when no more points than this are left. */
  readonly points?: number;
}

/**
 * A region that grows to have fewer points: dents are filled, and edges between two corners are
 * replaced by the corner that their neighbours meet in, always where it costs least next. Holes only
 * shrink. It never reaches out of its box, and long straight edges stay where they are.
 *
 * A change adds a triangle to the material. It is made only where the triangle holds no other edge,
 * so that rings which did not cross stay so, and all that was material stays material.
 */
export class GrowingRegion {
  readonly #box: Box;
  readonly #x: number[] = [];
  readonly #y: number[] = [];
  /** Neighbours along the ring, and the ring; -1 for points that are gone. */
  readonly #before: number[] = [];
  readonly #after: number[] = [];
  readonly #ring: number[] = [];
  readonly #count: number[] = [];
  readonly #grid: Grid;
  readonly #next = new CostHeap();
  /** How often what can be changed at a point has been looked at anew. */
  readonly #look: number[] = [];

  /** @param region of rings that do not cross, with material to the left of all edges. */
  constructor(region: Region, box: Box) {
    this.#box = box;
    const rings = [region.outer, ...region.holes];
    const points = rings.reduce((sum, { length }) => sum + length, 0);
    this.#grid = new Grid(box, points);
    for (const [number, ring] of rings.entries()) {
      const first = this.#x.length;
      this.#count.push(ring.length);
      for (const [index, { x, y }] of ring.entries()) {
        this.#x.push(x);
        this.#y.push(y);
        this.#before.push(first + ((index + ring.length - 1) % ring.length));
        this.#after.push(first + ((index + 1) % ring.length));
        this.#ring.push(number);
        this.#look.push(0);
      }
    }
    for (const point of this.#x.keys()) this.#addEdge(point);
    for (const point of this.#x.keys()) this.#lookAt(point);
  }

  get points(): number {
    return this.#count.reduce((sum, count) => sum + count, 0);
  }

  grow({ mostMm, enough, points: few = 0 }: GrowthLimit): void {
    const held: Change[] = [];
    let left = this.points;
    while (left > few) {
      const change = this.#next.takeUpTo(mostMm);
      if (change === null) break;
      const { point, look } = change;
      if (this.#ring[point] === -1 || look !== this.#look[point]) continue;
      if (this.#count[this.#ring[point]!]! <= enough) {
        held.push(change);
        continue;
      }
      if (this.#make(point)) left--;
    }
    for (const change of held) this.#next.put(change);
  }

  /** As it is now. */
  region(): Region {
    const rings: Point[][] = this.#count.map(() => []);
    const seen = new Set<number>();
    for (const start of this.#x.keys()) {
      const ring = this.#ring[start]!;
      if (ring === -1 || seen.has(ring)) continue;
      seen.add(ring);
      let point = start;
      do {
        rings[ring]!.push({ x: this.#x[point]!, y: this.#y[point]! });
        point = this.#after[point]!;
      } while (point !== start);
    }
    return { outer: rings[0]!, holes: rings.slice(1) };
  }

  /** Fills the dent at a point, or replaces the edge that begins there; false where others are in the way. */
  #make(b: number): boolean {
    const [a, c] = [this.#before[b]!, this.#after[b]!];
    const [before, at, after] = [this.#at(a), this.#at(b), this.#at(c)];
    if (turning(before, at, after) <= 0) {
      if (this.#isInTheWay([before, at, after], [a, b, c])) return false;
      this.#remove(b);
      this.#renew(a);
      return true;
    }
    const apex = this.#apex(b);
    if (apex === null || this.#isInTheWay([at, apex, after], [a, b, c])) return false;
    [this.#x[b], this.#y[b]] = [apex.x, apex.y];
    this.#remove(c);
    this.#addEdge(a);
    this.#renew(b);
    return true;
  }

  #remove(point: number): void {
    const [before, after] = [this.#before[point]!, this.#after[point]!];
    this.#after[before] = after;
    this.#before[after] = before;
    this.#count[this.#ring[point]!]!--;
    this.#ring[point] = -1;
    this.#addEdge(before);
  }

  /** A change is measured by its point, the one before and the two after. */
  #renew(point: number): void {
    const before = this.#before[point]!;
    for (const changed of [this.#before[before]!, before, point, this.#after[point]!])
      this.#lookAt(changed);
  }

  #lookAt(b: number): void {
    const look = (this.#look[b] = this.#look[b]! + 1);
    const [a, c] = [this.#before[b]!, this.#after[b]!];
    const [before, at, after] = [this.#at(a), this.#at(b), this.#at(c)];
    const turn = turning(before, at, after);
    if (turn < 0 || (turn === 0 && isAhead(before, at, after))) {
      this.#next.put({ costMm: distanceToLine(at, before, after), point: b, look });
      return;
    }
    const apex = turn === 0 ? null : this.#apex(b);
    if (apex !== null) this.#next.put({ costMm: distanceToLine(apex, at, after), point: b, look });
  }

  /** Where the edges before b and after c meet, made longer; null when they do not, or out of the box. */
  #apex(point: number): Point | null {
    const next = this.#after[point]!;
    const [a, b] = [this.#at(this.#before[point]!), this.#at(point)];
    const [c, d] = [this.#at(next), this.#at(this.#after[next]!)];
    if (turning(b, c, d) <= 0) return null;
    const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
    const turn = ux * vy - uy * vx;
    if (turn <= 0) return null;
    const along = ((c.x - b.x) * vy - (c.y - b.y) * vx) / turn;
    const apex = { x: b.x + along * ux, y: b.y + along * uy };
    const { minX, minY, maxX, maxY } = this.#box;
    const inBox = apex.x >= minX && apex.x <= maxX && apex.y >= minY && apex.y <= maxY;
    return along > 0 && inBox ? apex : null;
  }

  /** Whether a point or an edge of others comes into a triangle, or upon its rim. */
  #isInTheWay(triangle: Triangle, own: readonly number[]): boolean {
    const { minX, minY, maxX, maxY } = boundsOf(triangle);
    const [x, y] = [this.#x, this.#y];
    return this.#grid.some(triangle, (from) => {
      if (this.#ring[from] === -1) return false;
      const to = this.#after[from]!;
      if (x[from]! > maxX ? x[to]! > maxX : x[from]! < minX && x[to]! < minX) return false;
      if (y[from]! > maxY ? y[to]! > maxY : y[from]! < minY && y[to]! < minY) return false;
      const [ownFrom, ownTo] = [own.includes(from), own.includes(to)];
      if (ownFrom && ownTo) return false;
      const [p, q] = [this.#at(from), this.#at(to)];
      if (!ownFrom && isInTriangle(p, triangle)) return true;
      if (!ownTo && isInTriangle(q, triangle)) return true;
      // It may cut off the new corner without ending inside.
      return !ownFrom && !ownTo && cutsOff(p, q, triangle);
    });
  }

  #addEdge(from: number): void {
    this.#grid.add(from, this.#at(from), this.#at(this.#after[from]!));
  }

  #at(point: number): Point {
    return { x: this.#x[point]!, y: this.#y[point]! };
  }
}

type Triangle = readonly [Point, Point, Point];

function isInTriangle(point: Point, [a, b, c]: Triangle): boolean {
  const [first, second, third] = [turning(a, b, point), turning(b, c, point), turning(c, a, point)];
  return (first >= 0 && second >= 0 && third >= 0) || (first <= 0 && second <= 0 && third <= 0);
}

/** Whether a line from p to q goes through the sides that meet in the middle one of three corners. */
function cutsOff(p: Point, q: Point, [a, b, c]: Triangle): boolean {
  return goesThrough(p, q, a, b) || goesThrough(p, q, b, c);
}

function goesThrough(p: Point, q: Point, a: Point, b: Point): boolean {
  return turning(a, b, p) * turning(a, b, q) < 0 && turning(p, q, a) * turning(p, q, b) < 0;
}

function isAhead(a: Point, b: Point, c: Point): boolean {
  return (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y) > 0;
}

/** What can be done at a point, as long as nothing near it has changed since it was looked at. */
interface Change {
  readonly costMm: number;
  readonly point: number;
  readonly look: number;
}

/** Changes by rising cost; of equal ones the one at the last point comes first. */
class CostHeap {
  readonly #changes: Change[] = [];

  put(change: Change): void {
    const heap = this.#changes;
    let at = heap.length;
    heap.push(change);
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!comesBefore(change, heap[above]!)) break;
      heap[at] = heap[above]!;
      at = above;
    }
    heap[at] = change;
  }

  /** The least one, taken out; null when even that costs more than `mostMm`. */
  takeUpTo(mostMm: number): Change | null {
    const heap = this.#changes;
    const least = heap[0];
    if (least === undefined || least.costMm > mostMm) return null;
    const last = heap.pop()!;
    if (heap.length === 0) return least;
    let at = 0;
    for (let below = 1; below < heap.length; below = 2 * at + 1) {
      if (below + 1 < heap.length && comesBefore(heap[below + 1]!, heap[below]!)) below++;
      if (!comesBefore(heap[below]!, last)) break;
      heap[at] = heap[below]!;
      at = below;
    }
    heap[at] = last;
    return least;
  }
}

function comesBefore(a: Change, b: Change): boolean {
  return a.costMm < b.costMm || (a.costMm === b.costMm && a.point > b.point);
}

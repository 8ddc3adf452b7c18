import { distance } from "../geometry/point.ts";
import type { Point, Ring } from "../geometry/types.ts";
import { RingSides } from "../geometry/ring-sides.ts";
import { sweepPairs } from "../geometry/side-sweep.ts";

/** Narrow stretches of material between two cut lines. */

export interface Web {
  readonly widthMm: number;
  /** The middle of its narrowest place. */
  readonly at: Point;
}

/**
 * All webs narrower than the limit, the narrowest first, each once.
 * What tapers to a point is no web, nor is what sticks out less than a few times its width.
 * @param rings the outline counter-clockwise, then the holes clockwise: material lies to the left.
 * @param dustMm what the rings may be simplified by.
 */
export function thinWebs(rings: readonly Ring[], limitMm: number, dustMm: number): Web[] {
  const sides = new RingSides(rings.map((ring) => withoutDust(ring, dustMm)));
  const measures = new SideMeasures(sides);
  const between = new Map<number, Web>();
  const along = new Map<string, Own>();
  sweepPairs(sides, limitMm, (earlier, later) => {
    const [first, second] = earlier < later ? [earlier, later] : [later, earlier];
    if (!mayFace(sides, first, second)) return false;
    const key = pairKey(sides.ring[first] ?? 0, sides.ring[second] ?? 0);
    const known = between.get(key)?.widthMm ?? limitMm;
    if (squaredGap(sides, first, second) > known * known * (1 + ROUNDING)) return false;
    const [side, partner] = [measures.side(first), measures.side(second)];
    const web = webBetween(side, partner, limitMm);
    if (web === null) return false;
    if (side.ring !== partner.ring) keepLeast(between, key, web);
    else {
      const { x, y } = web.at;
      const cell = `${side.ring} ${Math.floor(x / limitMm)} ${Math.floor(y / limitMm)}`;
      keepLeast(along, cell, { ...web, ring: side.ring });
    }
    return false;
  });
  return [...between.values(), ...apart([...along.values()].sort(order), limitMm)].sort(order);
}

/** A web between two places of one contour. */
interface Own extends Web {
  readonly ring: number;
}

const MOST_RINGS = 2 ** 26;

function pairKey(one: number, two: number): number {
  return Math.min(one, two) * MOST_RINGS + Math.max(one, two);
}

function keepLeast<K, W extends Web>(webs: Map<K, W>, key: K, web: W): void {
  const known = webs.get(key);
  if (known === undefined || order(web, known) < 0) webs.set(key, web);
}

/** Keeps a point where the line leaves the direction in which it set out by more than the dust. */
function withoutDust(ring: Ring, dust: number): Ring {
  const [first, second] = ring;
  if (first === undefined || second === undefined) return ring;
  const kept = [first];
  let [from, towards, last] = [first, second, second];
  for (const point of ring.slice(2)) {
    const [dx, dy] = [towards.x - from.x, towards.y - from.y];
    const [px, py] = [point.x - last.x, point.y - last.y];
    const across = Math.abs(dx * (point.y - from.y) - dy * (point.x - from.x));
    if (across > dust * Math.sqrt(dx * dx + dy * dy) || dx * px + dy * py <= 0) {
      kept.push(last);
      [from, towards] = [last, point];
    }
    last = point;
  }
  kept.push(last);
  return kept;
}

interface Side {
  readonly a: Point;
  readonly b: Point;
}

interface RingSide extends Side {
  readonly ring: number;
  /** Along the ring from its first point, mm. */
  readonly along: number;
  readonly length: number;
  /** Of the whole ring. */
  readonly perimeter: number;
}

/** Where sides lie along their rings. */
class SideMeasures {
  readonly #sides: RingSides;
  readonly #along: Float64Array;
  readonly #perimeters: number[] = [];

  constructor(sides: RingSides) {
    this.#sides = sides;
    this.#along = new Float64Array(sides.count);
    for (const [side, ring] of sides.ring.entries()) {
      const before = this.#perimeters[ring] ?? 0;
      this.#along[side] = before;
      this.#perimeters[ring] = before + this.#length(side);
    }
  }

  side(side: number): RingSide {
    const { x, y, next, ring } = this.#sides;
    const [end, own] = [next[side] ?? 0, ring[side] ?? 0];
    return {
      a: { x: x[side] ?? 0, y: y[side] ?? 0 },
      b: { x: x[end] ?? 0, y: y[end] ?? 0 },
      ring: own,
      along: this.#along[side] ?? 0,
      length: this.#length(side),
      perimeter: this.#perimeters[own] ?? 0,
    };
  }

  #length(side: number): number {
    const { x, y, next } = this.#sides;
    const end = next[side] ?? 0;
    return Math.hypot((x[end] ?? 0) - (x[side] ?? 0), (y[end] ?? 0) - (y[side] ?? 0));
  }
}

/** The sides of a web run against each other, each with some of the other on its left. */
function mayFace({ x, y, next }: RingSides, one: number, two: number): boolean {
  const [oneEnd, twoEnd] = [next[one] ?? 0, next[two] ?? 0];
  const [ax, ay, bx, by] = [x[one] ?? 0, y[one] ?? 0, x[oneEnd] ?? 0, y[oneEnd] ?? 0];
  const [cx, cy, dx, dy] = [x[two] ?? 0, y[two] ?? 0, x[twoEnd] ?? 0, y[twoEnd] ?? 0];
  const [ux, uy, vx, vy] = [bx - ax, by - ay, dx - cx, dy - cy];
  if (ux * vx + uy * vy >= 0) return false;
  const isLeft = ux * (cy - ay) - uy * (cx - ax) > 0 || ux * (dy - ay) - uy * (dx - ax) > 0;
  return isLeft && (vx * (ay - cy) - vy * (ax - cx) > 0 || vx * (by - cy) - vy * (bx - cx) > 0);
}

/** Of numbers squared, so that nothing is passed over that measures the same. */
const ROUNDING = 1e-9;

/** Between two sides that do not cross: most pairs are told apart by it, without a point made. */
function squaredGap({ x, y, next }: RingSides, one: number, two: number): number {
  const [oneEnd, twoEnd] = [next[one] ?? 0, next[two] ?? 0];
  const [ax, ay, bx, by] = [x[one] ?? 0, y[one] ?? 0, x[oneEnd] ?? 0, y[oneEnd] ?? 0];
  const [cx, cy, dx, dy] = [x[two] ?? 0, y[two] ?? 0, x[twoEnd] ?? 0, y[twoEnd] ?? 0];
  return Math.min(
    squaredToSide(ax, ay, cx, cy, dx, dy),
    squaredToSide(bx, by, cx, cy, dx, dy),
    squaredToSide(cx, cy, ax, ay, bx, by),
    squaredToSide(dx, dy, ax, ay, bx, by),
  );
}

/** From a point p to the side from a to b. */
function squaredToSide(
  px: number,
  py: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number {
  const [dx, dy] = [bx - ax, by - ay];
  const length = dx * dx + dy * dy;
  const along = length === 0 ? 0 : ((px - ax) * dx + (py - ay) * dy) / length;
  const share = Math.min(1, Math.max(0, along));
  const [x, y] = [ax + share * dx - px, ay + share * dy - py];
  return x * x + y * y;
}

/** Where two sides come nearest, if there is material between them. */
function webBetween(one: RingSide, two: RingSide, limit: number): Web | null {
  const [p, q] = nearestPoints(one, two);
  const width = distance(p, q);
  if (!(width < limit) || width === 0) return null;
  if (!faces(one, p, q) || !faces(two, q, p)) return null;
  if (one.ring === two.ring && isTip(one, two, p, q, width)) return null;
  return { widthMm: width, at: { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 } };
}

/** Whether a point lies on the side's left, where the material is. */
function faces({ a, b }: RingSide, from: Point, to: Point): boolean {
  return (b.x - a.x) * (to.y - from.y) - (b.y - a.y) * (to.x - from.x) > 0;
}

/** What sticks out less than this many widths is a corner or a stub. */
const STUB_WIDTHS = 6;
/** Sides nearer to parallel do not meet in a point. */
const LEAST_TIP_RAD = 0.05;
/** Tips are seldom straight; along one that is, the way round is cot(angle / 2) widths. */
const TIP_ALLOWANCE = 1.5;

function isTip(one: RingSide, two: RingSide, p: Point, q: Point, width: number): boolean {
  const between = Math.abs(one.along + distance(one.a, p) - two.along - distance(two.a, q));
  const wayRound = Math.min(between, one.perimeter - between);
  if (wayRound < STUB_WIDTHS * width) return true;
  const dot = (one.b.x - one.a.x) * (two.a.x - two.b.x) + (one.b.y - one.a.y) * (two.a.y - two.b.y);
  const angle = Math.acos(Math.min(1, Math.max(-1, dot / (one.length * two.length))));
  return angle > LEAST_TIP_RAD && wayRound < (TIP_ALLOWANCE * width) / Math.tan(angle / 2);
}

/** On two straight sides that do not cross: one of the four ends is always among them. */
function nearestPoints(one: Side, two: Side): readonly [Point, Point] {
  const pairs: readonly (readonly [Point, Point])[] = [
    [one.a, nearestOn(two, one.a)],
    [one.b, nearestOn(two, one.b)],
    [nearestOn(one, two.a), two.a],
    [nearestOn(one, two.b), two.b],
  ];
  return pairs.reduce((best, pair) => (squared(pair) < squared(best) ? pair : best));
}

function squared([p, q]: readonly [Point, Point]): number {
  return (q.x - p.x) ** 2 + (q.y - p.y) ** 2;
}

function nearestOn({ a, b }: Side, p: Point): Point {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const length = dx * dx + dy * dy;
  const along = length === 0 ? 0 : ((p.x - a.x) * dx + (p.y - a.y) * dy) / length;
  const share = Math.min(1, Math.max(0, along));
  return { x: a.x + share * dx, y: a.y + share * dy };
}

function order(a: Web, b: Web): number {
  return a.widthMm - b.widthMm || a.at.x - b.at.x || a.at.y - b.at.y;
}

/** Along one contour, narrow places nearer than this many limits are one web. */
const ONE_WEB_LIMITS = 10;

/** The narrowest place of each web. */
function apart(narrow: readonly Own[], limit: number): Web[] {
  const kept = new Map<number, Own[]>();
  for (const web of narrow) {
    const known = kept.get(web.ring);
    if (known === undefined) kept.set(web.ring, [web]);
    else if (known.every(({ at }) => distance(at, web.at) > ONE_WEB_LIMITS * limit))
      known.push(web);
  }
  return [...kept.values()].flat();
}

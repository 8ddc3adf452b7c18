import { arcPoint } from "../geometry/arc.ts";
import { legsOf } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import { add, cross, distance, distanceToLine, dot, scaled, subtract } from "../geometry/point.ts";
import type { Path, Point } from "../geometry/types.ts";

/** Where a sheet may stand in a part: notches open to the edge, and slots all inside. */

export interface Slot {
  /** Between the walls, at their narrowest, as drawn. */
  readonly widthMm: number;
  /** How far the walls face each other. */
  readonly lengthMm: number;
  /** The middle between the walls. */
  readonly at: Point;
  /** Whether it opens to the edge. */
  readonly open: boolean;
}

export interface Widths {
  readonly lowMm: number;
  readonly highMm: number;
}

/**
 * Pairs of straight walls that face each other across nothing, joined at one end (a notch) or both
 * (a slot) by a floor: straight, round, or with relieved corners. In the order of the contours.
 * @param contours closed; material lies to the left of each, as `PartGeometry` keeps them.
 */
export function slotsOf(contours: readonly Path[], { lowMm, highMm }: Widths): Slot[] {
  return contours.flatMap((contour) => {
    const legs = legsOf(contour);
    const walls = wallsOf(legs);
    const lengths = legs.map(chordLength);
    const found = new Map<string, Slot>();
    for (const [index, wall] of walls.entries())
      for (const other of followers(walls, index, lengths, FLOOR_WIDTHS * highMm)) {
        const slot = slotBetween(wall, other, legs, lowMm, highMm);
        if (slot === null) continue;
        const key = [wall.first, other.first].sort((a, b) => a - b).join(" ");
        // Met from either wall, it has a floor at both ends.
        found.set(key, found.has(key) ? { ...slot, open: false } : slot);
      }
    return lengthwise([...found.values()]);
  });
}

/** A hole with four walls is one slot, between the longer two of them. */
function lengthwise(slots: readonly Slot[]): readonly Slot[] {
  return slots.filter(
    (slot, index) =>
      !slots.some((other, at) => {
        const isLonger =
          other.lengthMm > slot.lengthMm || (other.lengthMm === slot.lengthMm && at < index);
        return isLonger && !slot.open && distance(slot.at, other.at) <= STRAIGHT_MM;
      }),
  );
}

/** A floor is as long as the slot is wide; half a circle, or relieved corners, make it longer. */
const FLOOR_WIDTHS = 3;

/** A wall much shorter than the sheet is thick holds nothing. */
const LEAST_LENGTH_WIDTHS = 0.8;

/** Walls further from parallel than this are no slot: a taper. */
const PARALLEL_RAD = (1.5 * Math.PI) / 180;

/** What drawing programs leave between lines that are meant to go straight on. */
const STRAIGHT_MM = 0.005;

/** One or more legs that go straight on. */
interface Wall {
  /** Indices of its legs; the last may be smaller, where it runs over the contour's start. */
  readonly first: number;
  readonly last: number;
  readonly from: Point;
  readonly to: Point;
}

function wallsOf(legs: readonly Leg[]): Wall[] {
  const walls: Wall[] = [];
  for (const [index, leg] of legs.entries()) {
    if (!isStraightLeg(leg)) continue;
    const wall = { first: index, last: index, from: leg.from, to: leg.segment.to };
    const before = walls.at(-1);
    if (before !== undefined && before.last === index - 1 && goesOn(before, wall))
      walls[walls.length - 1] = { ...before, last: index, to: wall.to };
    else walls.push(wall);
  }
  const [start, end] = [walls[0], walls.at(-1)];
  if (start === undefined || end === undefined || walls.length < 2) return walls;
  if (start.first !== 0 || end.last !== legs.length - 1 || !goesOn(end, start)) return walls;
  return [...walls.slice(1, -1), { ...end, last: start.last, to: start.to }];
}

function isStraightLeg({ from, segment }: Leg): boolean {
  if (segment.kind === "arc" || distance(from, segment.to) < STRAIGHT_MM) return false;
  if (segment.kind === "line") return true;
  return [segment.control1, segment.control2].every(
    (control) => distanceToLine(control, from, segment.to) <= STRAIGHT_MM,
  );
}

function goesOn(before: Wall, after: Wall): boolean {
  const ahead = dot(subtract(before.to, before.from), subtract(after.to, after.from)) > 0;
  return ahead && distanceToLine(before.to, before.from, after.to) <= STRAIGHT_MM;
}

function chordLength({ from, segment }: Leg): number {
  return distance(from, segment.to);
}

/** The walls that come after a wall along the contour, as far as a floor reaches. */
function* followers(
  walls: readonly Wall[],
  index: number,
  lengths: readonly number[],
  reachMm: number,
): Generator<Wall> {
  const wall = walls[index];
  if (wall === undefined) return;
  let between = 0;
  let leg = wall.last;
  for (let step = 1; step < walls.length; step++) {
    const next = walls[(index + step) % walls.length];
    if (next === undefined) return;
    for (leg = (leg + 1) % lengths.length; leg !== next.first; leg = (leg + 1) % lengths.length)
      between += lengths[leg] ?? 0;
    if (between > reachMm) return;
    yield next;
    between += distance(next.from, next.to);
    leg = next.last;
  }
}

function slotBetween(
  wall: Wall,
  other: Wall,
  legs: readonly Leg[],
  lowMm: number,
  highMm: number,
): Slot | null {
  const length = distance(wall.from, wall.to);
  const along = scaled(subtract(wall.to, wall.from), 1 / length);
  const otherAlong = subtract(other.to, other.from);
  if (dot(along, otherAlong) >= 0) return null;
  if (Math.abs(cross(along, otherAlong)) > Math.sin(PARALLEL_RAD) * distance(other.from, other.to))
    return null;
  // Material lies to the left, so what faces the wall across nothing lies to its right.
  const right = { x: along.y, y: -along.x };
  const place = (point: Point): Point => {
    const from = subtract(point, wall.from);
    return { x: dot(from, along), y: dot(from, right) };
  };
  const [near, far] = [place(other.to), place(other.from)];
  const [begin, end] = [Math.max(0, near.x), Math.min(length, far.x)];
  const across = (x: number): number =>
    near.y + ((x - near.x) / (far.x - near.x)) * (far.y - near.y);
  const widthMm = Math.min(across(begin), across(end));
  if (!(widthMm >= lowMm && widthMm <= highMm)) return null;
  if (end - begin < LEAST_LENGTH_WIDTHS * widthMm) return null;
  const floor = floorPoints(wall, other, legs).map(place);
  if (!isFloor(floor, end, widthMm)) return null;
  const [half, middle] = [(begin + end) / 2, across((begin + end) / 2) / 2];
  const at = add(wall.from, add(scaled(along, half), scaled(right, middle)));
  return { widthMm, lengthMm: end - begin, at, open: true };
}

/** Points of the contour between the end of a wall and the start of the next. */
function floorPoints(wall: Wall, other: Wall, legs: readonly Leg[]): Point[] {
  const points: Point[] = [wall.to];
  for (let index = (wall.last + 1) % legs.length; index !== other.first;) {
    const leg = legs[index];
    if (leg !== undefined) points.push(...legPoints(leg));
    index = (index + 1) % legs.length;
  }
  return points;
}

function legPoints({ from, segment }: Leg): Point[] {
  if (segment.kind === "line") return [segment.to];
  if (segment.kind === "arc") return [arcPoint(from, segment, 0.5), segment.to];
  return [segment.control1, segment.control2, segment.to];
}

/** Short, and all of it beyond the stretch where the walls face each other. */
function isFloor(points: readonly Point[], end: number, widthMm: number): boolean {
  let length = 0;
  for (const [index, point] of points.entries()) {
    if (point.x < end - 0.1 * widthMm) return false;
    const before = points[index - 1];
    if (before !== undefined) length += distance(before, point);
  }
  return length <= FLOOR_WIDTHS * widthMm;
}

import type { Random } from "../random.ts";
import type { World } from "./world.ts";

/** A place that a copy may be moved to, with what it would suffer there. */
interface Place {
  cost: number;
  readonly stance: number;
  readonly room: number;
  x: number;
  y: number;
}

/**
 * Moves a copy to the best of some places, its own among them: drawn by lot anywhere and around it,
 * and the best few of those improved step by step (sampling and coordinate descent as in Gardeyn,
 * Vanden Berghe and Wauters 2025, numbers our own).
 */
export function replace(world: World, copy: number, random: Random): void {
  const { stance, room, x, y } = world.at;
  const now: Place = {
    cost: world.cost(copy, stance[copy]!, x[copy]!, y[copy]!, Infinity),
    stance: stance[copy]!,
    room: room[copy]!,
    x: x[copy]!,
    y: y[copy]!,
  };
  const best = now.cost === 0 ? now : bestPlace(world, copy, now, random);
  world.lay(copy, best.stance, best.room, best.x, best.y);
}

const ANYWHERE = 20;
const AROUND = 40;
/** So many of the places drawn are improved. */
const KEPT = 3;
/** Shares of a copy's smaller side: how far around it places are drawn, and how long steps are. */
const REACH = 0.5;
const FIRST_STEP = 0.25;
const ROUGH_STEP = 0.02;
const LAST_STEP = 0.001;

function bestPlace(world: World, copy: number, now: Place, random: Random): Place {
  const { model } = world;
  const sizeMm = Math.min(
    model.maxX[now.stance]! - model.minX[now.stance]!,
    model.maxY[now.stance]! - model.minY[now.stance]!,
  );
  const kept = [now];
  for (let sample = 0; sample < ANYWHERE + AROUND && kept[0]!.cost > 0; sample++) {
    const reachMm = sample < ANYWHERE ? Infinity : sizeMm * REACH;
    draw(world, copy, now, reachMm, kept, sizeMm * ALIKE, random);
  }
  let best = kept[0]!;
  for (const place of kept) {
    if (best.cost === 0) return best;
    descend(world, copy, place, sizeMm * FIRST_STEP, sizeMm * ROUGH_STEP, random);
    if (place.cost < best.cost) best = place;
  }
  descend(world, copy, best, sizeMm * ROUGH_STEP, sizeMm * LAST_STEP, random);
  return best;
}

/** Places nearer than this share of a copy's smaller side are one. */
const ALIKE = 0.05;

/** Draws a place and keeps it if it is among the best. */
function draw(
  world: World,
  copy: number,
  now: Place,
  reachMm: number,
  kept: Place[],
  alikeMm: number,
  random: Random,
): void {
  const stances = world.model.stancesOf[world.forms[copy]!]!;
  const stance = stances[Math.trunc(random() * stances.length)]!;
  const room = reachMm === Infinity ? Math.trunc(random() * world.rooms.length) : now.room;
  const range = world.rangeOf(stance, room);
  const left = Math.max(range.left, now.x - reachMm);
  const right = Math.min(range.right, now.x + reachMm);
  const low = Math.max(range.low, now.y - reachMm);
  const high = Math.min(range.high, now.y + reachMm);
  if (left > right || low > high) return;
  const x = left + random() * (right - left);
  const y = low + random() * (high - low);
  const worst = kept.length < KEPT ? Infinity : kept.at(-1)!.cost;
  const cost = world.cost(copy, stance, x, y, worst);
  if (cost >= worst) return;
  const alike = kept.findIndex(
    (other) => other.stance === stance && Math.abs(other.x - x) + Math.abs(other.y - y) < alikeMm,
  );
  if (alike >= 0 && kept[alike]!.cost <= cost) return;
  if (alike >= 0) kept.splice(alike, 1);
  const rank = kept.findIndex((other) => other.cost > cost);
  kept.splice(rank < 0 ? kept.length : rank, 0, { cost, stance, room, x, y });
  if (kept.length > KEPT) kept.pop();
}

/** Steps along the axes and between them: longer after a gain, half as long without one. */
function descend(
  world: World,
  copy: number,
  place: Place,
  firstMm: number,
  lastMm: number,
  random: Random,
): void {
  const { left, right, low, high } = world.rangeOf(place.stance, place.room);
  let [stepX, stepY] = [firstMm, firstMm];
  while ((stepX > lastMm || stepY > lastMm) && place.cost > 0) {
    const way = Math.trunc(random() * 4);
    const dx = way === UPRIGHT ? 0 : stepX;
    const dy = way === LEVEL ? 0 : way === FALLING ? -stepY : stepY;
    let gain = false;
    for (let sign = 1; sign >= -1 && !gain; sign -= 2) {
      const x = Math.min(right, Math.max(left, place.x + sign * dx));
      const y = Math.min(high, Math.max(low, place.y + sign * dy));
      const cost = world.cost(copy, place.stance, x, y, place.cost);
      if (cost >= place.cost) continue;
      place.cost = cost;
      place.x = x;
      place.y = y;
      gain = true;
    }
    const factor = gain ? LONGER : SHORTER;
    if (way === LEVEL) stepX *= factor;
    else if (way === UPRIGHT) stepY *= factor;
    else {
      stepX *= Math.sqrt(factor);
      stepY *= Math.sqrt(factor);
    }
  }
}

/** Ways to step; the fourth rises. */
const LEVEL = 0;
const UPRIGHT = 1;
const FALLING = 3;
const LONGER = 1.1;
const SHORTER = 0.5;

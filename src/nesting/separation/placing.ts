import type { Random } from "../../random.ts";
import { Nearby } from "./nearby.ts";
import type { World } from "./world.ts";

/** A place that a copy may be moved to, with what it would suffer there. */
interface Place {
  cost: number;
  readonly stance: number;
  readonly room: number;
  x: number;
  y: number;
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
/** Places nearer than this share of a copy's smaller side are one. */
const ALIKE = 0.05;
/** Steps before what is near is gathered anew. */
const STEPS_COVERED = 2;

/**
 * Moves copies to the best of some places, their own among them: drawn by lot anywhere and around
 * them, and the best few of those improved step by step (sampling and coordinate descent as in
 * Gardeyn, Vanden Berghe and Wauters 2025, numbers our own).
 */
export class Placer {
  readonly #world: World;
  readonly #random: Random;
  /** Around the copy, by the place of the stance among those of its form. */
  readonly #around: readonly Nearby[];
  /** Around a place that is being improved. */
  readonly #beside: Nearby;
  /** The best places drawn, the best first. */
  #kept: Place[] = [];

  constructor(world: World, random: Random) {
    this.#world = world;
    this.#random = random;
    const stances = Math.max(...world.model.stancesOf.map(({ length }) => length));
    this.#around = Array.from({ length: stances }, () => new Nearby(world));
    this.#beside = new Nearby(world);
  }

  replace(copy: number): void {
    const world = this.#world;
    const { stance, room, x, y } = world.at;
    const now: Place = {
      cost: world.cost(copy, stance[copy]!, x[copy]!, y[copy]!, Infinity),
      stance: stance[copy]!,
      room: room[copy]!,
      x: x[copy]!,
      y: y[copy]!,
    };
    const best = now.cost === 0 ? now : this.#best(copy, now);
    world.lay(copy, best.stance, best.room, best.x, best.y);
  }

  #best(copy: number, now: Place): Place {
    const { model } = this.#world;
    const sizeMm = Math.min(
      model.maxX[now.stance]! - model.minX[now.stance]!,
      model.maxY[now.stance]! - model.minY[now.stance]!,
    );
    for (const nearby of this.#around) nearby.clear();
    this.#kept = [now];
    for (let sample = 0; sample < ANYWHERE + AROUND && this.#kept[0]!.cost > 0; sample++) {
      if (sample >= AROUND) this.#drawAnywhere(copy, sizeMm);
      else this.#drawAround(copy, now, sizeMm);
    }
    let best = this.#kept[0]!;
    for (const place of this.#kept) {
      if (best.cost === 0) return best;
      this.#descend(copy, place, sizeMm * FIRST_STEP, sizeMm * ROUGH_STEP);
      if (place.cost < best.cost) best = place;
    }
    this.#descend(copy, best, sizeMm * ROUGH_STEP, sizeMm * LAST_STEP);
    return best;
  }

  #drawAnywhere(copy: number, sizeMm: number): void {
    const world = this.#world;
    const random = this.#random;
    const stances = world.model.stancesOf[world.forms[copy]!]!;
    const stance = stances[Math.trunc(random() * stances.length)]!;
    const room = Math.trunc(random() * world.rooms.length);
    const { left, right, low, high } = world.rangeOf(stance, room);
    if (left > right || low > high) return;
    const x = left + random() * (right - left);
    const y = low + random() * (high - low);
    const worst = this.#worst();
    const cost = world.cost(copy, stance, x, y, worst);
    if (cost < worst) this.#keep({ cost, stance, room, x, y }, sizeMm * ALIKE);
  }

  #drawAround(copy: number, now: Place, sizeMm: number): void {
    const world = this.#world;
    const random = this.#random;
    const stances = world.model.stancesOf[world.forms[copy]!]!;
    const number = Math.trunc(random() * stances.length);
    const stance = stances[number]!;
    const range = world.rangeOf(stance, now.room);
    const reachMm = sizeMm * REACH;
    const left = Math.max(range.left, now.x - reachMm);
    const right = Math.min(range.right, now.x + reachMm);
    const low = Math.max(range.low, now.y - reachMm);
    const high = Math.min(range.high, now.y + reachMm);
    if (left > right || low > high) return;
    const x = left + random() * (right - left);
    const y = low + random() * (high - low);
    const nearby = this.#around[number]!;
    if (!nearby.covers(x, y)) nearby.gather(copy, stance, now.x, now.y, reachMm);
    const worst = this.#worst();
    const cost = nearby.cost(x, y, worst);
    if (cost < worst) this.#keep({ cost, stance, room: now.room, x, y }, sizeMm * ALIKE);
  }

  #worst(): number {
    return this.#kept.length < KEPT ? Infinity : this.#kept.at(-1)!.cost;
  }

  #keep(place: Place, alikeMm: number): void {
    const kept = this.#kept;
    const { cost, stance, x, y } = place;
    const alike = kept.findIndex(
      (other) => other.stance === stance && Math.abs(other.x - x) + Math.abs(other.y - y) < alikeMm,
    );
    if (alike >= 0 && kept[alike]!.cost <= cost) return;
    if (alike >= 0) kept.splice(alike, 1);
    const rank = kept.findIndex((other) => other.cost > cost);
    kept.splice(rank < 0 ? kept.length : rank, 0, place);
    if (kept.length > KEPT) kept.pop();
  }

  /** Steps along the axes and between them: longer after a gain, half as long without one. */
  #descend(copy: number, place: Place, firstMm: number, lastMm: number): void {
    const random = this.#random;
    const nearby = this.#beside;
    const { left, right, low, high } = this.#world.rangeOf(place.stance, place.room);
    nearby.clear();
    let [stepX, stepY] = [firstMm, firstMm];
    while ((stepX > lastMm || stepY > lastMm) && place.cost > 0) {
      const way = Math.trunc(random() * 4);
      const dx = way === UPRIGHT ? 0 : stepX;
      const dy = way === LEVEL ? 0 : way === FALLING ? -stepY : stepY;
      let gain = false;
      for (let sign = 1; sign >= -1 && !gain; sign -= 2) {
        const x = Math.min(right, Math.max(left, place.x + sign * dx));
        const y = Math.min(high, Math.max(low, place.y + sign * dy));
        if (!nearby.covers(x, y))
          nearby.gather(
            copy,
            place.stance,
            place.x,
            place.y,
            STEPS_COVERED * Math.max(stepX, stepY),
          );
        const cost = nearby.cost(x, y, place.cost);
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
}

/** Ways to step; the fourth rises. */
const LEVEL = 0;
const UPRIGHT = 1;
const FALLING = 3;
const LONGER = 1.1;
const SHORTER = 0.5;

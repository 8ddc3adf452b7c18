import type { Random } from "../../random.ts";
import { Pool, rehouse, swapTwo } from "./disturb.ts";
import type { Layout, Room } from "./layout.ts";
import { relax } from "./relax.ts";
import { separate, type Patience } from "./separate.ts";
import type { World } from "./world.ts";

/**
 * Lowers the top of one room again and again: each time it comes apart it is squeezed and the next
 * top is lower still. Yields null after every sweep, and each new layout, in which nothing overlaps
 * and `rooms` of the world are as low as it allows. Ends when a copy fits no room any more.
 *
 * @param world in which nothing overlaps.
 */
export function* shorten(
  world: World,
  room: number,
  slackMm: number,
  random: Random,
): Generator<Layout | null, void, void> {
  let best = world.at.copy();
  settleTop(world, room);
  let topped = world.rooms;
  let share = FIRST_SHARE;
  let pool: Pool | null = null;
  for (let attempt = 0; ; attempt++) {
    const fresh = pool === null || attempt % FRESH_EVERY === 0;
    const start: Layout | null = fresh ? null : pool!.draw(random);
    if (start === null) {
      world.rooms = topped;
      world.layAll(best);
      if (!lower(world, room, share, random) && !rehouse(world, random)) return;
    } else {
      world.layAll(start);
      swapTwo(world, random);
    }
    const parting = separate(world, PATIENCE, slackMm, random);
    let turn = parting.next();
    for (; turn.done !== true; turn = parting.next()) yield null;
    if (turn.value) {
      squeeze(world, room, random);
      best = world.at.copy();
      topped = world.rooms;
      pool = null;
      yield best;
      if (isEmpty(world, room)) return;
    } else if (share > LEAST_SHARE) share = Math.max(LEAST_SHARE, share / 2);
    else (pool ??= new Pool()).add(world.at.copy(), world.total());
  }
}

const PATIENCE: Patience = { sweeps: 100, strikes: 2 };
/** How much lower a room is made at a time, as a share of its height. */
const FIRST_SHARE = 0.01;
const LEAST_SHARE = 0.001;
/** Every so many attempts begin with the best layout. */
const FRESH_EVERY = 4;

/** Lowers a room; copies above a cut drawn by lot move down with its top. Whether all still fit it. */
function lower(world: World, room: number, share: number, random: Random): boolean {
  const { minY, maxY } = world.rooms[room]!;
  const byMm = share * (maxY - minY);
  const cut = minY + random() * (maxY - minY - byMm);
  world.rooms = withTop(world.rooms, room, maxY - byMm);
  let fit = true;
  for (let copy = 0; copy < world.count; copy++) {
    if (world.at.room[copy] !== room) continue;
    const stance = world.at.stance[copy]!;
    const middle = (world.model.minY[stance]! + world.model.maxY[stance]!) / 2;
    world.push(copy, 0, world.at.y[copy]! + middle > cut ? -byMm : 0);
    const { low, high } = world.rangeOf(stance, room);
    fit &&= low <= high;
  }
  return fit;
}

/** Lowers by less and less as long as pushing small overlaps apart is enough. */
function squeeze(world: World, room: number, random: Random): void {
  settleTop(world, room);
  for (let share = FIRST_SQUEEZE; share > LAST_SQUEEZE && !isEmpty(world, room);) {
    const [before, rooms] = [world.at.copy(), world.rooms];
    if (lower(world, room, share, random) && relax(world, SQUEEZE_ROUNDS)) settleTop(world, room);
    else {
      world.rooms = rooms;
      world.layAll(before);
      share /= 2;
    }
  }
}

const FIRST_SQUEEZE = 0.002;
const LAST_SQUEEZE = 1e-5;
const SQUEEZE_ROUNDS = 100;

/** Down to what lies in the room. */
function settleTop(world: World, room: number): void {
  let top = world.rooms[room]!.minY;
  for (let copy = 0; copy < world.count; copy++) {
    if (world.at.room[copy] !== room) continue;
    top = Math.max(top, world.at.y[copy]! + world.model.maxY[world.at.stance[copy]!]!);
  }
  world.rooms = withTop(world.rooms, room, Math.min(top, world.rooms[room]!.maxY));
}

export function isEmpty({ at }: World, room: number): boolean {
  return !at.room.includes(room);
}

function withTop(rooms: readonly Room[], lowered: number, maxY: number): readonly Room[] {
  return rooms.map((room, index) => (index === lowered ? { ...room, maxY } : room));
}

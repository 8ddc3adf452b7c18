import type { Random } from "../../random.ts";
import { Pool, rehouse, swapTwo } from "./disturb.ts";
import { separate, type Patience } from "./separate.ts";
import type { World } from "./world.ts";

/**
 * Tries to do without the last room: its copies go anywhere in the others, and all are moved until
 * none overlaps. Yields after every sweep; returns whether it was done, for ever trying.
 */
export function* doWithout(
  world: World,
  slackMm: number,
  random: Random,
): Generator<void, boolean, void> {
  world.rooms = world.rooms.slice(0, -1);
  return yield* settle(world, slackMm, random);
}

/**
 * Brings copies without a room to one by lot, and moves all until none overlaps, for ever trying; false
 * where one fits no room. Yields after every sweep.
 */
export function* settle(
  world: World,
  slackMm: number,
  random: Random,
): Generator<void, boolean, void> {
  if (!rehouse(world, random)) return false;
  const pool = new Pool();
  while (!(yield* separate(world, PATIENCE, slackMm, random))) {
    pool.add(world.at.copy(), world.total());
    world.layAll(pool.draw(random)!);
    swapTwo(world, random);
    yield;
  }
  return true;
}

const PATIENCE: Patience = { sweeps: 100, strikes: 3 };

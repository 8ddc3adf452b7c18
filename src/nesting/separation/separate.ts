import type { Random } from "../../random.ts";
import { Placer } from "./placing.ts";
import { relax } from "./relax.ts";
import type { World } from "./world.ts";

/** When to give up. */
export interface Patience {
  /** Sweeps without a gain before a strike. */
  readonly sweeps: number;
  readonly strikes: number;
}

/**
 * Moves copies until none overlaps: sweeps over all that do, with weights that grow where overlaps
 * stay (guided local search as in Umetani et al. 2009, the loop as in Gardeyn, Vanden Berghe and
 * Wauters 2025). Small overlaps are left to {@link relax}. Yields after every sweep. Returns false,
 * with the best it had, when its patience ends.
 */
export function* separate(
  world: World,
  { sweeps, strikes }: Patience,
  slackMm: number,
  random: Random,
): Generator<void, boolean, void> {
  world.slackMm = slackMm;
  world.forgetWeights();
  if (relax(world, FIRST_ROUNDS)) return true;
  const placer = new Placer(world, random);
  const best = world.at.copy();
  let least = world.total();
  for (let strike = 0; strike < strikes; strike++) {
    const before = least;
    for (let idle = 0; idle < sweeps; idle++) {
      sweep(world, placer, random);
      const total = world.reweigh();
      if (total === 0) {
        if (relax(world, ROUNDS)) return true;
        world.slackMm /= 2;
        least = world.total();
        best.take(world.at);
      } else if (total < least) {
        if (total < least * GAIN) idle = -1;
        least = total;
        best.take(world.at);
      }
      yield;
    }
    world.layAll(best);
    if (least < before * GAIN) strike = -1;
  }
  return false;
}

const FIRST_ROUNDS = 60;
const ROUNDS = 200;
/** Down to this share of the least overlap so far it counts as a gain. */
const GAIN = 0.98;

function sweep(world: World, placer: Placer, random: Random): void {
  const hit: number[] = [];
  for (let copy = 0; copy < world.count; copy++) if (world.overlapsAny(copy)) hit.push(copy);
  for (let last = hit.length - 1; last > 0; last--) {
    const other = Math.trunc(random() * (last + 1));
    [hit[last], hit[other]] = [hit[other]!, hit[last]!];
  }
  for (const copy of hit) placer.replace(copy);
}

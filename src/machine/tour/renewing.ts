import type { Random } from "../../random.ts";
import type { Chain } from "./chain.ts";

/**
 * Makes a tour shorter by taking out a few runs of stops that lie near each other, and putting each
 * stop back where it costs least: ruin and recreate, with the strings of J. Christiaens and
 * G. Vanden Berghe, "Slack induction by string removals", Transportation Science 54 (2020). A tour
 * may become a little longer at first, less and less so (simulated annealing).
 */
export function renew(
  chain: Chain,
  neighbours: readonly Int32Array[],
  rounds: number,
  random: Random,
): void {
  let [best, bestMm] = [chain.order(), chain.lengthMm];
  const start = (START_SHARE * bestMm) / best.length;
  chain.keep();
  let keptMm = chain.lengthMm;
  for (let round = 0; round < rounds; round += 1) {
    renewSome(chain, neighbours, random);
    const longer = start * (1 - round / rounds) ** 2 * -Math.log(1 - random());
    if (chain.lengthMm >= keptMm + longer) {
      chain.goBack();
      continue;
    }
    chain.keep();
    keptMm = chain.lengthMm;
    if (keptMm < bestMm - LEAST_GAIN_MM) [best, bestMm] = [chain.order(), keptMm];
  }
  chain.become(best);
}

/** Gains below this, mm, are dust. */
const LEAST_GAIN_MM = 1e-6;

/** How much longer a tour may become in the first rounds, as a share of its mean way between stops. */
const START_SHARE = 1.5;

/** Found by trial on the sheets of `bench:travel`, as the other numbers here. */
const MOST_REMOVED = 30;
const LONGEST_RUN = 12;

function renewSome(chain: Chain, neighbours: readonly Int32Array[], random: Random): void {
  const removed = takeRuns(chain, neighbours, random);
  shuffle(removed, random);
  for (const stop of removed) chain.put(stop, neighbours[stop]!);
  for (const stop of removed) {
    for (const beside of [stop, chain.last(stop), chain.next(stop), stop])
      if (chain.isStop(beside)) chain.reenter(beside);
  }
}

/** Runs around a stop and around its neighbours, until there are enough. */
function takeRuns(chain: Chain, neighbours: readonly Int32Array[], random: Random): number[] {
  const stops = neighbours.length - 2;
  const wanted = Math.min(stops, 2 + upTo(MOST_REMOVED - 1, random));
  const seed = upTo(stops, random);
  const removed: number[] = [];
  for (const beside of [seed, ...neighbours[seed]!]) {
    if (removed.length >= wanted) break;
    if (!chain.isStop(beside) || !chain.has(beside)) continue;
    const length = 1 + upTo(Math.min(LONGEST_RUN, wanted - removed.length), random);
    let stop = beside;
    for (let back = upTo(length, random); back > 0 && chain.isStop(chain.last(stop)); back -= 1)
      stop = chain.last(stop);
    for (let taken = 0; taken < length && chain.isStop(stop); taken += 1) {
      const next = chain.next(stop);
      chain.take(stop);
      removed.push(stop);
      stop = next;
    }
  }
  return removed;
}

/** A whole number from 0 up to, but not including, the count. */
function upTo(count: number, random: Random): number {
  return Math.floor(random() * count);
}

function shuffle(stops: number[], random: Random): void {
  for (let place = stops.length - 1; place > 0; place -= 1) {
    const other = upTo(place + 1, random);
    [stops[place], stops[other]] = [stops[other]!, stops[place]!];
  }
}

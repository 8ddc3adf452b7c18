import { describe, expect, it } from "vitest";
import { nestGroups } from "../../src/stages/nest.ts";
import { stockGroups } from "../../src/stages/stock-groups.ts";
import { readInput } from "../../src/stages/read.ts";
import { drain } from "../helpers/drain.ts";
import { SMALL } from "../helpers/job.ts";

/** Several stocks nested side by side: what is told on the way, and what an early end leaves. */

const { read } = readInput(SMALL, "nest");
const groups = stockGroups(read, read.machine);
const { pieces } = read.job;
const start = (steps: number) => nestGroups(groups, pieces, { seed: 1, steps });
/** Units of a round: each copy once on each size of its stock, and once more for mixing them. */
const round = groups.reduce(
  (sum, { parts, rows }) =>
    sum + (rows.length + 1) * parts.reduce((count, { part }) => count + part.quantity * pieces, 0),
  0,
);

describe("nesting several stocks", () => {
  it("has more than one stock and several copies", () => {
    expect(groups.length).toBeGreaterThan(1);
    expect(round).toBeGreaterThan(20);
  });

  it("tells its way in copies, never falling, with one best a whole round", () => {
    const work = start(3);
    const bests = new Set<unknown>();
    let [before, reports] = [0, 0];
    for (let turn = work.next(); turn.done !== true; turn = work.next()) {
      const { done, of, best } = turn.value;
      expect(of).toBe(3 * round);
      expect(done).toBeGreaterThanOrEqual(before);
      expect(best?.[0]?.outcome.steps ?? 0).toBe(Math.floor(done / round));
      expect(new Set(best?.map(({ outcome }) => outcome.steps)).size).toBeLessThan(2);
      if (best !== null) bests.add(best);
      before = done;
      reports++;
    }
    expect(before).toBe(3 * round);
    expect(bests.size).toBe(3);
    expect(reports).toBeGreaterThan(round);
  });

  it.each([0, 1, round - 1, round, round + 1, 2 * round - 1, 2 * round, 2 * round + 1])(
    "ended at %i copies it is the same as that many whole rounds for every stock",
    (copies) => {
      let told = 0;
      const stopped = drain(start(5), ({ done }) => (told = done) >= copies);
      const rounds = Math.max(1, Math.floor(told / round));
      expect(stopped.map(({ outcome }) => outcome.steps)).toEqual(groups.map(() => rounds));
      expect(stopped).toEqual(drain(start(rounds)));
    },
  );

  it("keeps a word to end that came within the first round", () => {
    const work = start(5);
    work.next();
    let turn = work.next(true);
    while (turn.done !== true) turn = work.next(false);
    expect(turn.value).toEqual(drain(start(1)));
  });

  it("goes on where no size of a stock can be had", () => {
    const bare = groups.map((group, index) => (index === 0 ? group : { ...group, rows: [] }));
    const work = nestGroups(bare, pieces, { seed: 1, steps: 2 });
    const nested = drain(work);
    expect(nested.map(({ outcome }) => outcome.steps)).toEqual([2, ...bare.slice(1).map(() => 0)]);
    expect(drain(nestGroups([], pieces, { seed: 1, steps: 2 }))).toEqual([]);
  });
});

import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { planCuts, type Bar, type LengthWanted } from "../../src/nesting/saw-plan.ts";

function bar(lengthMm: number, more: Partial<Bar> = {}): Bar {
  const id = `bar ${lengthMm}`;
  return { id, lengthMm, price: new Amount(1), sawKerfMm: 0, endTrimMm: 0, ...more };
}

function wanted(...pairs: readonly (readonly [number, number])[]): readonly LengthWanted[] {
  return pairs.map(([lengthMm, count]) => ({ name: `of ${lengthMm}`, lengthMm, count }));
}

/** Says what is wrong with a plan, from the rule of kerfs as trade facts 5.2 word it. */
function faults(lengths: readonly LengthWanted[], on: Bar, plan: ReturnType<typeof planCuts>) {
  const found: string[] = [];
  for (const pieces of plan?.bars ?? []) {
    const sum = pieces.reduce((total, { lengthMm }) => total + lengthMm, 0);
    const room = on.lengthMm - on.endTrimMm - sum;
    const kerfs = (count: number) => count * on.sawKerfMm;
    if (room < kerfs(pieces.length - 1) - 1e-6) found.push(`${sum} out of ${on.lengthMm}`);
  }
  for (const { name, count } of lengths) {
    const sawn = plan?.bars.flat().filter((each) => each.name === name).length;
    if (sawn !== count) found.push(`${sawn} ${name} instead of ${count}`);
  }
  return found;
}

describe("a saw plan", () => {
  it("needs 453 bars for Chvatal's example (Linear Programming, chapter 13) and proves it", () => {
    const lengths = wanted([45, 97], [36, 610], [31, 395], [14, 211]);
    const plan = planCuts(lengths, [bar(100)]);
    expect(plan).toMatchObject({ barsBound: 453, optimal: true, tooLong: [] });
    expect(plan?.bars).toHaveLength(453);
    expect(faults(lengths, bar(100), plan)).toEqual([]);
  });

  it("needs 73 rolls for the 5600 mm paper mill (encyclopaedia, cutting stock problem)", () => {
    const widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200];
    const demand = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20];
    const lengths = wanted(...widths.map((width, i) => [width, demand[i]!] as const));
    const plan = planCuts(lengths, [bar(5600)]);
    expect(plan).toMatchObject({ barsBound: 73, optimal: true });
    expect(faults(lengths, bar(5600), plan)).toEqual([]);
  });

  it("needs 47 rolls of 110 where the relaxation has 46.25 (Gilmore-Gomory example, textbook data)", () => {
    const lengths = wanted([20, 48], [45, 35], [50, 24], [55, 10], [75, 8]);
    const plan = planCuts(lengths, [bar(110)]);
    expect(plan).toMatchObject({ barsBound: 47, optimal: true });
  });

  it("needs no cut after a piece that ends with the bar (trade facts C7, derived)", () => {
    expect(planCuts(wanted([330, 3]), [bar(1000, { sawKerfMm: 3 })])?.bars).toHaveLength(1);
    expect(planCuts(wanted([250, 4]), [bar(1000, { sawKerfMm: 2 })])?.bars).toHaveLength(2);
    // 4 x 250 with three cuts of 2 mm is 1006 mm: with 6 mm more in the bar it is one bar.
    expect(planCuts(wanted([250, 4]), [bar(1006, { sawKerfMm: 2 })])?.bars).toHaveLength(1);
    const trimmed = bar(1010, { sawKerfMm: 2, endTrimMm: 5 });
    expect(planCuts(wanted([250, 4]), [trimmed])?.bars).toHaveLength(2);
  });

  it("chooses the stocked length that costs least, and says what is too long for all", () => {
    const bars = [
      bar(1000, { price: new Amount("4.00") }),
      bar(2000, { price: new Amount("7.00") }),
      bar(3000, { price: new Amount("11.00") }),
    ];
    const plan = planCuts(wanted([900, 2], [3100, 1]), bars);
    expect(plan?.bar.id).toBe("bar 2000");
    expect(plan?.cost.toString()).toBe("7");
    expect(plan?.tooLong).toEqual(wanted([3100, 1]));
    expect(planCuts(wanted([1100, 1], [900, 1]), bars)?.bar.id).toBe("bar 2000");
    expect(planCuts(wanted([900, 1]), [])).toBeNull();
    expect(planCuts([], bars)?.bars).toEqual([]);
  });

  it("keeps names apart that share a length", () => {
    const lengths = [
      { name: "post", lengthMm: 400, count: 2 },
      { name: "rail", lengthMm: 400, count: 1 },
    ];
    const plan = planCuts(lengths, [bar(1200)]);
    expect(plan?.bars.map((pieces) => pieces.map(({ name }) => name))).toEqual([
      ["post", "post", "rail"],
    ]);
  });

  it("is right by exhaustive search for few pieces, and its bound never above the truth", () => {
    let judged = 0;
    let proved = 0;
    const length = fc.integer({ min: 10, max: 100 });
    fc.assert(
      fc.property(
        fc.array(length, { minLength: 1, maxLength: 7 }),
        fc.integer({ min: 0, max: 5 }),
        (each, sawKerfMm) => {
          const on = bar(100, { sawKerfMm });
          const lengths = each.map((lengthMm, i) => ({ name: `piece ${i}`, lengthMm, count: 1 }));
          const plan = planCuts(lengths, [on])!;
          const truth = fewestByTrial(each, 100, sawKerfMm);
          expect(faults(lengths, on, plan)).toEqual([]);
          expect(plan.bars.length).toBe(truth);
          expect(plan.barsBound).toBeLessThanOrEqual(truth);
          judged++;
          if (plan.optimal) proved++;
        },
      ),
      { seed: 20, numRuns: 300 },
    );
    expect(judged).toBe(300);
    expect(proved).toBeGreaterThan(290);
  });

  it("is at most one bar above its bound on larger lists", () => {
    let judged = 0;
    const list = fc.array(
      fc.record({
        lengthMm: fc.integer({ min: 80, max: 2200 }),
        count: fc.integer({ min: 1, max: 9 }),
      }),
      { minLength: 8, maxLength: 16 },
    );
    fc.assert(
      fc.property(list, (rows) => {
        const lengths = rows.map((row, i) => ({ ...row, name: `row ${i}` }));
        const on = bar(2500, { sawKerfMm: 3.2 });
        const plan = planCuts(lengths, [on])!;
        expect(faults(lengths, on, plan)).toEqual([]);
        expect(plan.bars.length).toBeGreaterThanOrEqual(plan.barsBound);
        expect(plan.bars.length - plan.barsBound).toBeLessThanOrEqual(1);
        judged++;
      }),
      { seed: 21, numRuns: 40 },
    );
    expect(judged).toBe(40);
  });
});

/** Every way to share the pieces among bars. */
function fewestByTrial(lengths: readonly number[], barMm: number, kerfMm: number): number {
  let fewest = lengths.length;
  const rooms: number[] = [];
  const lay = (index: number): void => {
    if (rooms.length >= fewest) return;
    const length = lengths[index];
    if (length === undefined) {
      fewest = rooms.length;
      return;
    }
    for (let at = 0; at < rooms.length; at++) {
      const room = rooms[at]!;
      if (room < length + kerfMm) continue;
      rooms[at] = room - length - kerfMm;
      lay(index + 1);
      rooms[at] = room;
    }
    rooms.push(barMm - length);
    lay(index + 1);
    rooms.pop();
  };
  lay(0);
  return fewest;
}

import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { setsBelow, type SizeOffered } from "../../src/nesting/sheet-sets.ts";

/** Oracle: every count of every size tried in turn, with the same question asked of each. */
function byTrial(
  sizes: readonly SizeOffered[],
  areas: readonly number[],
  limit: { readonly cost: Amount; readonly sheets: number },
): readonly string[] {
  const found: string[] = [];
  const all = areas.reduce((sum, area) => sum + area, 0);
  const each = (counts: readonly number[]): void => {
    if (counts.length < sizes.length) {
      for (let count = 0; count <= sizes[counts.length]!.most; count++) each([...counts, count]);
      return;
    }
    const sum = (of: (size: SizeOffered) => number): number =>
      sizes.reduce((total, size, index) => total + counts[index]! * of(size), 0);
    const sheets = sum(() => 1);
    const cost = sum(({ price }) => price.toNumber());
    const cheaper =
      cost < limit.cost.toNumber() || (cost === limit.cost.toNumber() && sheets < limit.sheets);
    // What goes on no more sizes than one shape does needs as much area on those.
    const held = areas.every((area, shape) => {
      if (area === 0) return true;
      const subset = areas.filter((_, other) =>
        sizes.every(({ fits }) => !fits[other] || fits[shape]),
      );
      const offered = sum(({ fits, areaMm2 }) => (fits[shape] ? areaMm2 : 0));
      return offered > 0 && offered >= subset.reduce((total, one) => total + one, 0);
    });
    if (sheets > 0 && cheaper && held && sum(({ areaMm2 }) => areaMm2) >= all)
      found.push(counts.join());
  };
  each([]);
  return found.sort();
}

describe("sets of sheets below a cost", () => {
  it("are all there are, but for those with more of a size than could ever be filled", () => {
    let [given, among] = [0, 0];
    const mostly = fc.integer({ min: 0, max: 3 }).map((one) => one > 0);
    const size = fc.record({
      price: fc.nat(6).map((price) => new Amount(price)),
      areaMm2: fc.integer({ min: 1, max: 9 }),
      most: fc.nat(3),
      fits: fc.tuple(mostly, mostly, mostly),
    });
    const area = fc.nat(4);
    const limit = fc.record({
      cost: fc.integer({ min: 1, max: 20 }).map((cost) => new Amount(cost)),
      sheets: fc.integer({ min: 1, max: 4 }),
    });
    fc.assert(
      fc.property(
        fc.array(size, { minLength: 1, maxLength: 3 }),
        fc.tuple(area, area, area),
        limit,
        (sizes, areas, below) => {
          fc.pre(areas.some((one) => one > 0));
          const expected = byTrial(sizes, areas, below);
          const sets = setsBelow(sizes, areas, below);
          const found = sets.map(({ counts }) => counts.join()).sort();
          expect(new Set(found).size).toBe(found.length);
          for (const one of found) expect(expected).toContain(one);
          const all = areas.reduce((sum, one) => sum + one, 0);
          for (const { counts, cost, sheets, fill } of sets) {
            const sum = (of: (offered: SizeOffered) => number): number =>
              sizes.reduce((total, offered, index) => total + counts[index]! * of(offered), 0);
            expect(cost.toNumber()).toBe(sum(({ price }) => price.toNumber()));
            expect(sheets).toBe(sum(() => 1));
            expect(fill).toBeCloseTo(all / sum(({ areaMm2 }) => areaMm2), 12);
          }
          const full = expected.filter((one) => {
            const counts = one.split(",").map(Number);
            const offered = counts.reduce((sum, count, i) => sum + count * sizes[i]!.areaMm2, 0);
            return all / offered > 0.3;
          });
          for (const one of full) expect(found).toContain(one);
          given += found.length;
          among += expected.length;
        },
      ),
      { seed: 6, numRuns: 400 },
    );
    expect(given).toBeGreaterThan(500);
    expect(given).toBeGreaterThan(among / 2);
  });
});

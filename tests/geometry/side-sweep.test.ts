import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RingSides } from "../../src/geometry/ring-sides.ts";
import { sweepPairs } from "../../src/geometry/side-sweep.ts";
import type { Ring } from "../../src/geometry/types.ts";

const coordinate = fc.oneof(
  fc.double({ min: -100, max: 100, noNaN: true }),
  fc.integer({ min: -3, max: 3 }),
);
const ring = fc.array(fc.record({ x: coordinate, y: coordinate }), { minLength: 1, maxLength: 9 });
const drawing = fc.record({
  rings: fc.array(ring, { minLength: 1, maxLength: 6 }),
  reach: fc.constantFrom(0, 0.5, 20),
  // Upright drawings are swept the other way.
  squeeze: fc.constantFrom(1, 0.01, 0),
});

/** Every pair of sides whose boxes, one of them grown by the reach, share a point. */
function allPairs(rings: readonly Ring[], reach: number): string[] {
  const boxes = rings.flatMap((points) =>
    points.map((a, index) => {
      const b = points[(index + 1) % points.length] ?? a;
      return {
        minX: Math.min(a.x, b.x),
        maxX: Math.max(a.x, b.x) + reach,
        minY: Math.min(a.y, b.y),
        maxY: Math.max(a.y, b.y) + reach,
      };
    }),
  );
  return boxes.flatMap((p, first) =>
    boxes.flatMap((q, second) =>
      first < second && p.minX <= q.maxX && q.minX <= p.maxX && p.minY <= q.maxY && q.minY <= p.maxY
        ? [`${first} ${second}`]
        : [],
    ),
  );
}

describe("pairs of sides that come near", () => {
  it("are those of all pairs tried in turn, each once", () => {
    let found = 0;
    fc.assert(
      fc.property(drawing, ({ rings, reach, squeeze }) => {
        const squeezed = rings.map((points) => points.map(({ x, y }) => ({ x: x * squeeze, y })));
        const pairs: string[] = [];
        sweepPairs(new RingSides(squeezed), reach, (p, q) => {
          pairs.push(`${Math.min(p, q)} ${Math.max(p, q)}`);
          return false;
        });
        expect(pairs.toSorted()).toEqual(allPairs(squeezed, reach).toSorted());
        found += pairs.length;
      }),
      { numRuns: 500, seed: 7 },
    );
    expect(found).toBeGreaterThan(20_000);
  });

  it("end when the visitor has seen enough", () => {
    const star = Array.from({ length: 50 }, (_, index) => ({ x: (index * 19) % 50, y: index % 7 }));
    let seen = 0;
    sweepPairs(new RingSides([star]), 0, () => ++seen === 3);
    expect(seen).toBe(3);
  });
});

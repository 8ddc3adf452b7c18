import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { leastTravelOf, orderedPaths, orderStops, stopsAsDrawn } from "../../src/machine/order.ts";
import type { WorkToOrder } from "../../src/machine/order.ts";
import type { OrderedPath, PlacedLines } from "../../src/machine/types.ts";
import { circlePath, polylinePath, reversePath } from "../../src/geometry/path.ts";
import { copyOf, corners, fingerprint, rectangle } from "./samples.ts";

const order = (lines: readonly PlacedLines[]): OrderedPath[] =>
  orderedPaths(orderStops(work(lines)));

const work = (lines: readonly PlacedLines[], lineIntervalMm = 0.1): WorkToOrder => ({
  lines,
  machine: { lineIntervalMm },
  commonCuts: "twice",
});

/** Place in the order of each contour, by what it is wherever it is begun. */
const places = (lines: readonly PlacedLines[]): ReadonlyMap<string, number> =>
  new Map(order(lines).map(({ path }, index) => [fingerprint(path), index]));

describe("orderStops", () => {
  it("engraves, then scores, then cuts, though the way is longer", () => {
    const lines = [
      copyOf("near", 1, rectangle(0, 0, 20, 20)),
      copyOf("far", 1, rectangle(200, 200, 20, 20), {
        scores: [rectangle(202, 202, 4, 4)],
        engravings: [rectangle(210, 210, 3, 3), rectangle(215, 210, 3, 3)],
      }),
    ];
    expect(order(lines).map(({ operation, part }) => `${operation} ${part}`)).toEqual([
      "engrave far",
      "engrave far",
      "score far",
      "cut far",
      "cut near",
    ]);
  });

  it("begins a closed contour at the corner nearest to the beam", () => {
    const [only] = order([copyOf("plate", 1, reversePath(rectangle(40, 30, 20, 10)))]);
    expect(corners(only!.path)).toEqual([
      { x: 40, y: 30 },
      { x: 40, y: 40 },
      { x: 60, y: 40 },
      { x: 60, y: 30 },
      { x: 40, y: 30 },
    ]);
  });

  it("begins an open line at its nearer end", () => {
    const line = polylinePath(
      [
        { x: 50, y: 5 },
        { x: 10, y: 5 },
      ],
      false,
    );
    const [score] = order([copyOf("plate", 1, rectangle(0, 0, 60, 10), { scores: [line] })]);
    expect(corners(score!.path)).toEqual([
      { x: 10, y: 5 },
      { x: 50, y: 5 },
    ]);
  });

  it("cuts what lies in a hole before the hole, and that before its outline", () => {
    // The inner disc lies furthest from 0,0 along the way; nearest-first alone would cut it last.
    const ring = copyOf("ring", 1, rectangle(0, 0, 100, 100), {
      holes: [rectangle(5, 5, 90, 90), circlePath({ x: 2.5, y: 2.5 }, 1)],
    });
    const inner = copyOf("inner", 1, circlePath({ x: 80, y: 80 }, 10), {
      holes: [circlePath({ x: 80, y: 80 }, 3)],
    });
    const beside = copyOf("beside", 1, rectangle(110, 0, 10, 10));
    const place = places([ring, inner, beside]);
    const at = (lines: PlacedLines["outline"]): number => place.get(fingerprint(lines))!;
    expect(at(inner.holes[0]!)).toBeLessThan(at(inner.outline));
    expect(at(inner.outline)).toBeLessThan(at(ring.holes[0]!));
    expect(at(ring.holes[0]!)).toBeLessThan(at(ring.outline));
    expect(at(ring.holes[1]!)).toBeLessThan(at(ring.outline));
  });

  // By hand: after an even number of lines the beam is back on the side where it began.
  it.each([
    [10, 0.5, { x: 20, y: 40 }],
    [10, 2, { x: 50, y: 40 }],
  ])(
    "leaves a block of %d mm in lines of %d mm at the end of its last line",
    (height, interval, leave) => {
      const engravings = [rectangle(20, 30, 30, height)];
      const plate = copyOf("plate", 1, rectangle(0, 0, 99, 99), { engravings });
      const [block] = orderStops(work([plate], interval));
      expect(block).toMatchObject({ enter: { x: 20, y: 30 }, leave });
    },
  );

  it("does not take a part in the crook of an outline or of a hole for one inside", () => {
    // An L-shaped hole whose box holds the post that the ring is whole around: no waiting there.
    const lShaped = polylinePath(
      [
        { x: 10, y: 10 },
        { x: 90, y: 10 },
        { x: 90, y: 30 },
        { x: 30, y: 30 },
        { x: 30, y: 90 },
        { x: 10, y: 90 },
      ],
      true,
    );
    const inCrook = copyOf("in crook", 1, rectangle(60, 60, 8, 8));
    const inHole = copyOf("in hole", 1, rectangle(70, 15, 8, 8));
    const lines = [
      copyOf("ell", 1, rectangle(0, 0, 95, 95), { holes: [lShaped] }),
      inCrook,
      inHole,
    ];
    const hole = orderStops(work(lines)).find(
      ({ paths }) => fingerprint(paths[0]!) === fingerprint(lShaped),
    );
    // Stops are numbered hole, outline of the ell, then the two small outlines.
    expect(hole!.stop.before).toEqual([3]);
  });

  it("goes copy by copy, each contour begun where it is drawn, where that is asked", () => {
    const far = copyOf("far", 1, rectangle(200, 200, 20, 20), {
      scores: [rectangle(205, 205, 4, 4)],
    });
    const near = copyOf("near", 1, reversePath(rectangle(0, 0, 20, 20)), {
      holes: [circlePath({ x: 10, y: 10 }, 2)],
    });
    const drawn = stopsAsDrawn(work([far, near]));
    expect(
      drawn.map(({ stop, enter, leave }) => [stop.operation, stop.part, enter, leave]),
    ).toEqual([
      ["score", "far", { x: 205, y: 205 }, { x: 205, y: 205 }],
      ["cut", "far", { x: 200, y: 200 }, { x: 200, y: 200 }],
      ["cut", "near", { x: 12, y: 10 }, { x: 12, y: 10 }],
      ["cut", "near", { x: 0, y: 0 }, { x: 0, y: 0 }],
    ]);
  });

  it("keeps inside before outside on crowded sheets, every contour once", () => {
    let judged = 0;
    fc.assert(
      fc.property(
        fc.array(fc.record({ holes: fc.integer({ min: 0, max: 4 }), nested: fc.boolean() }), {
          minLength: 2,
          maxLength: 20,
        }),
        fc.integer({ min: 1, max: 5 }),
        (cells, columns) => {
          const lines = cells.flatMap((cell, index) =>
            crowdedCell(index, (index % columns) * 60, Math.floor(index / columns) * 60, cell),
          );
          const place = places(lines);
          const travelMm = travelOf(lines);
          expect(leastTravelOf(work(lines), travelMm)).toBeLessThanOrEqual(travelMm + 1e-6);
          expect(place.size).toBe(lines.reduce((sum, { holes }) => sum + 1 + holes.length, 0));
          for (const { outline, holes } of lines)
            for (const hole of holes) {
              judged += 1;
              expect(place.get(fingerprint(hole))!).toBeLessThan(place.get(fingerprint(outline))!);
            }
          for (const { part, copy, outline } of lines.filter(({ part }) => part === "nested")) {
            judged += 1;
            const host = lines.find((each) => each.part !== part && each.copy === copy)!;
            const around = place.get(fingerprint(host.holes[0]!))!;
            expect(place.get(fingerprint(outline))!).toBeLessThan(around);
          }
        },
      ),
      { seed: 4, numRuns: 60 },
    );
    expect(judged).toBeGreaterThan(500);
  });
});

/** From 0,0 through all stops in their order, and back. */
function travelOf(lines: readonly PlacedLines[]): number {
  const stops = orderStops(work(lines));
  const home = { x: 0, y: 0 };
  const ends = [{ enter: home, leave: home }, ...stops, { enter: home, leave: home }];
  return ends.reduce((sum, { enter }, index) => {
    const { leave } = ends[index - 1] ?? ends[0]!;
    return sum + Math.hypot(enter.x - leave.x, enter.y - leave.y);
  }, 0);
}

/** A plate of 50 by 50 with one large hole, small holes, and perhaps a part in the large hole. */
function crowdedCell(
  index: number,
  x: number,
  y: number,
  { holes, nested }: { holes: number; nested: boolean },
): PlacedLines[] {
  const small = Array.from({ length: holes }, (_, hole) =>
    circlePath({ x: x + 4 + 10 * hole, y: y + 3 }, 1.5),
  );
  const host = copyOf("host", index + 1, rectangle(x, y, 50, 50), {
    holes: [rectangle(x + 8, y + 8, 35, 35), ...small],
  });
  if (!nested) return [host];
  const inside = copyOf("nested", index + 1, rectangle(x + 20, y + 20, 15, 15), {
    holes: [circlePath({ x: x + 27, y: y + 27 }, 4)],
  });
  return [host, inside];
}

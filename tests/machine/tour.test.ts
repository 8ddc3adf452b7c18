import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Point } from "../../src/geometry/types.ts";
import { shortTour, tourLength } from "../../src/machine/tour.ts";
import type { TourStop, Visit } from "../../src/machine/tour.ts";

const HOME = { x: 0, y: 0 };

const at = (x: number, y: number, before: readonly number[] = []): TourStop => ({
  entrances: [{ enter: { x, y }, leave: { x, y } }],
  before,
});

const point = fc.record({
  x: fc.integer({ min: 0, max: 500 }),
  y: fc.integer({ min: 0, max: 500 }),
});

/** Stops of one to four corners, each waiting for some of the stops before it in the list. */
const someStops = (most: number): fc.Arbitrary<TourStop[]> =>
  fc
    .array(
      fc.record({
        corners: fc.array(point, { minLength: 1, maxLength: 4 }),
        waits: fc.array(fc.nat(), { maxLength: 2 }),
      }),
      { minLength: 1, maxLength: most },
    )
    .map((stops) =>
      stops.map(({ corners, waits }, index) => ({
        entrances: corners.map((corner) => ({ enter: corner, leave: corner })),
        before: index === 0 ? [] : [...new Set(waits.map((wait) => wait % index))],
      })),
    );

describe("shortTour", () => {
  it("goes out and back along a line", () => {
    const stops = [at(30, 0), at(10, 0), at(20, 0)];
    expect(shortTour(stops, HOME, HOME).map(({ stop }) => stop)).toEqual([1, 2, 0]);
  });

  it("mends what nearest-first leaves behind", () => {
    // Nearest first: 10, then 21, 33 to the right and the lone stop at -12 last: 33 + 45 = 78.
    const stops = [at(10, 0), at(21, 0), at(33, 0), at(-12, 0)];
    const tour = shortTour(stops, HOME, null);
    expect(tourLength(stops, tour, HOME, null)).toBe(12 + 45);
  });

  it("enters where the way there and on is shortest", () => {
    const corners = [
      { x: 10, y: 0 },
      { x: 20, y: 0 },
    ].map((corner) => ({ enter: corner, leave: corner }));
    const open = [{ enter: { x: 40, y: 0 }, leave: { x: 30, y: 0 } }];
    const reversed = [{ enter: { x: 30, y: 0 }, leave: { x: 40, y: 0 } }];
    const stops = [
      { entrances: corners, before: [] },
      { entrances: [...open, ...reversed], before: [0] },
    ];
    const tour = shortTour(stops, HOME, { x: 50, y: 0 });
    expect(tour[1]).toEqual({ stop: 1, entrance: 1 });
    expect(tourLength(stops, tour, HOME, { x: 50, y: 0 })).toBe(40);
  });

  it("refuses stops that wait for each other", () => {
    expect(() => shortTour([at(0, 0, [1]), at(1, 0, [0])], HOME, null)).toThrow(RangeError);
  });

  it("visits every stop once, after those it waits for, and the same way each time", () => {
    let waits = 0;
    fc.assert(
      fc.property(someStops(25), (stops) => {
        const tour = shortTour(stops, HOME, HOME);
        expect(tour.map(({ stop }) => stop).toSorted((a, b) => a - b)).toEqual([...stops.keys()]);
        const place = new Map(tour.map(({ stop }, index) => [stop, index]));
        for (const [index, { before }] of stops.entries())
          for (const earlier of before) {
            waits += 1;
            expect(place.get(earlier)!).toBeLessThan(place.get(index)!);
          }
        expect(shortTour(stops, HOME, HOME)).toEqual(tour);
      }),
      { seed: 2, numRuns: 150 },
    );
    expect(waits).toBeGreaterThan(500);
  });

  it("is seldom far from the shortest way there is", () => {
    // Oracle: every permitted order and entrance tried in turn.
    const ratios: number[] = [];
    fc.assert(
      fc.property(someStops(6), (stops) => {
        const best = shortest(stops, HOME);
        if (best === 0) return;
        const ratio = tourLength(stops, shortTour(stops, HOME, HOME), HOME, HOME) / best;
        ratios.push(ratio);
        expect(ratio).toBeGreaterThan(1 - 1e-9);
        expect(ratio).toBeLessThan(1.4);
      }),
      { seed: 3, numRuns: 150 },
    );
    expect(ratios.length).toBeGreaterThan(140);
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expect(mean).toBeLessThan(1.02);
  });

  it("orders a thousand stops well", () => {
    const stops = Array.from({ length: 1000 }, (_, index) =>
      at(
        (index * 7919) % 1009,
        (index * 104_729) % 997,
        index % 4 === 3 ? [index - 1, index - 3] : [],
      ),
    );
    const tour = shortTour(stops, HOME, HOME);
    expect(tourLength(stops, tour, HOME, HOME)).toBeLessThan(45_000);
  });
});

function shortest(stops: readonly TourStop[], from: Point): number {
  const tryAll = (done: readonly Visit[]): number => {
    if (done.length === stops.length) return tourLength(stops, done, from, from);
    const visited = new Set(done.map(({ stop }) => stop));
    const next = [...stops.entries()].filter(
      ([index, { before }]) => !visited.has(index) && before.every((each) => visited.has(each)),
    );
    return Math.min(
      ...next.flatMap(([stop, { entrances }]) =>
        entrances.map((_, entrance) => tryAll([...done, { stop, entrance }])),
      ),
    );
  };
  return tryAll([]);
}

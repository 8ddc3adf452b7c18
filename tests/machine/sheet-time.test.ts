import { describe, expect, it } from "vitest";
import { pathLength, polylinePath } from "../../src/geometry/path.ts";
import type { FeedRow, MachineRow } from "../../src/job/types.ts";
import { overscan, rasterBlock, rasterTime } from "../../src/machine/raster.ts";
import type { RasterWay } from "../../src/machine/raster.ts";
import { leastRunningTime, timeSheet } from "../../src/machine/sheet-time.ts";
import type { PlacedLines, SheetTime } from "../../src/machine/types.ts";
import { copyOf, feed, machine, rectangle } from "./samples.ts";

const time = (
  lines: readonly PlacedLines[],
  feeds: readonly FeedRow[],
  overrides: Partial<MachineRow> = {},
): SheetTime =>
  timeSheet({ sheet: "s", lines, feeds, machine: machine(overrides), commonCuts: "twice" });

describe("travel", () => {
  it("is the least there is where stops are few, with the ways back between passes", () => {
    const score = polylinePath(
      [
        { x: 30, y: 40 },
        { x: 33, y: 44 },
      ],
      false,
    );
    const plate = copyOf("plate", 1, rectangle(0, 0, 60, 80), { scores: [score] });
    const { travelMm, leastTravelMm } = time(
      [plate],
      [feed("score", 50, { passes: 3 }), feed("cut", 10, { passes: 2 })],
    );
    // By hand: 50 mm to 30,40; back 5 mm twice between passes; 55 mm from 33,44 home.
    expect(travelMm).toBeCloseTo(50 + 2 * 5 + 55, 9);
    expect(leastTravelMm).toBeCloseTo(travelMm, 9);
  });
});

describe("the running that no order goes below", () => {
  it("is lengths over feeds and starts: what is run less travel, stops and corners", () => {
    const work = {
      sheet: "s",
      lines: [0, 1, 2].map((copy) =>
        copyOf("plate", copy, rectangle(90 * copy, 20, 60, 80), {
          scores: [rectangle(90 * copy + 10, 30, 20, 20)],
          engravings: [rectangle(90 * copy + 40, 40, 10, 10)],
        }),
      ),
      feeds: [
        feed("engrave", 300),
        feed("score", 50),
        feed("cut", 10, { passes: 2, pierceS: 0.2 }),
      ],
      machine: machine({ settleS: 0.1 }),
      commonCuts: "twice",
    } as const;
    const { runningS, travelS, operations } = timeSheet(work);
    const slowerS = operations.reduce((sum, one) => sum + one.workingS - one.atFullFeedS, 0);
    expect(slowerS).toBeGreaterThan(1);
    expect(leastRunningTime(work)).toBeCloseTo(runningS - travelS - slowerS, 9);
  });
});

function toAndFro(accelerationMmS2: number): RasterWay {
  return { accelerationMmS2, backMmS: null };
}

describe("raster", () => {
  const square = rasterBlock([rectangle(0, 0, 100, 100)], 0.1);

  // Source: bureau engraving page: 100 x 100 mm at 0.1 mm and 400 mm/s, about 4 min; at 200, about 8.
  it.each([
    [400, 250],
    [200, 500],
  ])("takes 100 x 100 mm at 0.1 mm and %d mm/s in %d s, turns apart", (speed, seconds) => {
    expect(rasterTime(square, speed, toAndFro(Number.POSITIVE_INFINITY))).toBeCloseTo(seconds, 9);
  });

  // Source: physics of uniform deceleration: a turn takes 2 v/a, 0.267 s here and 0.10 s at 8000.
  it("adds the turns", () => {
    expect(rasterTime(square, 400, toAndFro(3000))).toBeCloseTo(516.67, 2);
    expect(rasterTime(square, 400, toAndFro(8000))).toBeCloseTo(350, 9);
  });

  // Source: physics of uniform deceleration, v^2 / 2a; the worked figures are those of the same page.
  it("runs out on either side while it turns", () => {
    expect(overscan(400, 8000)).toBeCloseTo(10, 12);
    expect(overscan(400, 3000)).toBeCloseTo(26.67, 2);
  });

  it("goes back after each line but the last where it engraves in one direction", () => {
    // By hand: 120 mm back at 200 mm/s and 8000 mm/s2 take 120 / 200 + 200 / 8000 s.
    const way = { accelerationMmS2: 8000, backMmS: 200 };
    expect(rasterTime(square, 400, way)).toBeCloseTo(350 + 999 * 0.625, 9);
  });

  it("covers the whole height, and no line more", () => {
    expect(rasterBlock([rectangle(0, 0, 5, 1.1)], 0.1).lines).toBe(11);
    expect(rasterBlock([rectangle(0, 0, 5, 1.11)], 0.1).lines).toBe(12);
    expect(
      rasterBlock(
        [
          polylinePath(
            [
              { x: 0, y: 0 },
              { x: 5, y: 0 },
            ],
            false,
          ),
        ],
        0.1,
      ).lines,
    ).toBe(1);
  });
});

/** By hand: 100 lines of 4 mm, each with a turn of 2 v/a at 1000 mm/s2. */
function engravedAt(speed: number): number {
  return 100 * (4 / speed + (2 * speed) / 1000);
}

describe("the range of engraving", () => {
  it("runs from the shortest to the longest time, though turns take longer at a higher feed", () => {
    const plate = copyOf("plate", 1, rectangle(0, 0, 60, 20), {
      engravings: [rectangle(5, 5, 4, 10)],
    });
    const feeds = [
      feed("engrave", 300, { feedMmS: { low: 200, likely: 300, high: 400 } }),
      feed("cut", 10),
    ];
    const [engraving] = time([plate], feeds, { accelerationMmS2: 1000 }).operations;
    expect(engraving!.fastestS).toBeCloseTo(engravedAt(200), 9);
    expect(engraving!.workingS).toBeCloseTo(engravedAt(300), 9);
    expect(engraving!.slowestS).toBeCloseTo(engravedAt(400), 9);
  });
});

describe("timeSheet", () => {
  // Source: bureau price page: 493.3 mm at 7 mm/s, "just about one minute"; 70.47 s by division.
  it("takes length over feed where stops cost nothing", () => {
    const plate = copyOf("plate", 1, rectangle(0, 0, 150, 96.65));
    const { operations, runningS } = time([plate], [feed("cut", 7)], { accelerationMmS2: 1e12 });
    expect(operations[0]).toMatchObject({ operation: "cut", contours: 1, passes: 1 });
    expect(operations[0]!.lengthMm).toBeCloseTo(493.3, 9);
    expect(runningS).toBeCloseTo(70.47, 2);
  });

  it("adds up a sheet worked out by hand", () => {
    // Two squares of 100 mm, side by side from 10,0 and 120,0; one has a hole of 20 x 20 at 60,40.
    const lines = [
      copyOf("left", 1, rectangle(10, 0, 100, 100), { holes: [rectangle(60, 40, 20, 20)] }),
      copyOf("right", 1, rectangle(120, 0, 100, 100)),
    ];
    const cut = feed("cut", 20, { passes: 2, pierceS: 0.25 });
    const result = time(lines, [cut], { accelerationMmS2: 1000 });
    // Each contour and pass at rest at both ends: length / 20 + 20 / 1000; three corners on the way
    // are passed at u, for (20 - u)^2 / (20 x 1000) each. At 10 mm/s they are not slowed for.
    const u = Math.sqrt((1000 * 0.05 * Math.SQRT1_2) / (1 - Math.SQRT1_2));
    const corners = (feedMmS: number): number => (3 * (feedMmS - u) ** 2) / (feedMmS * 1000);
    const [large, small] = [400 / 20 + 0.02 + corners(20), 80 / 20 + 0.02 + corners(20)];
    const [operation] = result.operations;
    expect(operation!.lengthMm).toBeCloseTo(880, 9);
    expect(operation!.contours).toBe(3);
    expect(operation!.workingS).toBeCloseTo(2 * (2 * large + small), 9);
    expect(operation!.slowestS).toBeCloseTo(2 * (880 / 10 + 3 * 0.01), 9);
    expect(operation!.fastestS).toBeCloseTo(2 * (880 / 40 + 3 * 0.04 + 3 * corners(40)), 9);
    expect(operation!.pierceS).toBeCloseTo(3 * 2 * 0.25, 9);
    expect(operation!.feed).toEqual(cut.place);
    // Shortest: the hole at 60,40, the right square at 120,0, the left one at 110,0, and home.
    const ways = [Math.hypot(60, 40), Math.hypot(120 - 60, 40), 10, 110];
    expect(result.travelMm).toBeCloseTo(
      ways.reduce((sum, way) => sum + way, 0),
      6,
    );
    // 200 mm/s is reached after 20 mm, so moves of 40 mm and more are trapezoids, L/v + v/a.
    const seconds = ways.map((way) => (way >= 40 ? way / 200 + 0.2 : 2 * Math.sqrt(way / 1000)));
    expect(result.travelS).toBeCloseTo(
      seconds.reduce((sum, each) => sum + each, 0),
      6,
    );
    const all = operation!.workingS + operation!.pierceS + result.travelS;
    expect(result.runningS).toBeCloseTo(all, 9);
    expect(result.order.map(({ part }) => part)).toEqual(["left", "right", "left"]);
  });

  it("goes back to the start of an open line between passes", () => {
    const score = polylinePath(
      [
        { x: 0, y: 0 },
        { x: 30, y: 0 },
      ],
      false,
    );
    const plate = copyOf("plate", 1, rectangle(0, 0, 30, 10), { scores: [score] });
    const once = time([plate], [feed("cut", 10), feed("score", 50)]);
    const thrice = time([plate], [feed("cut", 10), feed("score", 50, { passes: 3 })]);
    expect(thrice.travelMm - once.travelMm).toBeCloseTo(60, 9);
    const [worked] = once.operations;
    expect(thrice.operations[0]!.workingS).toBeCloseTo(3 * worked!.workingS, 9);
  });

  it("engraves each part's areas as one block", () => {
    const engravings = [rectangle(10, 10, 10, 10), rectangle(40, 15, 10, 10)];
    const plate = (copy: number): PlacedLines =>
      copyOf("plate", copy, rectangle(0, 0, 60, 40), { engravings });
    const feeds = [feed("cut", 10), feed("engrave", 200, { pierceS: 0.5 })];
    const { operations } = time([plate(1), plate(2)], feeds, { accelerationMmS2: 4000 });
    const [engrave] = operations;
    // The box is 40 x 15 mm: 150 lines of 40 mm at 200 mm/s, each with a turn of 0.1 s, twice.
    expect(engrave).toMatchObject({ operation: "engrave", contours: 2, pierceS: 1 });
    expect(engrave!.lengthMm).toBeCloseTo(2 * 150 * 40, 6);
    expect(engrave!.workingS).toBeCloseTo(2 * 150 * (0.2 + 0.1), 6);
  });

  it("gives the same total length as the lines themselves, and nothing for an empty sheet", () => {
    const lines = [1, 2, 3].map((copy) => copyOf("p", copy, rectangle(50 * copy, 7, 33, 21)));
    const { order, operations } = time(lines, [feed("cut", 10)]);
    const drawn = lines.reduce((sum, { outline }) => sum + pathLength(outline), 0);
    expect(order.reduce((sum, { path }) => sum + pathLength(path), 0)).toBeCloseTo(drawn, 9);
    expect(operations[0]!.lengthMm).toBeCloseTo(drawn, 9);
    expect(time([], [])).toMatchObject({ operations: [], travelMm: 0, travelS: 0, runningS: 0 });
  });

  it("refuses to guess a feed", () => {
    expect(() => time([copyOf("p", 1, rectangle(0, 0, 1, 1))], [])).toThrow(RangeError);
  });
});

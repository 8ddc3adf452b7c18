import { describe, expect, it } from "vitest";
import { polylinePath } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import type { Entry } from "../../src/log/entries.ts";
import { measuredFeeds } from "../../src/log/measured-feeds.ts";
import { workingMinutes } from "../../src/log/working-minutes.ts";
import { timeSheet } from "../../src/machine/sheet-time.ts";
import type { OperationTime } from "../../src/machine/types.ts";
import { copyOf, feed, machine, rectangle, ROW } from "../machine/samples.ts";
import { simulatedTime } from "../machine/simulated-time.ts";

/** Teeth of 3 mm, 3 mm apart and 20 mm deep: 40 of them along the upper edge. */
const COMB: Path = polylinePath(
  [
    { x: 0, y: 0 },
    { x: 240, y: 0 },
    ...Array.from({ length: 40 }, (_, tooth): readonly Point[] => {
      const right = 240 - 6 * tooth;
      const at = (dx: number, y: number): Point => ({ x: right - dx, y });
      return [at(0, 40), at(3, 40), at(3, 20), at(6, 20)];
    }).flat(),
  ],
  true,
);
const PLAIN = rectangle(0, 0, 400, 250);
/** A star of 60 points: corners sharp and flat, legs of 8 to 10 mm. */
const STAR = polylinePath(
  [{ x: 80, y: 0 }, ...Array.from({ length: 119 }, (_, index) => starPoint(index + 1))],
  true,
);

function starPoint(index: number): Point {
  const radius = index % 2 === 0 ? 80 : 72;
  const angle = (index * Math.PI) / 60;
  return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
}

const LASER = machine({ settleS: 0.1 });
const LIMITS = { acceleration: LASER.accelerationMmS2, toleranceMm: LASER.cornerToleranceMm };

function estimatedAt(outline: Path, likely: number): OperationTime & { readonly besideS: number } {
  const { operations, travelS } = timeSheet({
    sheet: "sheet",
    lines: [copyOf("part", 1, outline)],
    feeds: [feed("cut", likely, { pierceS: 0.2 })],
    machine: LASER,
    commonCuts: "twice",
  });
  const [cut] = operations;
  return { ...cut!, besideS: cut!.pierceS + travelS };
}

/** A run that was estimated with one feed and made, as simulated in steps of time, with another. */
function runOf(outline: Path, estimatedFeed: number, trueFeed: number): Entry {
  const { workingS, atHalfFeedS, atTwiceFeedS, besideS } = estimatedAt(outline, estimatedFeed);
  return {
    what: "machine",
    item: "acrylic cast 3 mm",
    operation: "cut",
    unit: "min",
    estimated: (workingS + besideS) / 60,
    took: (simulatedTime(outline, { ...LIMITS, feed: trueFeed }) + besideS) / 60,
    note: "",
    machine: "laser",
    material: "acrylic cast",
    thicknessMm: 3,
    workingMin: workingS / 60,
    halfFeedMin: atHalfFeedS / 60,
    twiceFeedMin: atTwiceFeedS / 60,
    feedMmS: estimatedFeed,
    passes: 1,
    eachMin: null,
    done: "2026-11-01",
    job: "comb",
    place: ROW.place,
  };
}

describe("the feed that a run is told to have had", () => {
  // The true feed is known, for the run is the brute-force simulation at that feed.
  const ratios = [2.5, 2, 1.5, 1, 0.8, 0.6];
  it.each([
    ["a comb", COMB, 60],
    ["a comb at the feed of thick sheet", COMB, 12],
    ["a plain rectangle", PLAIN, 60],
    ["a star", STAR, 40],
  ])("of %s is the true one within 3 %%, whatever it was estimated with", (_, outline, near) => {
    const off = ratios.flatMap((ratio) => {
      const truly = near / ratio;
      return measuredFeeds([runOf(outline, near, truly)]).measured.map(({ likely }) =>
        Math.abs(likely / truly - 1),
      );
    });
    expect(off.length).toBeGreaterThanOrEqual(5);
    expect(Math.max(...off)).toBeLessThan(0.03);
  });

  it("comes out too high from a row that does not say how its minutes go with the feed", () => {
    const older = { ...runOf(COMB, 60, 40), halfFeedMin: null, twiceFeedMin: null };
    const [feedTold] = measuredFeeds([older]).measured;
    expect(feedTold!.likely).toBeGreaterThan(44);
    expect(feedTold!.unbent).toBe(1);
    expect(measuredFeeds([runOf(COMB, 60, 40)]).measured[0]!.unbent).toBe(0);
  });

  it("is not told where legs are too short for the feed to matter", () => {
    const { measured, withheld } = measuredFeeds([runOf(COMB, 400, 300)]);
    expect(measured).toEqual([]);
    expect(withheld).toMatchObject([{ material: "acrylic cast", why: "slowed" }]);
  });
});

describe("working minutes at another feed", () => {
  // A straight line from rest to rest: L/v + v/a, here 10 s + 0.1 s at 100 mm/s and 1000 mm/s2.
  const line = { workingMin: 10.1, halfFeedMin: 20.05, twiceFeedMin: 5.2 };
  it("are those of a move from rest to rest", () => {
    const { at, timesFor } = workingMinutes(line)!;
    for (const times of [0.3, 0.5, 0.8, 1, 1.3, 2]) {
      expect(at(times)).toBeCloseTo(10 / times + 0.1 * times, 9);
      expect(timesFor(at(times))).toBeCloseTo(times, 9);
    }
  });

  // One leg is passed at 30 mm/s whatever the feed; the other of 60 mm/s is run at it.
  it("are those of lines of which some are too bent for any of the feeds", () => {
    const { at, timesFor } = workingMinutes({ workingMin: 8, halfFeedMin: 11, twiceFeedMin: 6.5 })!;
    for (const times of [0.5, 0.7, 1.4]) {
      expect(at(times)).toBeCloseTo(5 + 3 / times, 9);
      expect(timesFor(at(times))).toBeCloseTo(times, 9);
    }
    expect(timesFor(5)).toBeNull();
  });

  it("are not told by a row without any", () => {
    const bare = { workingMin: null, halfFeedMin: null, twiceFeedMin: null };
    expect(workingMinutes(bare)).toBeNull();
  });
});

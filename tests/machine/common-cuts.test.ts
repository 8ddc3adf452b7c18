import { arc, point as libraryPoint, segment as libraryLine } from "@flatten-js/core";
import type { Arc, Segment } from "@flatten-js/core";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flattenPath } from "../../src/geometry/flatten.ts";
import { circlePath, pathLength } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import type { CommonCuts } from "../../src/job/types.ts";
import { orderStops } from "../../src/machine/order.ts";
import type { PlacedLines } from "../../src/machine/types.ts";
import { copyOf, rectangle } from "./samples.ts";

const runs = (lines: readonly PlacedLines[], commonCuts: CommonCuts = "once"): Path[] =>
  orderStops({ lines, machine: { lineIntervalMm: 0.1 }, commonCuts })
    .filter(({ stop }) => stop.operation === "cut")
    .flatMap(({ paths }) => paths);

const lengthOf = (paths: readonly Path[]): number =>
  paths.reduce((sum, path) => sum + pathLength(path), 0);

/** A block of plates of 30 by 20 that touch. */
function block(columns: number, rows: number): PlacedLines[] {
  return Array.from({ length: columns * rows }, (_, index) =>
    copyOf(
      "plate",
      index + 1,
      rectangle((index % columns) * 30, Math.floor(index / columns) * 20, 30, 20),
    ),
  );
}

function at(radius: number, angle: number): Point {
  return { x: 100 + radius * Math.cos(angle), y: 100 + radius * Math.sin(angle) };
}

/** A ring of 30 and 50 mm about 100,100, cut into sectors that touch. */
function sector(index: number, count: number): PlacedLines {
  const [begin, end] = [index, index + 1].map((step) => (2 * Math.PI * step) / count);
  const centre = { x: 100, y: 100 };
  const sweepRad = (2 * Math.PI) / count;
  return copyOf("sector", index + 1, {
    start: at(30, begin!),
    segments: [
      { kind: "line", to: at(50, begin!) },
      { kind: "arc", to: at(50, end!), centre, sweepRad },
      { kind: "line", to: at(30, end!) },
      { kind: "arc", to: at(30, begin!), centre, sweepRad: -sweepRad },
    ],
    closed: true,
  });
}

describe("common cuts", () => {
  it("are cut twice unless the job says otherwise", () => {
    expect(lengthOf(runs(block(3, 2), "twice"))).toBeCloseTo(6 * 100, 9);
    expect(runs(block(3, 2), "twice").every(({ closed }) => closed)).toBe(true);
  });

  it("are cut once: of a block of plates what stands on squared paper", () => {
    // 3 columns by 2 rows: 3 lines along of 90 mm, 4 lines up of 40 mm.
    expect(lengthOf(runs(block(3, 2)))).toBeCloseTo(3 * 90 + 4 * 40, 9);
    expect(lengthOf(runs(block(1, 1)))).toBe(100);
  });

  it("are arcs too: a disc in its ring, and sectors side by side", () => {
    const disc = copyOf("disc", 1, circlePath({ x: 100, y: 100 }, 30));
    const sectors = Array.from({ length: 5 }, (_, index) => sector(index, 5));
    // Both circles once, and five sides of 20 mm.
    expect(lengthOf(runs([disc, ...sectors]))).toBeCloseTo(2 * Math.PI * 80 + 5 * 20, 6);
  });

  it("are not what merely lies near, or crosses", () => {
    const apart = [
      copyOf("a", 1, rectangle(0, 0, 30, 20)),
      copyOf("b", 1, rectangle(30.05, 0, 30, 20)),
      copyOf("c", 1, rectangle(10, 20.02, 30, 20)),
    ];
    expect(lengthOf(runs(apart))).toBeCloseTo(300, 9);
  });

  it("leave nothing to cut of a piece whose neighbours have all of its edges", () => {
    // Four plates as a pinwheel around a square of 10 by 10, which comes last in the list.
    const pinwheel = [
      rectangle(0, 0, 30, 20),
      rectangle(30, 0, 20, 30),
      rectangle(20, 30, 30, 20),
      rectangle(0, 20, 20, 30),
      rectangle(20, 20, 10, 10),
    ].map((outline, index) => copyOf("plate", index + 1, outline));
    const hole = circlePath({ x: 25, y: 25 }, 2);
    const lines = [...pinwheel.slice(0, 4), { ...pinwheel[4]!, holes: [hole] }];
    const order = runs(lines);
    // The frame of 50 by 50, and the four sides between the plates of 30 mm.
    expect(lengthOf(order)).toBeCloseTo(4 * 50 + 4 * 30 + lengthOf([hole]), 9);
    expect(order[0]!.segments.every(({ kind }) => kind === "arc")).toBe(true);
  });

  it("cut every piece out, and every edge once, on random blocks with things inside", () => {
    let [shared, inside] = [0, 0];
    fc.assert(
      fc.property(layout, (lines) => {
        const order = runs(lines);
        const edges = lines.flatMap(({ outline, holes }) => [outline, ...holes].flatMap(unitEdges));
        const once = new Set(edges);
        const rounds = lines.flatMap(({ holes }) => holes.filter(isRound));
        expect(lengthOf(order)).toBeCloseTo(once.size + lengthOf(rounds), 6);
        shared += edges.length - once.size;
        for (const { outline, holes } of lines)
          for (const path of [outline, ...holes]) expect(farthest(path, order)).toBeLessThan(0.011);
        inside += judgeOrder(lines, order);
      }),
      { seed: 11, numRuns: 24 },
    );
    expect(shared).toBeGreaterThan(1000);
    expect(inside).toBeGreaterThan(100);
  });

  it("never make more starts than there are contours and stretches between them", () => {
    expect(runs(block(6, 5))).toHaveLength(30);
  });
});

/** Cells of 12 by 12, as plates or frames; frames hold a plate that touches the window, and holes. */
const layout: fc.Arbitrary<PlacedLines[]> = fc
  .array(
    fc.record({
      kind: fc.constantFrom("plate", "drilled", "frame", "none"),
      wide: fc.boolean(),
      shift: fc.integer({ min: 0, max: 4 }),
    }),
    { minLength: 4, maxLength: 16, size: "max" },
  )
  .map((cells) =>
    cells.flatMap(({ kind, wide, shift }, index): PlacedLines[] => {
      const [x, y] = [(index % 4) * 12, Math.floor(index / 4) * 12];
      const outline = rectangle(x, y, 12, 12);
      const drill = circlePath({ x: x + 5, y: y + 5 }, 0.5);
      if (kind === "none") return [];
      if (kind === "plate") return [copyOf("plate", index, outline)];
      if (kind === "drilled") return [copyOf("plate", index, outline, { holes: [drill] })];
      const window = rectangle(x + 2, y + 2, 8, 8);
      const inner = rectangle(x + 2 + (wide ? 0 : shift), y + 2, wide ? 8 : 4, 8);
      const held = copyOf("inner", index, inner, {
        holes: [circlePath({ x: x + 4 + (wide ? 0 : shift), y: y + 6 }, 0.5)],
      });
      const frame = copyOf("frame", index, outline, { holes: [window] });
      return shift % 2 === 0 ? [frame, held] : [held, frame];
    }),
  )
  .filter((lines) => lines.length > 0);

function isRound({ segments }: Path): boolean {
  return segments.every(({ kind }) => kind === "arc");
}

/** The millimetres of squared paper that a path of whole numbers runs along. */
function unitEdges(path: Path): string[] {
  if (isRound(path)) return [];
  let from = path.start;
  return path.segments.flatMap(({ to }) => {
    const [a, b] = [from, to];
    from = to;
    const length = Math.round(Math.hypot(b.x - a.x, b.y - a.y));
    return Array.from({ length }, (_, step) => {
      const middle = (step + 0.5) / length;
      return `${(a.x + middle * (b.x - a.x)).toFixed(2)} ${(a.y + middle * (b.y - a.y)).toFixed(2)}`;
    });
  });
}

/** How far any point of a path lies from what is cut, mm, by the reference library. */
function farthest(path: Path, cut: readonly Path[]): number {
  const shapes = cut.flatMap(shapesOf);
  const ring = flattenPath(path, 0.01);
  const points = ring.flatMap((point, index) => {
    const next = ring[(index + 1) % ring.length]!;
    return [0, 0.31, 0.5, 0.77].map((share) =>
      libraryPoint(point.x + share * (next.x - point.x), point.y + share * (next.y - point.y)),
    );
  });
  return Math.max(
    ...points.map((point) => Math.min(...shapes.map((shape) => point.distanceTo(shape)[0]))),
  );
}

function shapesOf(path: Path): (Segment | Arc)[] {
  let from = path.start;
  return path.segments.map((segment) => {
    const [a, b] = [from, segment.to];
    from = segment.to;
    if (segment.kind !== "arc") return libraryLine(a.x, a.y, b.x, b.y);
    const { centre, sweepRad } = segment;
    const angle = (point: Point): number => Math.atan2(point.y - centre.y, point.x - centre.x);
    const radius = Math.hypot(a.x - centre.x, a.y - centre.y);
    return arc(libraryPoint(centre.x, centre.y), radius, angle(a), angle(b), sweepRad > 0);
  });
}

/** Watches the work go on: when a piece or a slug comes loose, all inside it must be cut already. */
function judgeOrder(lines: readonly PlacedLines[], order: readonly Path[]): number {
  const done = new Map<string, number>();
  for (const [time, path] of order.entries())
    for (const edge of isRound(path) ? [roundKey(path)] : unitEdges(path)) done.set(edge, time);
  const loose = (path: Path): number =>
    Math.max(
      ...(isRound(path) ? [roundKey(path)] : unitEdges(path)).map((edge) => done.get(edge)!),
    );
  let judged = 0;
  for (const { outline, holes, part, copy } of lines)
    for (const hole of holes) {
      judged += 1;
      expect(loose(hole)).toBeLessThan(loose(outline));
      const held = lines.find(
        (other) => part === "frame" && other.part === "inner" && other.copy === copy,
      );
      if (held === undefined) continue;
      expect(loose(held.outline)).toBeLessThanOrEqual(loose(hole));
      expect(loose(held.holes[0]!)).toBeLessThan(loose(hole));
    }
  return judged;
}

function roundKey({ segments }: Path): string {
  const [first] = segments;
  return first?.kind === "arc" ? `${first.centre.x.toFixed(3)} ${first.centre.y.toFixed(3)}` : "";
}

import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withoutDoubledStretches } from "../../src/drawing/overlaps.ts";
import { circlePath, pathEnd, pathLength, polylinePath } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import type { LineRule } from "../../src/job/types.ts";
import { onlyProblem, page, readOne, readSvgText, rule } from "./reading.ts";

const RULES: readonly LineRule[] = [rule("stroke", "red", "score")];

/** What of lines is left, and how much of them lay on others, mm. */
function single(paths: readonly Path[]): { left: readonly Path[]; doubledMm: number } {
  const place = { file: "a.svg", line: 1, column: null };
  const { lines, doubled } = withoutDoubledStretches(paths.map((path) => ({ path, place })));
  return {
    left: lines.map(({ path }) => path),
    doubledMm: doubled.reduce((sum, { path }) => sum + pathLength(path), 0),
  };
}

function line(...points: readonly [Point, ...Point[]]): Path {
  return polylinePath(points, false);
}

function at(x: number, y = 0): Point {
  return { x, y };
}

describe("stretches drawn twice", () => {
  it("are taken from the later of two open lines, whichever way it runs", () => {
    const first = line(at(0), at(50));
    for (const second of [line(at(30), at(80)), line(at(80), at(30))]) {
      const { left, doubledMm } = single([first, second]);
      expect(doubledMm).toBeCloseTo(20, 9);
      expect(left.map(pathLength)).toEqual([50, 30]);
    }
  });

  it("split a line that is covered in its middle", () => {
    const { left, doubledMm } = single([line(at(20), at(40)), line(at(0), at(60))]);
    expect(doubledMm).toBeCloseTo(20, 9);
    expect(left.map((path) => [path.start.x, pathEnd(path).x])).toEqual([
      [20, 40],
      [0, 20],
      [40, 60],
    ]);
  });

  it("are taken from a line that runs back over itself, and from lines on closed contours", () => {
    const back = single([line(at(0), at(50), at(20))]);
    expect(back.doubledMm).toBeCloseTo(30, 9);
    expect(back.left.map(pathLength)).toEqual([50]);
    const square = polylinePath([at(0), at(50), at(50, 50), at(0, 50)], true);
    const onEdge = single([line(at(10), at(90)), square]);
    expect(onEdge.doubledMm).toBeCloseTo(40, 9);
    expect(onEdge.left.map(pathLength)).toEqual([200, 40]);
  });

  it("are found on arcs of one circle, across its start and against each other", () => {
    const whole = circlePath(at(0), 10);
    // The lower quarter at the right, and 10 mm straight on from its end.
    const arc: Path = {
      start: at(0, -10),
      segments: [
        { kind: "arc", to: at(10), centre: at(0), sweepRad: Math.PI / 2 },
        { kind: "line", to: at(20) },
      ],
      closed: false,
    };
    const { left, doubledMm } = single([whole, arc]);
    expect(doubledMm).toBeCloseTo(5 * Math.PI, 9);
    expect(left.map(pathLength)[1]).toBeCloseTo(10, 9);
    // Half of a half turn the other way round.
    const upper: Path = {
      start: at(10),
      segments: [{ kind: "arc", to: at(-10), centre: at(0), sweepRad: Math.PI }],
      closed: false,
    };
    const against: Path = {
      start: at(0, 10),
      segments: [{ kind: "arc", to: at(0, -10), centre: at(0), sweepRad: -Math.PI }],
      closed: false,
    };
    const half = single([upper, against]);
    expect(half.doubledMm).toBeCloseTo(5 * Math.PI, 9);
    expect(half.left.map(pathLength)).toEqual([10 * Math.PI, 5 * Math.PI]);
  });

  it("are neither lines that cross, touch or run beside each other at 0.02 mm, nor other circles", () => {
    const others = [
      line(at(25, -5), at(25, 5)),
      line(at(50), at(70)),
      line(at(0, 0.02), at(50, 0.02)),
      line(at(0, -0.1), at(50, 0.1)),
      line(at(0), at(50, 3)),
    ];
    for (const other of others) {
      const { left, doubledMm } = single([line(at(0), at(50)), other]);
      // At a very small angle, the stretch within 0.01 mm is one line for a laser.
      expect(doubledMm).toBeLessThan(5.01);
      expect(left.length).toBeGreaterThanOrEqual(2);
    }
    const arcs = [circlePath(at(0), 10), circlePath(at(0), 10.02), circlePath(at(0.02), 10)].map(
      ({ start, segments }): Path => ({ start, segments: segments.slice(0, 1), closed: false }),
    );
    expect(single(arcs).doubledMm).toBe(0);
  });

  it("leave exactly the union of intervals on a line (property)", () => {
    let overlapping = 0;
    const interval = fc.tuple(fc.integer({ min: 0, max: 90 }), fc.integer({ min: 1, max: 60 }));
    fc.assert(
      fc.property(
        fc.array(interval, { minLength: 2, maxLength: 8 }),
        fc.integer({ min: 0, max: 359 }),
        (intervals, turn) => {
          const unit = at(Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180));
          const on = (along: number): Point => at(along * unit.x, along * unit.y);
          const { left, doubledMm } = single(
            intervals.map(([from, length], index) =>
              index % 2 === 0
                ? line(on(from), on(from + length))
                : line(on(from + length), on(from)),
            ),
          );
          const millimetres = new Set(
            intervals.flatMap(([from, length]) => Array.from({ length }, (_, i) => from + i)),
          );
          const drawn = intervals.reduce((sum, [, length]) => sum + length, 0);
          const kept = left.reduce((sum, path) => sum + pathLength(path), 0);
          expect(kept).toBeCloseTo(millimetres.size, 6);
          expect(doubledMm).toBeCloseTo(drawn - millimetres.size, 6);
          if (drawn > millimetres.size) overlapping++;
        },
      ),
      { numRuns: 200, seed: 31 },
    );
    expect(overlapping).toBeGreaterThan(150);
  });
});

describe("a drawing with doubled lines", () => {
  it("is cut once, and says how much that saves", () => {
    const loose = page(
      `<path d="M0 0H60V40"/><path d="M60 40H0V0"/>\n<path d="M60 10V30"/><path d="M20 0H0V15"/>`,
    );
    const read = readSvgText(loose);
    expect(onlyProblem(read)).toMatchObject({
      code: "contour-twice",
      severity: "warning",
      line: 3,
    });
    expect(onlyProblem(read).found).toContain("55 mm on top of other lines, at 60, 90 mm;");
    expect(onlyProblem(read).expected).toContain("saves 55 mm");
    expect(read.value?.[0]?.cutLengthMm).toBe(200);
  });

  it("closes a contour that overruns its start", () => {
    const read = readSvgText(page(`<path d="M0 0H50V50H0V0H20"/>`));
    expect(onlyProblem(read).expected).toContain("saves 20 mm");
    expect(read.value?.[0]?.cutLengthMm).toBe(200);
  });

  it("also of scored lines, and lists five places of many", () => {
    const scores = Array.from(
      { length: 9 },
      (_, i) => `<path stroke="red" d="M5 ${5 + 2 * i}h30m0 0h-10"/>`,
    );
    const read = readSvgText(page(`<rect width="50" height="50"/>${scores.join("")}`), {
      rules: RULES,
    });
    expect(onlyProblem(read).expected).toContain("saves 90 mm");
    expect(onlyProblem(read).found).toMatch(/and 4 more places$/);
    expect(read.value?.[0]?.scores.reduce((sum, path) => sum + pathLength(path), 0)).toBeCloseTo(
      270,
      9,
    );
  });

  it("of 4000 loose pieces is done within the time limit", () => {
    const points = Array.from({ length: 2000 }, (_, i) => {
      const turn = (2 * Math.PI * i) / 2000;
      return `${(100 + 45 * Math.cos(turn)).toFixed(4)} ${(50 + 45 * Math.sin(turn)).toFixed(4)}`;
    });
    const pieces = points.map((p, i) => `<path d="M${p}L${points[(i + 1) % 2000] ?? ""}"/>`);
    const read = readOne(page([...pieces, ...pieces].join("")));
    expect(read.cutLengthMm).toBeCloseTo(90 * Math.PI, 2);
  });
});

import { describe, expect, it } from "vitest";
import { partGeometry } from "../../src/drawing/assemble.ts";
import { movedCuts } from "../../src/fit/cut-lines.ts";
import { kerfFor } from "../../src/fit/kerf.ts";
import { circlePath, pathBounds, polylinePath } from "../../src/geometry/path.ts";
import type { Path } from "../../src/geometry/types.ts";
import type { KerfRow } from "../../src/job/types.ts";

const PLACE = { file: "kerfs.csv", line: 2, column: null };

function row(thicknessMm: number, kerfMm: number): KerfRow {
  const dated = { validFrom: "2026-01-01", source: "service artwork guide", place: PLACE };
  const machine = "laser";
  return {
    id: `k-${thicknessMm}`,
    machine,
    material: "acrylic cast",
    thicknessMm,
    kerfMm,
    ...dated,
  };
}

// Service artwork guide: acrylic of 3, 6 and 10 mm is cut 0.15, 0.18 and 0.25 mm wide.
const ROWS = [row(6, 0.18), row(3, 0.15), row(10, 0.25)];

describe("the kerf of a thickness", () => {
  it("is that of its row", () => {
    expect(kerfFor(ROWS, "laser", "acrylic cast", 6)).toMatchObject({
      mm: 0.18,
      rows: [{ id: "k-6" }],
    });
  });

  it("lies on the line between the rows beside it, and is not known outside of them", () => {
    const between = kerfFor(ROWS, "laser", "acrylic cast", 5);
    expect(between?.mm).toBeCloseTo(0.17, 12);
    expect(between?.rows.map(({ id }) => id)).toEqual(["k-3", "k-6"]);
    expect(kerfFor(ROWS, "laser", "acrylic cast", 2)).toBeNull();
    expect(kerfFor(ROWS, "laser", "acrylic cast", 12)).toBeNull();
    expect(kerfFor(ROWS, "laser", "birch plywood", 6)).toBeNull();
    expect(kerfFor(ROWS, "other", "acrylic cast", 6)).toBeNull();
  });
});

function square(side: number, at = 0): Path {
  return polylinePath(
    [
      { x: at, y: at },
      { x: at + side, y: at },
      { x: at + side, y: at + side },
      { x: at, y: at + side },
    ],
    true,
  );
}

describe("cut lines moved by half the kerf", () => {
  const drawn = partGeometry({
    part: "plate",
    place: PLACE,
    outline: square(60),
    holes: [square(40, 10), circlePath({ x: 5, y: 5 }, 0.08)],
    scores: [
      polylinePath(
        [
          { x: 2, y: 30 },
          { x: 8, y: 30 },
        ],
        false,
      ),
    ],
    engravings: [],
  });

  it("have the outline outside and the holes inside of what is drawn", () => {
    // Service help page: kerf 0.2 mm; 40 mm square holes come out 40.2 when drawn 40, so they are
    // cut at 39.8.
    const { geometry } = movedCuts(drawn, 0.2);
    expect(pathBounds(geometry.outline)).toEqual({
      minX: -0.1,
      minY: -0.1,
      maxX: 60.1,
      maxY: 60.1,
    });
    const [hole] = geometry.holes;
    const bounds = hole === undefined ? null : pathBounds(hole);
    expect((bounds?.maxX ?? 0) - (bounds?.minX ?? 0)).toBeCloseTo(39.8, 9);
    expect(geometry.scores).toEqual(drawn.scores);
  });

  it("stay as drawn where a contour is smaller than the kerf, and say where", () => {
    const { geometry, left } = movedCuts(drawn, 0.2);
    expect(geometry.holes).toHaveLength(2);
    expect(geometry.holes[1]).toEqual(drawn.holes[1]);
    expect(left).toEqual([2]);
  });
});

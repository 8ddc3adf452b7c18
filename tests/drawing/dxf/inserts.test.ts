import { describe, expect, it } from "vitest";
import { pathBounds } from "../../../src/geometry/path.ts";
import { pointInRing } from "../../../src/geometry/ring.ts";
import { ellipseLength } from "../../geometry/closed-forms.ts";
import { block, dxf, entity, line, polygon, problemOf, readPart, rectangle } from "./dxf-text.ts";

/** An F, 40 x 60, its stem on the left, and a bite of radius 3 out of its foot. */
const F = polygon([
  [0, 0],
  [12, 0],
  [12, 24],
  [32, 24],
  [32, 36],
  [12, 36],
  [12, 48],
  [40, 48],
  [40, 60],
  [0, 60],
]);
const F_AREA = 12 * 60 + 20 * 12 + 28 * 12;

function insert(...groups: readonly (string | number)[]): string {
  return entity("INSERT", 2, "F", ...groups);
}

/** An F at 100,50. */
function at(...groups: readonly (string | number)[]): string {
  return dxf(insert(10, 100, 20, 50, ...groups), { blocks: block("F", F) });
}

/** A copy at 0,0 on layer CUT. */
function insertOf(name: string): string {
  return entity("INSERT", 8, "CUT", 2, name, 10, 0, 20, 0);
}

function bounds(text: string): number[] {
  const { minX, minY, maxX, maxY } = pathBounds(readPart(text).outline);
  return [minX, minY, maxX, maxY].map((mm) => Math.round(mm * 1e9) / 1e9);
}

describe("a block", () => {
  it("is moved, scaled, turned and mirrored as its INSERT says", () => {
    expect(bounds(at())).toEqual([100, 50, 140, 110]);
    expect(bounds(at(41, 2, 42, 0.5))).toEqual([100, 50, 180, 80]);
    expect(bounds(at(50, 90))).toEqual([40, 50, 100, 90]);
    expect(bounds(at(41, -1))).toEqual([60, 50, 100, 110]);
    expect(bounds(at(42, -1))).toEqual([100, -10, 140, 50]);
    // Mirrored first, then turned: x to -x, then (x, y) to (-y, x).
    expect(bounds(at(41, -1, 50, 90))).toEqual([40, 10, 100, 50]);
    // From below, everything around the INSERT runs backwards in x: 100 lies at -100.
    expect(bounds(at(210, 0, 220, 0, 230, -1))).toEqual([-140, 50, -100, 110]);
    expect(readPart(at(41, -1, 42, 3, 50, 33)).areaMm2).toBeCloseTo(3 * F_AREA, 8);
  });

  it("mirrored and turned is seen so, point by point", () => {
    const text = dxf(insert(10, 0, 20, 0, 41, -1, 50, 90), { blocks: block("F", F) });
    const { region, areaMm2 } = readPart(text);
    const seen = (x: number, y: number): boolean => pointInRing({ x, y }, region.outer);
    // A point x, y of the F goes to -x, y and then to -y, -x.
    for (const [x, y, holds] of [
      [30, 54, true],
      [25, 30, true],
      [6, 6, true],
      [30, 6, false],
      [37, 30, false],
    ] as const)
      expect(seen(-y, -x)).toBe(holds);
    expect(areaMm2).toBeCloseTo(F_AREA, 9);
  });

  it("turns about its base point, and lies in rows and columns along the turned axes", () => {
    const small = rectangle(1, 1, 2, 1);
    const holes = entity("INSERT", [
      2,
      "hole",
      10,
      50,
      20,
      50,
      41,
      2,
      42,
      2,
      50,
      90,
      70,
      3,
      71,
      2,
      44,
      10,
      45,
      20,
    ]);
    const text = dxf(rectangle(0, 0, 100, 100) + holes, { blocks: block("hole", small, [1, 1]) });
    const boxes = readPart(text).holes.map((hole) => {
      const { minX, minY, maxX, maxY } = pathBounds(hole);
      return [minX, minY, maxX, maxY].map((mm) => Math.round(mm * 1e9) / 1e9).join(" ");
    });
    // Columns of 10 run up, rows of 20 to the left; each copy is 2 wide and 4 high.
    expect(boxes.toSorted()).toEqual(
      [50, 30].flatMap((x) => [50, 60, 70].map((y) => `${x - 2} ${y} ${x} ${y + 4}`)).toSorted(),
    );
  });

  it("makes ellipses of its circles where its scales differ, and may hold other blocks", () => {
    const circle = entity("CIRCLE", 10, 0, 20, 0, 40, 10);
    const blocks =
      block("inner", circle) + block("OUTER", entity("INSERT", 2, "Inner", 10, 5, 20, 0, 42, 0.5));
    const text = dxf(entity("INSERT", 2, "outer", 10, 0, 20, 0, 41, 3, 42, 3), { blocks });
    const { areaMm2, cutLengthMm, outline } = readPart(text);
    expect(Math.abs(areaMm2 / (Math.PI * 30 * 15) - 1)).toBeLessThan(1e-7);
    expect(Math.abs(cutLengthMm / ellipseLength(30, 15) - 1)).toBeLessThan(1e-7);
    expect(pathBounds(outline).minX).toBeCloseTo(-15, 4);
  });

  it("joins with lines beside it", () => {
    const bracket = line(0, 0, 0, 30) + line(0, 30, 20, 30);
    const text = dxf(insert(10, 0, 20, 0) + line(20, 30, 0, 0), { blocks: block("F", bracket) });
    expect(readPart(text).areaMm2).toBeCloseTo(300, 9);
  });
});

describe("blocks that can not be drawn", () => {
  const cycle = block("a", entity("INSERT", 2, "b", 10, 0, 20, 0)) + block("b", insertOf("a"));

  it("are refused with their place", () => {
    expect(problemOf(dxf(insertOf("a"), { blocks: cycle }))).toMatchObject({
      code: "dxf-insert-cycle",
      found: "block a inside itself",
      column: "layer CUT: INSERT",
    });
    expect(problemOf(dxf(insertOf("c")))).toMatchObject({ code: "dxf-block-unknown", line: 20 });
    const reference = block("x", F).replace("70\n0\n", "70\n4\n");
    expect(problemOf(dxf(insertOf("x"), { blocks: reference })).code).toBe("dxf-reference");
    expect(problemOf(dxf(insert(10, 0, 20, 0, 41, 0), { blocks: block("F", F) }))).toMatchObject({
      code: "dxf-size",
      found: "a scale of 0",
    });
  });

  it("are refused within the time limit when they are bombs or chains without an end", () => {
    const ten = (name: string): string => insertOf(name).repeat(10);
    const bomb = Array.from({ length: 12 }, (_, depth) => block(`b${depth}`, ten(`b${depth + 1}`)));
    const blocks = bomb.join("") + block("b12", line(0, 0, 1, 1));
    expect(problemOf(dxf(insertOf("b0"), { blocks })).code).toBe("dxf-insert-many");
    const chain = Array.from({ length: 200 }, (_, depth) =>
      block(`b${depth}`, insertOf(`b${depth + 1}`)),
    );
    expect(problemOf(dxf(insertOf("b0"), { blocks: chain.join("") })).code).toBe("dxf-insert-deep");
    const array = insert(10, 0, 20, 0, 70, 30000, 71, 30000);
    expect(problemOf(dxf(array, { blocks: block("F", F) })).code).toBe("dxf-insert-many");
  });
});

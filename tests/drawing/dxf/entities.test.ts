import { describe, expect, it } from "vitest";
import { dxfLines, readDxf } from "../../../src/drawing/dxf/drawing.ts";
import { pathLength } from "../../../src/geometry/path.ts";
import { ellipseLength } from "../../geometry/closed-forms.ts";
import { block, dxf, entity, groups } from "./dxf-text.ts";

/** What goes in and what comes out, entity by entity: its segments, closed or open, its length. */

function vertex(x: number, y: number, bulge = 0): string {
  return groups(0, "VERTEX", 8, "0", 10, x, 20, y, 42, bulge);
}

function splineOf(degree: number, knots: readonly number[], weight: number | null): string {
  const xs = Array.from({ length: knots.length - degree - 1 }, (_, index) => 10 * index);
  return entity(
    "SPLINE",
    [70, 8, 71, degree, ...knots.flatMap((knot) => [40, knot])],
    weight === null ? [] : xs.flatMap((_, index) => [41, index === 1 ? weight : 1]),
    xs.flatMap((x) => [10, x, 20, 0]),
  );
}

const CUBIC = [0, 0, 0, 0, 1, 1, 1, 1];
const INSERTED = block("B", entity("CIRCLE", 10, 0, 20, 0, 40, 10));
const SQUARE = [10, 0, 20, 0, 10, 10, 20, 0, 10, 10, 20, 10, 10, 0, 20, 10] as const;
const HALF = 10 * Math.PI;

type Row = readonly [name: string, text: string, out: readonly string[], length: number];

const ROWS: readonly Row[] = [
  ["LINE", entity("LINE", 10, 0, 20, 0, 11, 30, 21, 40), ["open: line"], 50],
  ["CIRCLE", entity("CIRCLE", 10, 5, 20, 5, 40, 10), ["closed: arc arc"], 2 * HALF],
  ["ARC", entity("ARC", 10, 5, 20, 5, 40, 10, 50, 90, 51, 270), ["open: arc"], HALF],
  [
    "ARC, a whole turn",
    entity("ARC", 10, 5, 20, 5, 40, 10, 50, 0, 51, 360),
    ["closed: arc arc"],
    2 * HALF,
  ],
  [
    "ARC from below",
    entity("ARC", 10, 5, 20, 5, 40, 10, 50, 0, 51, 90, 230, -1),
    ["open: arc"],
    HALF / 2,
  ],
  [
    "ELLIPSE of ratio 1, half of it",
    entity("ELLIPSE", 10, 0, 20, 0, 11, 0, 21, 10, 40, 1, 41, 0, 42, Math.PI),
    ["open: arc"],
    HALF,
  ],
  [
    "LWPOLYLINE, open",
    entity("LWPOLYLINE", 90, 4, 70, 0, [...SQUARE]),
    ["open: line line line"],
    30,
  ],
  [
    "LWPOLYLINE, closed",
    entity("LWPOLYLINE", 90, 4, 70, 1, [...SQUARE]),
    ["closed: line line line line"],
    40,
  ],
  [
    "LWPOLYLINE, bulge 1 and back",
    entity("LWPOLYLINE", 90, 2, 70, 1, 10, 0, 20, 0, 42, 1, 10, 20, 20, 0),
    ["closed: arc line"],
    HALF + 20,
  ],
  [
    "LWPOLYLINE, closed with bulges",
    entity("LWPOLYLINE", 90, 2, 70, 1, 10, 0, 20, 0, 42, -1, 10, 20, 20, 0, 42, -1),
    ["closed: arc arc"],
    2 * HALF,
  ],
  [
    "POLYLINE, open",
    entity("POLYLINE", 66, 1, 70, 0) + vertex(0, 0) + vertex(9, 0) + groups(0, "SEQEND"),
    ["open: line"],
    9,
  ],
  [
    "POLYLINE, closed with a bulge",
    entity("POLYLINE", 66, 1, 70, 1) + vertex(0, 0, 1) + vertex(20, 0) + groups(0, "SEQEND"),
    ["closed: arc line"],
    HALF + 20,
  ],
  ["SPLINE of degree 1", splineOf(1, [0, 0, 1, 2, 2], null), ["open: line line"], 20],
  ["SPLINE of degree 2", splineOf(2, [0, 0, 0, 1, 1, 1], null), ["open: cubic"], 20],
  ["SPLINE of degree 3", splineOf(3, CUBIC, null), ["open: cubic"], 30],
  ["SPLINE with equal weights", splineOf(3, CUBIC, 1), ["open: cubic"], 30],
  ["INSERT", entity("INSERT", 2, "B", 10, 3, 20, 4), ["closed: arc arc"], 2 * HALF],
  [
    "INSERT, mirrored and turned",
    entity("INSERT", 2, "B", 10, 3, 20, 4, 41, -1, 50, 30),
    ["closed: arc arc"],
    2 * HALF,
  ],
  [
    "INSERT, half as large",
    entity("INSERT", 2, "B", 10, 3, 20, 4, 41, 0.5, 42, 0.5),
    ["closed: arc arc"],
    HALF,
  ],
  [
    "INSERT, an array of 2 x 2",
    entity("INSERT", 2, "B", 10, 3, 20, 4, 70, 2, 71, 2, 44, 30, 45, 30),
    Array.from({ length: 4 }, () => "closed: arc arc"),
    8 * HALF,
  ],
  ["VIEWPORT", entity("VIEWPORT"), [], 0],
];

function linesOf(text: string) {
  const { value } = readDxf("a.dxf", dxf(text, { blocks: INSERTED }));
  if (value === null) throw new RangeError("not read");
  return dxfLines(value, null, [], { file: "parts.csv", line: 2, column: null });
}

describe("entities that are read", () => {
  it.each(ROWS)("%s", (_, text, out, length) => {
    const { value, problems } = linesOf(text);
    expect(problems).toEqual([]);
    const lines = value?.lines ?? [];
    const kinds = lines.map(
      ({ path: { closed, segments } }) =>
        `${closed ? "closed" : "open"}: ${segments.map(({ kind }) => kind).join(" ")}`,
    );
    expect(kinds).toEqual(out);
    expect(lines.reduce((sum, { path }) => sum + pathLength(path), 0)).toBeCloseTo(length, 9);
  });

  it.each([
    ["ELLIPSE", entity("ELLIPSE", 10, 0, 20, 0, 11, 30, 21, 0, 40, 0.5)],
    ["INSERT, scaled unevenly", entity("INSERT", 2, "B", 10, 0, 20, 0, 41, 3, 42, 1.5)],
  ])("%s becomes cubics", (_, text) => {
    const { value } = linesOf(text);
    const [line, ...others] = value?.lines ?? [];
    expect(others).toEqual([]);
    expect(new Set(line?.path.segments.map(({ kind }) => kind))).toEqual(new Set(["cubic"]));
    const length = line === undefined ? 0 : pathLength(line.path);
    expect(Math.abs(length / ellipseLength(30, 15) - 1)).toBeLessThan(1e-7);
  });
});

describe("entities that are not read", () => {
  const NOTES = [
    "TEXT",
    "MTEXT",
    "ATTDEF",
    "HATCH",
    "DIMENSION",
    "LEADER",
    "IMAGE",
    "POINT",
    "WIPEOUT",
    "XLINE",
    "RAY",
    "TOLERANCE",
  ];
  const OTHERS = [
    "3DFACE",
    "3DSOLID",
    "SOLID",
    "TRACE",
    "REGION",
    "BODY",
    "SURFACE",
    "MESH",
    "MLINE",
    "HELIX",
    "SHAPE",
    "ANYTHING",
  ];

  it.each(NOTES)("%s is left out with a warning", (type) => {
    expect(linesOf(entity(type)).problems).toMatchObject([
      {
        severity: "warning",
        code: "dxf-left-out",
        column: `0: ${type}`,
        found: `1 ${type} (line 58)`,
      },
    ]);
  });

  it.each(OTHERS)("%s is refused by name", (type) => {
    expect(linesOf(entity(type)).problems).toMatchObject([
      { severity: "error", code: "dxf-not-supported", column: `0: ${type}` },
    ]);
  });

  it("ATTRIB of an INSERT is left out with a warning, and the block is drawn", () => {
    const text =
      entity("INSERT", 2, "B", 10, 0, 20, 0, 66, 1) + groups(0, "ATTRIB", 8, "0", 0, "SEQEND");
    const { value, problems } = linesOf(text);
    expect(value?.lines).toHaveLength(1);
    expect(problems).toMatchObject([{ severity: "warning", column: "0: ATTRIB" }]);
  });
});

import { dxfLines, readDxf } from "../../dist/drawing/dxf/drawing.js";
import { pathArea, pathBounds, pathLength } from "../../dist/geometry/path.js";
import { sentence } from "../../dist/problem.js";
import {
  block,
  dxf,
  entity,
  groups,
  rectangle,
} from "../../bench-out/tests/drawing/dxf/dxf-text.js";
import { drawn } from "./drawn-entities.js";
import { apart, heading, mm, say, table } from "./print.js";

/** Every kind of DXF entity in a little file of its own: what becomes of it and what is told. */

/** What is neither lines nor known to be harmless, with a few of the groups that such have. */
const OTHERS = {
  POINT: [10, 5, 20, 5],
  TEXT: [10, 0, 20, 0, 40, 5, 1, "bird"],
  MTEXT: [10, 0, 20, 0, 40, 5, 1, "bird"],
  ATTDEF: [10, 0, 20, 0, 40, 5, 1, "", 3, "name?", 2, "NAME"],
  DIMENSION: [2, "*D1", 10, 0, 20, 9, 13, 0, 23, 0, 14, 60, 24, 0],
  HATCH: [2, "SOLID", 70, 1, 91, 1, 92, 7, 93, 3, 10, 0, 20, 0, 10, 9, 20, 0, 10, 9, 20, 9],
  LEADER: [76, 2, 10, 0, 20, 0, 10, 9, 20, 9],
  IMAGE: [10, 0, 20, 0, 11, 1, 21, 0, 12, 0, 22, 1, 13, 64, 23, 64],
  WIPEOUT: [10, 0, 20, 0, 11, 1, 21, 0, 12, 0, 22, 1],
  XLINE: [10, 0, 20, 0, 11, 1, 21, 0],
  RAY: [10, 0, 20, 0, 11, 1, 21, 0],
  VIEWPORT: [10, 0, 20, 0, 40, 200, 41, 100],
  SOLID: [10, 0, 20, 0, 11, 9, 21, 0, 12, 0, 22, 9, 13, 9, 23, 9],
  TRACE: [10, 0, 20, 0, 11, 9, 21, 0, 12, 0, 22, 9, 13, 9, 23, 9],
  "3DFACE": [10, 0, 20, 0, 11, 9, 21, 0, 12, 9, 22, 9, 13, 0, 23, 9],
  REGION: [70, 1, 1, "mnj"],
  "3DSOLID": [70, 1, 1, "mnj"],
  MLINE: [2, "STANDARD", 72, 2, 10, 0, 20, 0, 11, 0, 21, 0, 11, 9, 21, 9],
  ACAD_PROXY_ENTITY: [90, 498, 91, 500],
};

function linesOf(text) {
  const { value, problems } = readDxf("a.dxf", text);
  if (value === null) return { lines: [], problems, isRefused: true };
  const read = dxfLines(value, null, [], { file: "parts.csv", line: 2, column: null });
  return {
    lines: (read.value?.lines ?? []).map(({ path }) => path),
    problems: [...problems, ...read.problems],
    isRefused: read.value === null,
  };
}

const SPACE =
  entity("POLYLINE", 66, 1, 70, 8) +
  groups(0, "VERTEX", 8, "0", 10, 0, 20, 0, 30, 5, 0, "VERTEX", 8, "0", 10, 9, 20, 0, 30, 9) +
  groups(0, "SEQEND");

const BIRD = { blocks: block("B", entity("CIRCLE", 10, 0, 20, 0, 40, 10)) };

/** Curves become cubics within 0.001 mm; more is wrong. */
const MOST = 1e-5;

/** Name, file, and the length in mm that a closed form gives; none for what may not be read. */
const CASES = [
  ...drawn,
  ["SPLINE, fit points only", dxf(entity("SPLINE", 70, 8, 71, 3, 11, 0, 21, 0, 11, 9, 21, 9))],
  ["POLYLINE in space", dxf(SPACE)],
  ["LINE that rises", dxf(entity("LINE", 10, 0, 20, 0, 30, 0, 11, 9, 21, 9, 31, 4))],
  ["CIRCLE, extrusion 1,0,0", dxf(entity("CIRCLE", 10, 9, 20, 9, 40, 2, 210, 1, 220, 0, 230, 0))],
  ["INSERT of a block not there", dxf(entity("INSERT", 2, "X", 10, 0, 20, 0))],
  [
    "INSERT with ATTRIB",
    dxf(
      entity("INSERT", 2, "B", 10, 0, 20, 0, 66, 1) + groups(0, "ATTRIB", 8, "0", 0, "SEQEND"),
      BIRD,
    ),
    20 * Math.PI,
  ],
  ...Object.entries(OTHERS).map(([type, more]) => [type, dxf(entity(type, ...more))]),
];

/** Only a VIEWPORT, which draws nothing, may be passed over in silence. */
export function entityTable() {
  heading(`${CASES.length} DXF files of one kind of entity each`);
  const wrong = [];
  const told = [];
  const rows = CASES.map(([name, text, length]) => {
    const { lines, problems, isRefused } = linesOf(text);
    const total = lines.reduce((sum, path) => sum + pathLength(path), 0);
    const inside = lines.reduce((sum, path) => sum + area(path), 0);
    const state = isRefused ? "refused" : lines.length > 0 ? "read" : "left out";
    const noted = !isRefused && problems.length > 0 ? `${state}, noted` : state;
    if (length !== undefined && !(apart(total, length) < MOST)) wrong.push(name);
    if (lines.length + problems.length === 0 && name !== "VIEWPORT")
      wrong.push(`${name}, in silence`);
    told.push(...problems.map((problem) => [name, sentence(problem)]));
    return [
      name,
      noted,
      lines.map(({ closed, segments }) => `${segments.length}${closed ? " closed" : ""}`)[0] ?? "",
      lines.length,
      lines.length === 0 ? "" : mm(total),
      length === undefined ? "" : mm(length),
      lines.length === 0 ? "" : mm(inside, 2),
    ];
  });
  table(["entity", "outcome", "pieces of the first", "lines", "mm", "by formula", "mm2"], rows, 3);
  say(`\nand what is told:`);
  table(["entity", "told"], told, 2);
  return wrong;
}

function area(path) {
  return path.closed ? Math.abs(pathArea(path)) : 0;
}

/** The DXF reference, `$INSUNITS`: mm in one unit; none for what is not read. */
const UNITS = [
  [null, null],
  [0, null],
  [1, 25.4],
  [2, 304.8],
  [3, undefined],
  [4, 1],
  [5, 10],
  [6, 1000],
  [14, 100],
];

export function unitTable() {
  heading("A rectangle of 2 x 1 units by $INSUNITS");
  const wrong = [];
  const rows = UNITS.map(([code, expected]) => {
    const header =
      code === null ? groups(9, "$ACADVER", 1, "AC1009") : groups(9, "$INSUNITS", 70, code);
    const { lines, problems } = linesOf(dxf(rectangle(0, 0, 2, 1), { header }));
    const { minX, maxX, minY, maxY } = lines[0] ? pathBounds(lines[0]) : {};
    const name = code === null ? "not there" : String(code);
    const sound =
      expected === undefined ? lines.length === 0 : apart(maxX - minX, 2 * (expected ?? 1)) < 1e-12;
    if (!sound) wrong.push(`$INSUNITS ${name}`);
    const size = lines[0] ? `${mm(maxX - minX, 1)} x ${mm(maxY - minY, 1)}` : "refused";
    return [name, size, problems.map(sentence).join(" ")];
  });
  table(["$INSUNITS", "mm", "told"], rows, 3);
  return wrong;
}

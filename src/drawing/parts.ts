import type { LineRule, Part, PartForm, Shape, SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { partFromLines, partGeometry, pieceOf } from "./assemble.ts";
import { borderAround } from "./border.ts";
import { Drawings, goneOn } from "./drawings.ts";
import type { Partly } from "./drawings.ts";
import { fragileSpots } from "./fragile.ts";
import { isDrawingName, nearest, sameText } from "../names.ts";
import { outlineNumber } from "./outlines.ts";
import { shapeFault, shapeHoleFault, shapeLines } from "./shape.ts";
import type { PartGeometry } from "./types.ts";

export { FLATTENING_MM } from "./flattening.ts";

/**
 * Outlines, holes, scores and engravings of every part, in the order of the parts, in mm with y up.
 * Each drawing is read once; what is wrong with it is said once. `each` has what could be read even
 * when there are errors, null for a part that could not.
 * @param texts the job's files, among them the drawings.
 */
export function readPartGeometry(
  parts: readonly Part[],
  texts: readonly SourceText[],
  lineRules: readonly LineRule[],
): Checked<readonly PartGeometry[]> & { readonly each: readonly (PartGeometry | null)[] } {
  const drawings = new Drawings(texts, lineRules);
  const read = parts.map((part) =>
    part.form.kind === "drawing"
      ? readDrawn(part, part.form, texts, drawings)
      : readShaped(part, part.form),
  );
  const each = read.map(({ value }) => value);
  const values = each.filter((value) => value !== null);
  const fragile = read.flatMap(({ value }, index) =>
    value === null ? [] : fragileSpots(value, parts[index]?.thicknessMm ?? 0),
  );
  const problems = distinct([
    ...read.flatMap((one) => one.problems),
    ...drawings.idleRules(),
    ...fragile,
  ]);
  return { ...checked(values, problems), each, problems };
}

type DrawnForm = Extract<PartForm, { kind: "drawing" }>;

function readDrawn(
  part: Part,
  { path, id }: DrawnForm,
  texts: readonly SourceText[],
  drawings: Drawings,
): Partly<PartGeometry> {
  const cell = { ...part.place, column: "drawing" };
  if (!isDrawingName(path)) return { value: null, problems: [otherFormat(cell, path)] };
  const drawing = drawings.open(path);
  if (drawing === null) return { value: null, problems: [missing(cell, path, texts)] };
  if (drawing.value === null) return { value: null, problems: drawing.problems };
  const number = id === null || drawing.value.has(id) ? null : outlineNumber(id);
  if (number !== null) {
    const { value, problems } = drawings.pieces(drawing.value, cell);
    const before = [...drawing.problems, ...problems];
    if (value === null) return { value, problems: before };
    return goneOn(before, pieceOf(part.name, value, number, cell));
  }
  const read = drawings.lines(drawing.value, id, cell);
  const before = [...drawing.problems, ...read.problems];
  if (read.drawn === null) return { value: null, problems: before };
  const { lines, place } = read.drawn;
  const made = partFromLines(part.name, lines, id === null ? null : place, place);
  const border = made.value === null ? [] : borderAround(made.value, drawing.value.page);
  return goneOn([...before, ...border], made);
}

function readShaped(part: Part, shape: Shape): Checked<PartGeometry> {
  const fault = shapeFault(shape);
  if (fault !== null) return { value: null, problems: [errorAt(part.place, fault)] };
  const astray = shapeHoleFault(shape);
  if (astray !== null)
    return { value: null, problems: [errorAt(inColumn(part.place, "holes"), astray)] };
  const { name, place } = part;
  const lines = { part: name, place, ...shapeLines(shape), scores: [], engravings: [] };
  return { value: partGeometry(lines), problems: [] };
}

/** Two parts from one drawing both meet its problems. */
function distinct(problems: readonly Problem[]): Problem[] {
  return [...new Map(problems.map((problem) => [JSON.stringify(problem), problem])).values()];
}

function otherFormat(cell: Place, path: string): Problem {
  return errorAt(cell, {
    code: "drawing-format",
    found: path,
    expected: "a drawing whose name ends in .svg or .dxf",
    mend: "Save the drawing as SVG or DXF and name that file",
  });
}

/** The drawing of the same name in another folder, if there is one. */
function elsewhere(path: string, drawings: readonly string[]): string | null {
  const same = drawings.filter((name) => sameText(fileName(name), fileName(path)));
  return same.length === 1 ? (same[0] ?? null) : null;
}

function fileName(path: string): string {
  return path.split("/").at(-1) ?? path;
}

function missing(cell: Place, path: string, texts: readonly SourceText[]): Problem {
  const drawings = texts.map(({ name }) => name).filter(isDrawingName);
  const near = elsewhere(path, drawings) ?? nearest(path, drawings);
  return errorAt(cell, {
    code: "drawing-missing",
    found: path,
    expected: "a drawing of the job folder",
    mend:
      near === null ? "Put the drawing into the job folder" : `Write "${near}" if that is meant`,
  });
}

import type { LineRule, Part, PartForm, Shape, SourceText } from "../job/types.ts";
import { errorAt } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { partFromLines, partGeometry, pieceOf, piecesFromLines } from "./assemble.ts";
import type { Pieces } from "./assemble.ts";
import { fragileSpots } from "./fragile.ts";
import { nearest } from "../names.ts";
import { isDrawingName, openDrawing } from "./open-drawing.ts";
import type { Drawing } from "./open-drawing.ts";
import { outlineNumber } from "./outlines.ts";
import { shapeFault, shapeLines } from "./shape.ts";
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
  const drawings = new Map<string, Checked<Drawing>>();
  const pieces = new Map<string, Checked<Pieces>>();
  const open = (text: SourceText): Checked<Drawing> => {
    const drawing = drawings.get(text.name) ?? openDrawing(text);
    drawings.set(text.name, drawing);
    return drawing;
  };
  const split = (drawing: Drawing, cell: Place): Checked<Pieces> => {
    const known = pieces.get(drawing.file) ?? piecesOf(drawing, lineRules, cell);
    pieces.set(drawing.file, known);
    return known;
  };
  const read = parts.map((part) =>
    part.form.kind === "drawing"
      ? readDrawn(part, part.form, texts, { lineRules, open, split })
      : readShaped(part, part.form),
  );
  const each = read.map(({ value }) => value);
  const values = each.filter((value) => value !== null);
  const fragile = read.flatMap(({ value }, index) =>
    value === null ? [] : fragileSpots(value, parts[index]?.thicknessMm ?? 0),
  );
  const problems = distinct([...read.flatMap((one) => one.problems), ...fragile]);
  return { value: values.length === parts.length ? values : null, each, problems };
}

type DrawnForm = Extract<PartForm, { kind: "drawing" }>;

/** What is done once for each drawing, however many parts it holds. */
interface Reading {
  readonly lineRules: readonly LineRule[];
  readonly open: (text: SourceText) => Checked<Drawing>;
  readonly split: (drawing: Drawing, cell: Place) => Checked<Pieces>;
}

function piecesOf(drawing: Drawing, lineRules: readonly LineRule[], cell: Place): Checked<Pieces> {
  const { value, problems } = drawing.lines(null, lineRules, cell);
  if (value === null) return { value, problems };
  const pieces = piecesFromLines(value.lines, value.place);
  return { value: pieces.value, problems: [...problems, ...pieces.problems] };
}

function readDrawn(
  part: Part,
  { path, id }: DrawnForm,
  texts: readonly SourceText[],
  { lineRules, open, split }: Reading,
): Checked<PartGeometry> {
  const cell = { ...part.place, column: "drawing" };
  if (!isDrawingName(path)) return { value: null, problems: [otherFormat(cell, path)] };
  const text = texts.find(({ name }) => name === path);
  if (text === undefined) return { value: null, problems: [missing(cell, path, texts)] };
  const drawing = open(text);
  if (drawing.value === null) return { value: null, problems: drawing.problems };
  const number = id === null || drawing.value.has(id) ? null : outlineNumber(id);
  if (number !== null) {
    const { value, problems } = split(drawing.value, cell);
    const before = [...drawing.problems, ...problems];
    if (value === null) return { value, problems: before };
    const geometry = pieceOf(part.name, value, number, cell);
    return { value: geometry.value, problems: [...before, ...geometry.problems] };
  }
  const drawn = drawing.value.lines(id, lineRules, cell);
  const before = [...drawing.problems, ...drawn.problems];
  if (drawn.value === null) return { value: null, problems: before };
  const { lines, place } = drawn.value;
  const geometry = partFromLines(part.name, lines, id === null ? null : place, place);
  return { value: geometry.value, problems: [...before, ...geometry.problems] };
}

function readShaped(part: Part, shape: Shape): Checked<PartGeometry> {
  const fault = shapeFault(shape);
  if (fault !== null) return { value: null, problems: [errorAt(part.place, fault)] };
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

function missing(cell: Place, path: string, texts: readonly SourceText[]): Problem {
  const drawings = texts.map(({ name }) => name).filter(isDrawingName);
  const near = nearest(path, drawings);
  return errorAt(cell, {
    code: "drawing-missing",
    found: path,
    expected: "a drawing of the job folder",
    mend:
      near === null ? "Put the drawing into the job folder" : `Write "${near}" if that is meant`,
  });
}

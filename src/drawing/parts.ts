import type { LineRule, Part, PartForm, Shape, SourceText } from "../job/types.ts";
import { errorAt } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { partFromLines, partGeometry, pieceOf, piecesFromLines } from "./assemble.ts";
import type { Pieces } from "./assemble.ts";
import { fragileSpots } from "./fragile.ts";
import { nearest } from "../names.ts";
import { outlineNumber } from "./outlines.ts";
import { shapeFault, shapeLines } from "./shape.ts";
import { drawnLines, readSvg } from "./svg/drawing.ts";
import type { SvgDrawing } from "./svg/drawing.ts";
import type { PartGeometry } from "./types.ts";

export { FLATTENING_MM } from "./flattening.ts";

/**
 * Outlines, holes, scores and engravings of every part, in the order of the parts, in mm with y up.
 * Each drawing is read once; what is wrong with it is said once.
 * @param texts the job's files, among them the drawings.
 */
export function readPartGeometry(
  parts: readonly Part[],
  texts: readonly SourceText[],
  lineRules: readonly LineRule[],
): Checked<readonly PartGeometry[]> {
  const drawings = new Map<string, Checked<SvgDrawing>>();
  const pieces = new Map<string, Checked<Pieces>>();
  const open = ({ name, text }: SourceText): Checked<SvgDrawing> => {
    const drawing = drawings.get(name) ?? readSvg(name, text);
    drawings.set(name, drawing);
    return drawing;
  };
  const split = (drawing: SvgDrawing): Checked<Pieces> => {
    const known = pieces.get(drawing.file) ?? piecesOf(drawing, lineRules);
    pieces.set(drawing.file, known);
    return known;
  };
  const read = parts.map((part) =>
    part.form.kind === "drawing"
      ? readDrawn(part, part.form, texts, { lineRules, open, split })
      : readShaped(part, part.form),
  );
  const values = read.flatMap(({ value }) => value ?? []);
  const fragile = read.flatMap(({ value }, index) =>
    value === null ? [] : fragileSpots(value, parts[index]?.thicknessMm ?? 0),
  );
  const problems = distinct([...read.flatMap((one) => one.problems), ...fragile]);
  return { value: values.length === parts.length ? values : null, problems };
}

type Drawing = Extract<PartForm, { kind: "drawing" }>;

/** What is done once for each drawing, however many parts it holds. */
interface Reading {
  readonly lineRules: readonly LineRule[];
  readonly open: (text: SourceText) => Checked<SvgDrawing>;
  readonly split: (drawing: SvgDrawing) => Checked<Pieces>;
}

function piecesOf(drawing: SvgDrawing, lineRules: readonly LineRule[]): Checked<Pieces> {
  const { value, problems } = drawnLines(drawing, null, lineRules);
  if (value === null) return { value, problems };
  const pieces = piecesFromLines(value.lines, value.place);
  return { value: pieces.value, problems: [...problems, ...pieces.problems] };
}

function readDrawn(
  part: Part,
  { path, id }: Drawing,
  texts: readonly SourceText[],
  { lineRules, open, split }: Reading,
): Checked<PartGeometry> {
  const cell = { ...part.place, column: "drawing" };
  if (!/\.svg$/i.test(path)) return { value: null, problems: [notSvg(cell, path)] };
  const text = texts.find(({ name }) => name === path);
  if (text === undefined) return { value: null, problems: [missing(cell, path, texts)] };
  const drawing = open(text);
  if (drawing.value === null) return { value: null, problems: drawing.problems };
  const number = id === null || drawing.value.index.byId.has(id) ? null : outlineNumber(id);
  if (number !== null) {
    const { value, problems } = split(drawing.value);
    const before = [...drawing.problems, ...problems];
    if (value === null) return { value, problems: before };
    const geometry = pieceOf(part.name, value, number, cell);
    return { value: geometry.value, problems: [...before, ...geometry.problems] };
  }
  const drawn = drawnLines(drawing.value, id, lineRules);
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

function notSvg(cell: Place, path: string): Problem {
  const isDxf = /\.dxf$/i.test(path);
  return errorAt(cell, {
    code: "drawing-format",
    found: path,
    expected: isDxf
      ? "an SVG drawing; DXF drawings are not read in this version"
      : "a drawing whose name ends in .svg",
    mend: "Save the drawing as SVG and name that file",
  });
}

function missing(cell: Place, path: string, texts: readonly SourceText[]): Problem {
  const drawings = texts.map(({ name }) => name).filter((name) => /\.svg$/i.test(name));
  const near = nearest(path, drawings);
  return errorAt(cell, {
    code: "drawing-missing",
    found: path,
    expected: "a drawing of the job folder",
    mend:
      near === null ? "Put the drawing into the job folder" : `Write "${near}" if that is meant`,
  });
}

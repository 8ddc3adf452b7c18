import type { DrawnForm, LineRule, Part, Shape, SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { offcutFromLines, partFromLines, partGeometry, pieceOf } from "./assemble.ts";
import { borderAround } from "./border.ts";
import { Drawings, goneOn } from "./drawings.ts";
import type { Partly } from "./drawings.ts";
import type { LinesRead } from "./drawn-line.ts";
import { fragileSpots } from "./fragile.ts";
import { isDrawingName, nearestDrawing } from "../names.ts";
import type { Drawing } from "./open-drawing.ts";
import { outlineNumber } from "./outlines.ts";
import { shapeFault, shapeHoleFault, shapeLines } from "./shape.ts";
import type { PartGeometry } from "./types.ts";

export { FLATTENING_MM } from "./flattening.ts";

/** What is left of a sheet, as it is drawn. */
export interface DrawnOffcut {
  readonly id: string;
  readonly form: DrawnForm;
  readonly place: Place;
}

/**
 * Outlines, holes, scores and engravings of every part, in the order of the parts, in mm with y up.
 * Each drawing is read once; what is wrong with it is said once. `each` has what could be read even
 * when there are errors, null for a part that could not.
 * @param texts the job's files, among them the drawings.
 * @param offcuts whose outlines are drawn; `offcuts` has these likewise.
 */
export function readPartGeometry(
  parts: readonly Part[],
  texts: readonly SourceText[],
  lineRules: readonly LineRule[],
  offcuts: readonly DrawnOffcut[] = [],
): Checked<readonly PartGeometry[]> & GeometryRead {
  const drawings = new Drawings(texts, lineRules);
  const read = parts.map((part) => {
    const { name, form, place } = part;
    return form.kind === "drawing"
      ? readDrawn({ name, form, place }, texts, drawings, partOf)
      : readShaped(part, form);
  });
  const each = read.map(({ value }) => value);
  const ofOffcuts = offcuts.map(({ id, ...drawn }) =>
    readDrawn({ name: id, ...drawn }, texts, drawings, offcutOf),
  );
  const values = each.filter((value) => value !== null);
  const fragile = read.flatMap(({ value }, index) =>
    value === null ? [] : fragileSpots(value, parts[index]?.thicknessMm ?? 0),
  );
  const problems = distinct([
    ...[...read, ...ofOffcuts].flatMap((one) => one.problems),
    ...drawings.idleRules(),
    ...fragile,
  ]);
  const drawn = ofOffcuts.map(({ value }) => value);
  return { ...checked(values, problems), each, offcuts: drawn, problems };
}

/** One for each asked for, null where there are errors. */
interface GeometryRead {
  readonly each: readonly (PartGeometry | null)[];
  readonly offcuts: readonly (PartGeometry | null)[];
}

/** Something drawn, of a part or an offcut. */
interface Drawn {
  readonly name: string;
  readonly form: DrawnForm;
  /** Its row. */
  readonly place: Place;
}

type FromLines = (
  drawn: Drawn,
  read: NonNullable<LinesRead["drawn"]>,
  drawing: Drawing,
) => Checked<PartGeometry>;

function readDrawn(
  drawn: Drawn,
  texts: readonly SourceText[],
  drawings: Drawings,
  fromLines: FromLines,
): Partly<PartGeometry> {
  const { path, id } = drawn.form;
  const cell = { ...drawn.place, column: "drawing" };
  const { drawing, problems: ofFile } = opened(path, cell, texts, drawings);
  if (drawing === null) return { value: null, problems: ofFile };
  const number = id === null || drawing.has(id) ? null : outlineNumber(id);
  if (number !== null) {
    const { value, problems } = drawings.pieces(drawing, cell);
    const before = [...ofFile, ...problems];
    if (value === null) return { value, problems: before };
    return goneOn(before, pieceOf(drawn.name, value, number, cell));
  }
  const read = drawings.lines(drawing, id, cell);
  const before = [...ofFile, ...read.problems];
  if (read.drawn === null) return { value: null, problems: before };
  return goneOn(before, fromLines(drawn, read.drawn, drawing));
}

const partOf: FromLines = ({ name, form: { id } }, { lines, place }, { page }) => {
  const made = partFromLines(name, lines, id === null ? null : place, place);
  const border = made.value === null ? [] : borderAround(made.value, page);
  return { ...made, problems: [...border, ...made.problems] };
};

const offcutOf: FromLines = ({ name, form: { id } }, { lines, place }) =>
  offcutFromLines(name, lines, place, id === null);

interface Opened {
  readonly drawing: Drawing | null;
  readonly problems: readonly Problem[];
}

function opened(
  path: string,
  cell: Place,
  texts: readonly SourceText[],
  drawings: Drawings,
): Opened {
  if (!isDrawingName(path)) return { drawing: null, problems: [otherFormat(cell, path)] };
  const drawing = drawings.open(path);
  if (drawing === null) return { drawing, problems: [missing(cell, path, texts)] };
  return { drawing: drawing.value, problems: drawing.problems };
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

function missing(cell: Place, path: string, texts: readonly SourceText[]): Problem {
  const drawings = texts.map(({ name }) => name).filter(isDrawingName);
  const near = nearestDrawing(path, drawings);
  return errorAt(cell, {
    code: "drawing-missing",
    found: path,
    expected: "a drawing of the job folder",
    mend:
      near === null ? "Put the drawing into the job folder" : `Write "${near}" if that is meant`,
  });
}

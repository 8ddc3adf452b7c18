import { flattenPath, isStraight } from "../geometry/flatten.ts";
import { pathArea, pathLength, reversePath } from "../geometry/path.ts";
import type { Path, Ring } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import { checked, errorAt, isError } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { nested } from "./containment.ts";
import { closedContours, openOrClosedLines } from "./contours.ts";
import type { DrawnLine, PlacedPath } from "./drawn-line.ts";
import { placesText } from "./fault.ts";
import { FLATTENING_MM } from "./flattening.ts";
import {
  innermostAround,
  noSuchOutline,
  outlinesInOrder,
  ownerless,
  ownersOf,
  severalOutlines,
} from "./outlines.ts";
import type { Outlined } from "./outlines.ts";
import { outsideOutline } from "./outside.ts";
import { roundHole } from "./round-holes.ts";
import type { DrawnTwice, PartGeometry } from "./types.ts";

/**
 * The lines of one part, sorted by what is done with them, as the geometry that all later stages
 * measure.
 * @param place where the part was named; null to take that of its outline.
 */
export function partFromLines(
  part: string,
  lines: readonly DrawnLine[],
  place: Place | null,
  drawing: Place,
): Checked<PartGeometry> {
  const { value, problems } = piecesFromLines(lines, place ?? drawing);
  if (value === null) return { value, problems };
  const outlines = value.pieces.filter(({ outline }) => outline.depth === 0);
  const islands = value.pieces.filter(({ outline }) => outline.depth > 0);
  const [piece] = outlines;
  const wrong = [
    ...(outlines.length > 1 ? [severalOutlines(value.pieces, drawing, place === null)] : []),
    ...(outlines.length === 1 ? island(islands.map(({ outline }) => outline.placed)) : []),
  ];
  if (piece === undefined || wrong.length > 0)
    return { value: null, problems: [...problems, ...wrong] };
  const drawn = {
    ...pieceLines(piece),
    part,
    place: place ?? piece.outline.placed.place,
    scores: value.scores.map(({ path }) => path),
    engravings: value.engravings.map(({ path }) => path),
    drawnTwice: value.drawnTwice,
  };
  const geometry = partGeometry(drawn, ringsOf(piece));
  return checked(geometry, [...problems, ...outsideOutline(piece.outline.ring.ring, value)]);
}

/** The pieces of a drawing, and what is scored and engraved on all of them. */
export interface Pieces {
  readonly pieces: readonly Outlined[];
  readonly scores: readonly PlacedPath[];
  readonly engravings: readonly PlacedPath[];
  readonly drawnTwice: readonly DrawnTwice[];
}

/** @param place of a drawing or element that may hold nothing to cut. */
export function piecesFromLines(lines: readonly DrawnLine[], place: Place): Checked<Pieces> {
  const of = (operation: Operation): DrawnLine[] =>
    lines.filter((line) => line.operation === operation);
  const cuts = closedContours(of("cut"), "cut");
  const scores = openOrClosedLines(of("score"));
  const engravings = closedContours(of("engrave"), "engrave");
  const problems = [cuts, scores, engravings].flatMap((contours) => contours.problems);
  if (cuts.paths.length === 0) {
    const explained = cuts.problems.some(isError);
    const missing = explained ? [] : [nothingToCut(place, lines.length, of("cut").length)];
    return { value: null, problems: [...problems, ...missing] };
  }
  const contours = nested(cuts.paths);
  const pieces = outlinesInOrder(contours.value ?? []);
  const drawnTwice = [
    ...cuts.doubled.map(({ path }) => ({ operation: "cut", path }) as const),
    ...scores.doubled.map(({ path }) => ({ operation: "score", path }) as const),
  ];
  const value = { pieces, scores: scores.paths, engravings: engravings.paths, drawnTwice };
  return checked(value, [...problems, ...contours.problems]);
}

/**
 * One piece of a drawing that holds several, with the scores and engravings inside its outline.
 * @param number counts the pieces from 1, see {@link outlinesInOrder}.
 * @param cell where the piece was asked for.
 */
export function pieceOf(
  part: string,
  { pieces, scores, engravings, drawnTwice }: Pieces,
  number: number,
  cell: Place,
): Checked<PartGeometry> {
  const piece = pieces[number - 1];
  if (piece === undefined) return { value: null, problems: [noSuchOutline(cell, number, pieces)] };
  const owners = [scores, engravings].map((lines) => ownersOf(lines, pieces));
  const lost = [scores, engravings].flatMap((lines, kind) =>
    lines.filter((_, index) => owners[kind]?.[index] === null),
  );
  const own = (lines: readonly PlacedPath[], kind: number): PlacedPath[] =>
    lines.filter((_, index) => owners[kind]?.[index] === number - 1);
  const kinds = { scores: own(scores, 0), engravings: own(engravings, 1) };
  const lines = {
    ...pieceLines(piece),
    part,
    place: piece.outline.placed.place,
    scores: kinds.scores.map(({ path }) => path),
    engravings: kinds.engravings.map(({ path }) => path),
    drawnTwice: drawnTwice.filter(({ path }) => innermostAround(path, pieces) === piece),
  };
  const geometry = partGeometry(lines, ringsOf(piece));
  const leaving = outsideOutline(piece.outline.ring.ring, kinds);
  return checked(geometry, [...ownerless(lost), ...leaving]);
}

function pieceLines({ outline, holes }: Outlined): Pick<PartGeometry, "outline" | "holes"> {
  return { outline: outline.placed.path, holes: holes.map(({ placed }) => placed.path) };
}

/** The polygons of a piece: its outline, then its holes. */
function ringsOf({ outline, holes }: Outlined): Ring[] {
  return [outline, ...holes].map(({ ring }) => ring.ring);
}

/**
 * What is left of a sheet: its outline, and out of it all that was cut before. What lies in a hole is
 * gone with it.
 * @param isWhole whether the lines are a whole drawing.
 */
export function offcutFromLines(
  name: string,
  lines: readonly DrawnLine[],
  drawing: Place,
  isWhole: boolean,
): Checked<PartGeometry> {
  const { value, problems } = piecesFromLines(lines, drawing);
  const outlines = value?.pieces.filter(({ outline }) => outline.depth === 0) ?? [];
  const [piece] = outlines;
  if (piece === undefined) return { value: null, problems };
  if (outlines.length > 1)
    return { value: null, problems: [...problems, severalOutlines(outlines, drawing, isWhole)] };
  const { place } = piece.outline.placed;
  const drawn = { ...pieceLines(piece), part: name, place, scores: [], engravings: [] };
  return checked(partGeometry(drawn, ringsOf(piece)), problems);
}

type Lines = Pick<PartGeometry, "part" | "place" | "outline" | "holes" | "scores" | "engravings"> &
  Partial<Pick<PartGeometry, "drawnTwice">>;

/**
 * Measures a part whose outline and holes are known to be closed, simple and nested.
 * @param rings of the outline and the holes as drawn, where they are flattened already.
 */
export function partGeometry(lines: Lines, rings?: readonly Ring[]): PartGeometry {
  const drawn = [lines.outline, ...lines.holes];
  const flat = rings ?? drawn.map((path) => flattenPath(path, FLATTENING_MM));
  const contours = drawn.map((path, index) => running(path, index === 0));
  const [outline = lines.outline, ...holes] = contours;
  const [outer = [], ...inner] = contours.map((path, index) =>
    path === drawn[index] ? (flat[index] ?? []) : runBack(flat[index] ?? []),
  );
  const straight = contours.every(isStraight);
  return {
    drawnTwice: [],
    ...lines,
    outline,
    holes,
    region: { outer, holes: inner },
    flatteningMm: straight ? 0 : FLATTENING_MM,
    areaMm2: contours.reduce((sum, path) => sum + pathArea(path), 0),
    cutLengthMm: contours.reduce((sum, path) => sum + pathLength(path), 0),
    roundHoles: holes.map(roundHole).filter((hole) => hole !== null),
  };
}

function running(path: Path, counterClockwise: boolean): Path {
  return pathArea(path) > 0 === counterClockwise ? path : reversePath(path);
}

/** From the same first point the other way. */
function runBack(ring: Ring): Ring {
  return [...ring.slice(0, 1), ...ring.slice(1).toReversed()];
}

function nothingToCut(place: Place, lines: number, cuts: number): Problem {
  const others =
    lines === 1 ? "a line that is not to be cut" : `${lines} lines, none of them to cut`;
  const drawn = lines === 0 ? "" : others;
  return errorAt(place, {
    code: "outline-missing",
    found: cuts > 0 ? "nothing to cut but specks" : drawn,
    expected: "a closed outline to cut",
    mend:
      lines === cuts
        ? "Draw the outline"
        : "Draw the outline, or mend the line rules so that it is cut",
  });
}

function island(contours: readonly PlacedPath[]): Problem[] {
  const [first] = contours;
  if (first === undefined) return [];
  const count = contours.length === 1 ? "a contour" : `${contours.length} contours`;
  const fault = {
    code: "contour-island",
    found: `${count} inside a hole, at ${placesText(contours.map(({ path }) => path.start))}`,
    expected: "nothing to cut inside a hole: it would fall out as a piece of its own",
    mend: "Give the inner piece its own row of the parts list (by id, or as #outline-1, #outline-2 ...) or delete it; if the outermost line is a border, delete that or leave it out by a line rule",
  };
  return [errorAt(first.place, fault)];
}

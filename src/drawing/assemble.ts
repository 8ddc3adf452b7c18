import { flattenPath, isStraight } from "../geometry/flatten.ts";
import { pathArea, pathLength, reversePath } from "../geometry/path.ts";
import type { Path } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import { checked, errorAt, isError } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { outlineAndHoles } from "./containment.ts";
import { closedContours, openOrClosedLines } from "./contours.ts";
import type { DrawnLine } from "./drawn-line.ts";
import { FLATTENING_MM } from "./flattening.ts";
import { roundHole } from "./round-holes.ts";
import type { PartGeometry } from "./types.ts";

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
  const of = (operation: Operation): DrawnLine[] =>
    lines.filter((line) => line.operation === operation);
  const cuts = closedContours(of("cut"), "cut");
  const scores = openOrClosedLines(of("score"));
  const engravings = closedContours(of("engrave"), "engrave");
  const problems = [cuts, scores, engravings].flatMap((contours) => contours.problems);
  if (cuts.paths.length === 0) {
    const explained = cuts.problems.some(isError);
    const missing = explained ? [] : [nothingToCut(place ?? drawing, lines.length)];
    return { value: null, problems: [...problems, ...missing] };
  }
  const nested = outlineAndHoles(cuts.paths);
  if (!("outline" in nested)) return { value: null, problems: [...problems, ...nested] };
  const geometry = partGeometry({
    part,
    place: place ?? nested.outline.place,
    outline: nested.outline.path,
    holes: nested.holes.map(({ path }) => path),
    scores: scores.paths.map(({ path }) => path),
    engravings: engravings.paths.map(({ path }) => path),
  });
  return checked(geometry, problems);
}

type Lines = Pick<PartGeometry, "part" | "place" | "outline" | "holes" | "scores" | "engravings">;

/** Measures a part whose outline and holes are known to be closed, simple and nested. */
export function partGeometry(lines: Lines): PartGeometry {
  const outline = running(lines.outline, "counter-clockwise");
  const holes = lines.holes.map((hole) => running(hole, "clockwise"));
  const contours = [outline, ...holes];
  const straight = contours.every(isStraight);
  return {
    ...lines,
    outline,
    holes,
    region: {
      outer: flattenPath(outline, FLATTENING_MM),
      holes: holes.map((hole) => flattenPath(hole, FLATTENING_MM)),
    },
    flatteningMm: straight ? 0 : FLATTENING_MM,
    areaMm2: contours.reduce((sum, path) => sum + pathArea(path), 0),
    cutLengthMm: contours.reduce((sum, path) => sum + pathLength(path), 0),
    roundHoles: holes.map(roundHole).filter((hole) => hole !== null),
  };
}

function running(path: Path, sense: "counter-clockwise" | "clockwise"): Path {
  return pathArea(path) > 0 === (sense === "counter-clockwise") ? path : reversePath(path);
}

function nothingToCut(place: Place, lines: number): Problem {
  return errorAt(place, {
    code: "outline-missing",
    found: lines === 0 ? "" : `${lines} lines, none of them to cut`,
    expected: "a closed outline to cut",
    mend: "Draw the outline, or mend the line rules so that it is cut",
  });
}

import type { PartGeometry, RoundHole } from "../drawing/types.ts";
import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText } from "../units.ts";
import { clearanceHoles } from "./iso273.ts";
import type { MeasuredJob } from "./types.ts";

/** Round holes that fixings go through. */

/** A hole counts for a diameter when it is within this of it: drawing and flattening noise. */
export const SAME_DIAMETER_MM = 0.05;

/** The holes of a part that a row of the job's hardware list counts. */
export function holesMeant(
  { holeDiameterMm }: HardwareUse,
  geometry: PartGeometry,
): readonly RoundHole[] {
  return holesOf(geometry, holeDiameterMm);
}

/** Its round holes of a diameter, or all. */
export function holesOf(
  { roundHoles }: PartGeometry,
  holeDiameterMm: number | null,
): readonly RoundHole[] {
  return roundHoles.filter(
    ({ diameterMm }) =>
      holeDiameterMm === null || Math.abs(diameterMm - holeDiameterMm) <= SAME_DIAMETER_MM,
  );
}

/** Glue by the bead or film of something that the table counts. */
export function glueProblems({ job, tables }: MeasuredJob): readonly Problem[] {
  return job.hardware.flatMap(({ item, glue, place }) => {
    const row = tables.hardware.find(({ id }) => id === item);
    if (glue === null || row === undefined || row.contentMl !== null) return [];
    return errorAt(inColumn(place, glue.kind), {
      code: "no-content",
      found: `a ${glue.kind} of ${item}`,
      expected: `its content_ml in hardware.csv, line ${row.place.line ?? 0}`,
      mend: "Fill in what a bottle holds, or count it by the piece",
    });
  });
}

/** Fixings counted by holes that their part does not have, or that are too small for them. */
export function holeProblems({ job, tables, parts }: MeasuredJob): readonly Problem[] {
  return job.hardware.flatMap((use) => {
    const named = parts.find(({ part }) => part.name === use.part);
    if (use.per !== "hole" || !named) return [];
    const holes = holesMeant(use, named.geometry);
    const row = tables.hardware.find(({ id }) => id === use.item);
    if (holes.length === 0) return [noSuchHole(use, named.geometry)];
    if (row === undefined) return [];
    return row.role === "insert" ? insertProblems(use, row, named) : tightHole(use, row, holes);
  });
}

/** An insert is pressed or screwed into a hole of its own, and does not reach through. */
function insertProblems(
  use: HardwareUse,
  { holeMm, lengthMm }: HardwareRow,
  { part, geometry }: MeasuredJob["parts"][number],
): readonly Problem[] {
  const other = holesMeant(use, geometry).find(
    ({ diameterMm }) => holeMm !== null && Math.abs(diameterMm - holeMm) > INSERT_HOLE_MM,
  );
  const place = inColumn(use.place, "hole diameter");
  return [
    ...(other === undefined || holeMm === null
      ? []
      : [
          warningAt(place, {
            code: "hole-not-of-insert",
            found: `a hole of ${sizeText(other.diameterMm)} in ${part.name} for ${use.item}`,
            expected: `${lengthText(holeMm)}, its hole_mm in hardware.csv`,
            mend: "Draw the hole so wide, or allow time to drill it out",
          }),
        ]),
    ...(lengthMm !== null && lengthMm > part.thicknessMm
      ? [
          warningAt(place, {
            code: "insert-too-long",
            found: `${use.item}, ${lengthText(lengthMm)} long, in ${part.name} of ${lengthText(part.thicknessMm)}`,
            expected: "an insert that is no longer than the sheet is thick",
            mend: "Take a shorter insert or a thicker sheet, unless it may stand out",
          }),
        ]
      : []),
  ];
}

/** An insert holds in a hole that is no further from its own than this (common practice, no source). */
const INSERT_HOLE_MM = 0.15;

export function noSuchHole(
  use: Pick<HardwareUse, "holeDiameterMm" | "place">,
  { part, roundHoles }: PartGeometry,
): Problem {
  const sizes = [...new Set(roundHoles.map(({ diameterMm }) => sizeText(diameterMm)))];
  const has = sizes.length === 0 ? "no round holes" : `round holes of ${sizes.join(", ")}`;
  return errorAt(inColumn(use.place, "hole diameter"), {
    code: "no-such-hole",
    found: use.holeDiameterMm === null ? "" : lengthText(use.holeDiameterMm),
    expected: `the diameter of a hole in ${part}, which has ${has}`,
    mend: "Correct the diameter or the part, or count the item per part instead",
  });
}

function tightHole(
  { place, part }: HardwareUse,
  { thread }: HardwareRow,
  holes: readonly RoundHole[],
): readonly Problem[] {
  const clearance = clearanceHoles(thread);
  if (clearance === null) return [];
  const { fineMm, mediumMm, coarseMm } = clearance;
  const tight = holes.find(({ diameterMm }) => diameterMm < fineMm - SAME_DIAMETER_MM);
  if (tight === undefined) return [];
  return [
    warningAt(inColumn(place, "hole diameter"), {
      code: "hole-too-small",
      found: `a hole of ${sizeText(tight.diameterMm)} in ${part} for ${thread}`,
      expected: `${lengthText(mediumMm)} or so (ISO 273: ${fineMm} fine, ${mediumMm} medium, ${coarseMm} coarse)`,
      mend: "Draw the hole larger, or allow time to drill it out",
    }),
  ];
}

/** A measured diameter without the noise of the drawing. */
function sizeText(diameterMm: number): string {
  return lengthText(Math.round(diameterMm * SIZES_PER_MM) / SIZES_PER_MM);
}

const SIZES_PER_MM = 100;

import type { PartGeometry, RoundHole } from "../drawing/types.ts";
import type { HardwareRow, HardwareUse } from "../job/types.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText } from "../units.ts";
import { clearanceHoles } from "./iso273.ts";
import type { MeasuredJob } from "./types.ts";

/** Round holes that fixings go through. */

/** A hole counts for a diameter when it is within this of it: drawing and flattening noise. */
const SAME_DIAMETER_MM = 0.05;

/** The holes of a part that a row of the job's hardware list counts. */
export function holesMeant(
  { holeDiameterMm }: HardwareUse,
  { roundHoles }: PartGeometry,
): readonly RoundHole[] {
  return roundHoles.filter(
    ({ diameterMm }) =>
      holeDiameterMm === null || Math.abs(diameterMm - holeDiameterMm) <= SAME_DIAMETER_MM,
  );
}

/** Fixings counted by holes that their part does not have, or that are too small for them. */
export function holeProblems({ job, tables, parts }: MeasuredJob): readonly Problem[] {
  return job.hardware.flatMap((use) => {
    const named = parts.find(({ part }) => part.name === use.part);
    if (use.per !== "hole" || !named) return [];
    const holes = holesMeant(use, named.geometry);
    const row = tables.hardware.find(({ id }) => id === use.item);
    if (holes.length === 0) return [noSuchHole(use, named.geometry)];
    return row ? tightHole(use, row, holes) : [];
  });
}

function noSuchHole(use: HardwareUse, { part, roundHoles }: PartGeometry): Problem {
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

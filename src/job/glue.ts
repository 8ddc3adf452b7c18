import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthUpTo, positiveUpTo } from "./cells.ts";
import { MOST } from "./limits.ts";
import { optional } from "./rows.ts";
import type { Readable, ValuesOf } from "./rows.ts";
import type { GlueRun } from "./types.ts";

/** Cells of the job's hardware.csv that say how much of a glue goes where. */

export const GLUE_COLUMNS = {
  beadMm: optional("bead", lengthUpTo(MOST.beadMm), null),
  beadLengthMm: optional("bead length", lengthUpTo(MOST.sizeMm), null),
  filmMm: optional("film", lengthUpTo(MOST.beadMm), null),
  gluedCm2: optional("glued area cm2", positiveUpTo(MOST.gluedCm2), null),
};

type GlueCells = ValuesOf<typeof GLUE_COLUMNS>;

/** Null where nothing is said of it. */
export function glueRun({ beadMm, beadLengthMm, filmMm, gluedCm2 }: GlueCells): GlueRun | null {
  if (beadMm !== null && beadLengthMm !== null)
    return { kind: "bead", diameterMm: beadMm, lengthMm: beadLengthMm };
  if (filmMm !== null && gluedCm2 !== null) return { kind: "film", filmMm, areaCm2: gluedCm2 };
  return null;
}

/** A bead has a width and a length, a film a thickness and an area; a row has one of the two. */
export function glueFaults(place: Place, cells: Readable<GlueCells>): readonly Problem[] {
  const { beadMm, beadLengthMm, filmMm, gluedCm2 } = cells;
  const halves = [
    ...half(place, ["bead", beadMm], ["bead length", beadLengthMm]),
    ...half(place, ["film", filmMm], ["glued area cm2", gluedCm2]),
  ];
  const both = [beadMm, filmMm].every((cell) => typeof cell === "number");
  return both ? [...halves, beadAndFilm(place)] : halves;
}

type Cell = readonly [column: string, value: number | null | undefined];

function half(place: Place, one: Cell, other: Cell): readonly Problem[] {
  const [said, silent] = typeof one[1] === "number" ? [one, other] : [other, one];
  if (typeof said[1] !== "number" || silent[1] !== null) return [];
  return [
    errorAt(inColumn(place, silent[0]), {
      code: "half-of-a-glue-run",
      found: "",
      expected: `the ${silent[0]} that goes with the ${said[0]} of ${said[1]}`,
      mend: "Fill in both or neither",
    }),
  ];
}

function beadAndFilm(place: Place): Problem {
  return errorAt(inColumn(place, "bead"), {
    code: "bead-and-film",
    found: "a bead and a film",
    expected: "one of the two in a row",
    mend: "Make two rows of it",
  });
}

import type { PartGeometry } from "../drawing/types.ts";
import { movedCuts } from "../fit/cut-lines.ts";
import { kerfFor } from "../fit/kerf.ts";
import type { Kerf } from "../fit/kerf.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import { pathBounds } from "../geometry/path.ts";
import type { Path } from "../geometry/types.ts";
import type { Job, MachineRow, Part, Tables } from "../job/types.ts";
import { errorAt, inColumn, inFile, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { counted } from "../names.ts";
import { stockName, trimmed } from "../units.ts";

/** Where the beam runs: on the lines as drawn, or half the kerf outside the part. */

export interface DrawnPart {
  readonly part: Part;
  /** As drawn: what the part is to be. */
  readonly geometry: PartGeometry;
}

export interface CutPart extends DrawnPart {
  /** What is nested, cut and laid out; the same as drawn where the job does not move its lines. */
  readonly cut: PartGeometry;
  /** What says how far the lines were moved; nothing where they were not. */
  readonly cutFrom: readonly Place[];
  /** What the beam takes from a contour beside the line as drawn, by contour; null if not known. */
  readonly kerfsMm: readonly (number | null)[];
}

export interface CutParts {
  readonly parts: readonly CutPart[];
  readonly problems: readonly Problem[];
}

/** Gaps and margins count from the lines that the beam follows, so what is nested are those. */
export function cutParts(
  parts: readonly DrawnPart[],
  { cutLines }: Pick<Job, "cutLines">,
  tables: Tables,
  machine: MachineRow | null,
  doubts: Doubts,
): CutParts {
  const cut = parts.map((drawn) => {
    const kerf = kerfOf(drawn.part, tables, machine);
    if (cutLines === "as drawn" || machine === null)
      return { part: asDrawn(drawn, kerf), problems: [] };
    return kerf === null
      ? { part: asDrawn(drawn, kerf), problems: unknownKerf(drawn.part, machine, doubts) }
      : withMovedCuts(drawn, kerf);
  });
  const still = cutLines !== "as drawn" && machine === null ? noBeam(doubts) : [];
  return {
    parts: cut.map(({ part }) => part),
    problems: [...still, ...cut.flatMap(({ problems }) => problems)],
  };
}

/** Of the job's machine in a material and thickness; null without a machine or a row for it. */
export function kerfOf(
  { material, thicknessMm }: Pick<Part, "material" | "thicknessMm">,
  { kerfs }: Tables,
  machine: MachineRow | null,
): Kerf | null {
  return machine === null ? null : kerfFor(kerfs, machine.id, material, thicknessMm);
}

function asDrawn(drawn: DrawnPart, kerf: Kerf | null): CutPart {
  const kerfsMm = contoursOf(drawn.geometry).map(() => kerf?.mm ?? null);
  return { ...drawn, cut: drawn.geometry, cutFrom: [], kerfsMm };
}

function contoursOf({ outline, holes }: PartGeometry): readonly Path[] {
  return [outline, ...holes];
}

function withMovedCuts(
  drawn: DrawnPart,
  kerf: Kerf,
): { readonly part: CutPart; readonly problems: readonly Problem[] } {
  const { geometry: cut, left } = movedCuts(drawn.geometry, kerf.mm);
  const cutFrom = kerf.rows.map(({ place }) => inColumn(place, "kerf_mm"));
  const contours = contoursOf(drawn.geometry);
  const kerfsMm = contours.map((_, index) => (left.includes(index) ? kerf.mm : 0));
  const part = { ...drawn, cut, cutFrom, kerfsMm };
  const first = contours[left[0] ?? -1];
  if (first === undefined) return { part, problems: [] };
  const { minX, minY, maxX, maxY } = pathBounds(first);
  const where = `${trimmed((minX + maxX) / 2, 1)}, ${trimmed((minY + maxY) / 2, 1)} mm`;
  const problem = warningAt(drawn.geometry.place, {
    code: "detail-under-kerf",
    found: `${counted(left.length, "contour")} with details narrower than the kerf of ${trimmed(kerf.mm, 3)} mm, about ${where}`,
    expected: "details that half the kerf can be taken off on either side",
    mend: "Make the detail wider; as it stands these contours are cut where they are drawn",
  });
  return { part, problems: [problem] };
}

function unknownKerf(
  { place, material, thicknessMm }: Part,
  machine: MachineRow,
  doubts: Doubts,
): readonly Problem[] {
  const wanted = { machine: machine.id, material, "thickness mm": thicknessMm };
  if (mayHold(doubts, "kerfs.csv", wanted)) return [];
  return [
    errorAt(inColumn(place, "thickness"), {
      code: "unknown-kerf",
      found: stockName({ material, thicknessMm }),
      expected: `a kerf of ${machine.id} in kerfs.csv for it, or for a thinner and a thicker sheet, because cut_lines are to be moved`,
      mend: "Measure the kerf and add a row to kerfs.csv, or write cut_lines: as drawn in job.yaml",
    }),
  ];
}

function noBeam(doubts: Doubts): readonly Problem[] {
  if (mayHold(doubts, "machines.csv", {})) return [];
  return [
    errorAt(inFile("job.yaml"), {
      code: "no-machine",
      found: "",
      expected: "a machine, whose kerf says how far cut_lines are moved",
      mend: "Name the machine in job.yaml, or write cut_lines: as drawn",
    }),
  ];
}

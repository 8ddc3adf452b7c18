import type { PartGeometry } from "../drawing/types.ts";
import { movedCuts } from "../fit/cut-lines.ts";
import { kerfFor } from "../fit/kerf.ts";
import type { Kerf } from "../fit/kerf.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
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
  if (cutLines === "as drawn") return { parts: parts.map(asDrawn), problems: [] };
  if (machine === null) return { parts: parts.map(asDrawn), problems: noBeam(doubts) };
  const moved = parts.map((drawn) => {
    const { material, thicknessMm } = drawn.part;
    const kerf = kerfFor(tables.kerfs, machine.id, material, thicknessMm);
    return kerf === null
      ? { part: asDrawn(drawn), problems: unknownKerf(drawn.part, machine, doubts) }
      : withMovedCuts(drawn, kerf);
  });
  return {
    parts: moved.map(({ part }) => part),
    problems: moved.flatMap(({ problems }) => problems),
  };
}

function asDrawn(drawn: DrawnPart): CutPart {
  return { ...drawn, cut: drawn.geometry, cutFrom: [] };
}

function withMovedCuts(
  drawn: DrawnPart,
  kerf: Kerf,
): { readonly part: CutPart; readonly problems: readonly Problem[] } {
  const { geometry: cut, left } = movedCuts(drawn.geometry, kerf.mm);
  const cutFrom = kerf.rows.map(({ place }) => inColumn(place, "kerf_mm"));
  const [first] = left;
  const part = { ...drawn, cut, cutFrom };
  if (first === undefined) return { part, problems: [] };
  const where = `${trimmed(first.x, 1)}, ${trimmed(first.y, 1)} mm`;
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

import { FigureSheet } from "../figure.ts";
import { layersText } from "../job/joints.ts";
import type { HardwareRow, JointUse, Tables } from "../job/types.ts";
import { sameText } from "../names.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import { holesOf, noSuchHole, SAME_DIAMETER_MM } from "./holes.ts";
import { clearanceHoles } from "./iso273.ts";
import { addNeeded, stockedBolts } from "./joints.ts";
import { coarsePitch } from "./metric-threads.ts";
import type { MeasuredJob } from "./types.ts";

/** What keeps a bolt from being picked for a joint, and what it would not go through. */
export function jointProblems(measured: MeasuredJob): readonly Problem[] {
  return measured.job.joints.flatMap((joint) => {
    const holders = holderProblems(joint, measured.tables);
    const holes = holesProblems(joint, measured);
    if (holders === null) return holes;
    return [...holders, ...holes, ...(holders.length > 0 ? [] : boltProblems(joint, measured))];
  });
}

/** Of nut, insert and washer; null where one is not in the tables, which is told elsewhere. */
function holderProblems(joint: JointUse, { hardware }: Tables): readonly Problem[] | null {
  const rowOf = (item: string): HardwareRow | undefined => hardware.find(({ id }) => id === item);
  const nut = rowOf(joint.nut);
  const washer = joint.washer === null ? null : rowOf(joint.washer);
  if (nut === undefined || washer === undefined) return null;
  return [
    ...(nut.role === "insert"
      ? unfit(joint, "nut", nut, { role: "insert", column: "length_mm", mm: nut.lengthMm })
      : unfit(joint, "nut", nut, { role: "nut", column: "height_mm", mm: nut.heightMm })),
    ...(washer === null || joint.washers === 0
      ? []
      : unfit(joint, "washer", washer, {
          role: "washer",
          column: "height_mm",
          mm: washer.heightMm,
        })),
    ...(coarsePitch(joint.thread) === null && nut.role !== "insert" ? [noPitch(joint)] : []),
  ];
}

interface Wanted {
  readonly role: HardwareRow["role"];
  readonly column: string;
  readonly mm: number | null;
}

function unfit(
  joint: JointUse,
  column: string,
  row: HardwareRow,
  wanted: Wanted,
): readonly Problem[] {
  if (row.role !== wanted.role || !sameText(row.thread, joint.thread))
    return [
      errorAt(inColumn(joint.place, column), {
        code: "not-of-the-joint",
        found:
          `${row.id}, ${row.role === "" ? "without a role" : `a ${row.role}`} ${row.thread}`.trim(),
        expected: `a ${wanted.role}${column === "nut" ? " or an insert" : ""} of ${joint.thread}: role and thread in hardware.csv`,
        mend: "Name another, or fill in its role and thread",
      }),
    ];
  if (wanted.mm !== null) return [];
  return [
    errorAt(inColumn(row.place, wanted.column), {
      code: "no-height",
      found: "",
      expected: `the ${wanted.column} of ${row.id}, which a joint is to be reckoned with`,
      mend: "Measure one, and fill it in",
    }),
  ];
}

function noPitch({ thread, place }: JointUse): Problem {
  return errorAt(inColumn(place, "thread"), {
    code: "unknown-pitch",
    found: thread,
    expected: "a coarse metric thread from M2 to M12, whose pitch is known",
    mend: "List bolt, nut and washers in hardware.csv instead",
  });
}

function boltProblems(joint: JointUse, { job, tables }: MeasuredJob): readonly Problem[] {
  const known = new Set(job.parts.map(({ name }) => name));
  if (joint.through.some((layer) => layer.kind === "part" && !known.has(layer.part))) return [];
  const stocked = stockedBolts(tables.hardware, joint.thread);
  const sheet = new FigureSheet();
  const needed = sheet.value(addNeeded(sheet, { job, tables }, joint));
  const longest = stocked.at(-1);
  if (longest !== undefined && needed.lte(longest.lengthMm)) return [];
  const lengths = stocked.map(({ lengthMm }) => trimmed(lengthMm, 1)).join(", ");
  return [
    errorAt(inColumn(joint.place, "through"), {
      code: "no-bolt-long-enough",
      found: `${layersText(joint.through)}, for which an ${joint.thread} bolt of ${lengthText(needed.toNumber())} or more is needed`,
      expected:
        longest === undefined
          ? `a bolt of ${joint.thread} with its length_mm in hardware.csv`
          : `no more than the longest of ${joint.thread} in hardware.csv: ${lengths} mm`,
      mend: "Add a row for a longer bolt, or correct the layers",
    }),
  ];
}

/** Holes to count, and in every part that it goes through one that the thread passes. */
function holesProblems(joint: JointUse, { parts }: MeasuredJob): readonly Problem[] {
  const counted = parts.find(({ part }) => part.name === joint.part);
  if (counted === undefined) return [];
  const holes = holesOf(counted.geometry, joint.holeDiameterMm);
  if (holes.length === 0) return [noSuchHole(joint, counted.geometry)];
  const fine = clearanceHoles(joint.thread)?.fineMm ?? 0;
  const names = [
    joint.part,
    ...joint.through.flatMap((one) => (one.kind === "part" ? one.part : [])),
  ];
  return [...new Set(names)].flatMap((name) => {
    const geometry = parts.find(({ part }) => part.name === name)?.geometry;
    const its = name === joint.part ? holes : geometry?.roundHoles;
    if (its === undefined || its.some(({ diameterMm }) => diameterMm >= fine - SAME_DIAMETER_MM))
      return [];
    return warningAt(inColumn(joint.place, "through"), {
      code: "hole-too-small",
      found: `no hole in ${name} that ${joint.thread} goes through`,
      expected: `a round hole of ${lengthText(fine)} or more (ISO 273, fine)`,
      mend: "Draw the hole, or allow time to drill it",
    });
  });
}

import { layersText } from "../job/joints.ts";
import type { HardwareRow, JointUse, Tables } from "../job/types.ts";
import { counted, sameText } from "../names.ts";
import { errorAt, inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import { holesOf, noSuchHole, SAME_DIAMETER_MM } from "./holes.ts";
import { clearanceHoles } from "./iso273.ts";
import type { Amount } from "../money.ts";
import { boltFor, leastDepth, stockedBolts } from "./joints.ts";
import type { Bolt } from "./joints.ts";
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
  const bolt = boltFor({ job, tables }, joint);
  if (bolt === null) return [];
  const { needed, taken } = bolt;
  if (taken !== null)
    return [...alike(joint, tables, taken), ...pastInsert(joint, tables, taken, needed)];
  const stocked = stockedBolts(tables.hardware, joint);
  const longest = stocked.at(-1);
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

/** Which of two bolts of one thread, head and length is meant is not for us to say. */
function alike(joint: JointUse, { hardware }: Tables, { row }: Bolt): readonly Problem[] {
  const twin = hardware.find(
    (other) =>
      other !== row &&
      other.role === "bolt" &&
      sameText(other.thread, row.thread) &&
      sameText(other.head, row.head) &&
      other.lengthMm === row.lengthMm,
  );
  if (twin === undefined) return [];
  return [
    errorAt(inColumn(joint.place, "thread"), {
      code: "bolts-alike",
      found: `${row.id} and ${twin.id}`,
      expected: `one ${joint.thread} bolt of ${lengthText(row.lengthMm ?? 0)} in hardware.csv to take`,
      mend: "Tell them apart by head, there and in the joint, or remove one",
    }),
  ];
}

/** A bolt longer than its insert is deep ends on the ground before it holds. */
function pastInsert(
  joint: JointUse,
  { hardware }: Tables,
  taken: Bolt,
  needed: Amount,
): readonly Problem[] {
  const insert = hardware.find(({ id, role }) => id === joint.nut && role === "insert");
  if (insert === undefined) return [];
  const most = needed.minus(leastDepth(joint, insert)).plus(insert.lengthMm ?? 0);
  if (most.gte(taken.lengthMm)) return [];
  return [
    warningAt(inColumn(joint.place, "through"), {
      code: "bolt-past-insert",
      found: `${taken.row.id}, which goes further than ${insert.id} is deep`,
      expected: `a bolt of ${lengthText(needed.toNumber())} to ${lengthText(most.toNumber())}`,
      mend: "Add washers or a row for such a bolt, unless the hole goes on below the insert",
    }),
  ];
}

/** Holes to count, and in every part that it goes through one that the thread passes. */
function holesProblems(joint: JointUse, { parts }: MeasuredJob): readonly Problem[] {
  const first = parts.find(({ part }) => part.name === joint.part);
  if (first === undefined) return [];
  const holes = holesOf(first.geometry, joint.holeDiameterMm);
  if (holes.length === 0) return [noSuchHole(joint, first.geometry)];
  const fine = clearanceHoles(joint.thread)?.fineMm ?? 0;
  const layers = joint.through.flatMap((one) => (one.kind === "part" ? one.part : []));
  const bolts = first.part.quantity * holes.length;
  return [...new Set([joint.part, ...layers])].flatMap((name) => {
    const layer = parts.find(({ part }) => part.name === name);
    if (layer === undefined) return [];
    const its = name === joint.part ? holes : layer.geometry.roundHoles;
    // A bore for a cable is no hole for the bolt.
    const serving = its.filter(
      ({ diameterMm }) => diameterMm >= fine - SAME_DIAMETER_MM && diameterMm <= fine * FAR_WIDER,
    );
    const there = layer.part.quantity * serving.length;
    return there >= bolts ? [] : [fewHoles(joint, name, there, bolts, fine)];
  });
}

/** A hole so much wider than its bolt is meant for something else (common practice, no source). */
const FAR_WIDER = 2;

function fewHoles(
  joint: JointUse,
  name: string,
  there: number,
  bolts: number,
  fine: number,
): Problem {
  return warningAt(inColumn(joint.place, "through"), {
    code: "hole-too-small",
    found: `${there === 0 ? "no hole" : counted(there, "hole")} in ${name} that ${joint.thread} goes through, for ${counted(bolts, "bolt")} to a piece`,
    expected: `round holes of ${lengthText(fine)} or more (ISO 273, fine)`,
    mend: "Draw the holes, or allow time to drill them",
  });
}

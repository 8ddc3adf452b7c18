import { readPartGeometry } from "../drawing/parts.ts";
import type { PartGeometry } from "../drawing/types.ts";
import type { EstimateInput } from "../estimate-data.ts";
import { collectIntake } from "../job/intake.ts";
import type { Need } from "../job/references.ts";
import type { Job, MachineRow, Part, Tables } from "../job/types.ts";
import { refuseUnsafe } from "../machine/laser-safety.ts";
import { checked } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";

/** A job that has been read and checked against its tables and drawings. */
export interface ReadJob {
  readonly job: Job;
  readonly tables: Tables;
  /** The job's, else the table set's own; null when neither names one that the table has. */
  readonly machine: MachineRow | null;
  /** In the order of the parts list. */
  readonly parts: readonly { readonly part: Part; readonly geometry: PartGeometry }[];
}

/** Reads everything there is to read and reports every problem of every file at once. */
export function readInput(input: EstimateInput, need: Need): Checked<ReadJob> {
  const { job, tables, materials, problems } = collectIntake(input, need);
  const drawn = readPartGeometry(job.parts, input.job, job.lineRules);
  const wanted = job.machine ?? tables.machine;
  const machine = tables.machines.find(({ id }) => id === wanted) ?? null;
  const parts = (drawn.value ?? []).flatMap((geometry, index) => {
    const part = job.parts[index];
    return part ? [{ part, geometry }] : [];
  });
  const unsafe = refuseUnsafe(materials);
  const all = [...unsafe, ...problems.filter((one) => !isAnswered(one, unsafe)), ...drawn.problems];
  return checked({ job, tables, machine, parts }, all);
}

/** What must never meet a laser is refused, not asked to be added to the table. */
function isAnswered({ code, file, line }: Problem, unsafe: readonly Problem[]): boolean {
  return (
    code === "unknown-material" && unsafe.some((one) => one.file === file && one.line === line)
  );
}

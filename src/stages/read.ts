import { readPartGeometry } from "../drawing/parts.ts";
import type { EstimateInput } from "../estimate-data.ts";
import { jobFileInDoubt } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import { collectIntake } from "../job/intake.ts";
import type { Need } from "../job/references.ts";
import type { Job, MachineRow, OffcutOnShelf, Part, Tables } from "../job/types.ts";
import { refuseUnsafe } from "../machine/laser-safety.ts";
import { spareRule } from "../pricing/spares.ts";
import type { SpareRule } from "../pricing/spares.ts";
import { unsaid } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { cutParts } from "./cut-lines.ts";
import type { CutPart } from "./cut-lines.ts";
import { drawnOffcuts, shapedOffcuts } from "./offcuts.ts";
import type { ShapedOffcut } from "./offcuts.ts";
import { slotCounts } from "./slots.ts";

export interface ReadPart extends CutPart {
  /** Of one copy, that a sheet of the job stands in. */
  readonly slots: number;
  /** Copies made on top; null for none. */
  readonly spare: SpareRule | null;
}

/** A job that has been read and checked against its tables and drawings. */
export interface ReadJob {
  readonly job: Job;
  readonly tables: Tables;
  /** The job's, else the table set's own; null when neither names one that the table has. */
  readonly machine: MachineRow | null;
  /** In the order of the parts list; last those of rows with a fault, as far as they are known. */
  readonly parts: readonly ReadPart[];
  /** Those whose shape is known. */
  readonly offcuts: readonly ShapedOffcut[];
}

export interface Reading {
  /** What could be read, also when there are errors: of it alone more can be judged. */
  readonly read: ReadJob;
  readonly doubts: Doubts;
  readonly problems: readonly Problem[];
}

/** Reads everything there is to read and reports every problem of every file at once. */
export function readInput(input: EstimateInput, need: Need): Reading {
  const { job, unsure, tables, materials, doubts, problems } = collectIntake(input, need);
  const unsafe = refuseUnsafe(materials);
  const drawable = [...job.parts, ...unsure].filter((part) => canBeDrawn(part, doubts));
  const offcuts = job.offcuts.filter((offcut) => canBeDrawn(offcut, doubts));
  const drawn = readPartGeometry(drawable, input.job, job.lineRules, drawnOffcuts(offcuts));
  const wanted = job.machine ?? tables.machine;
  const machine = tables.machines.find(({ id }) => id === wanted) ?? null;
  const whole = drawable.flatMap((part, index) => {
    const geometry = drawn.each[index] ?? null;
    const refused = unsafe.some((one) => isSameRow(one, part.place));
    return geometry === null || refused || !isStock(part) ? [] : [{ part, geometry }];
  });
  const unread = doubts.parts || unsure.length > 0 || whole.length < job.parts.length;
  const cut = cutParts(whole, job, tables, machine, doubts);
  const slots = slotCounts({ job, tables, machine, parts: cut.parts });
  return {
    read: {
      job,
      tables,
      machine,
      parts: cut.parts.map((one) => ({
        ...one,
        slots: slots.get(one.part.name) ?? 0,
        spare: spareRule(one.part, { job, tables }),
      })),
      offcuts: shapedOffcuts(offcuts, drawn.offcuts),
    },
    doubts: { ...doubts, parts: unread },
    problems: [
      ...unsafe,
      ...problems.filter((one) => !isAnswered(one, unsafe)),
      ...(unread ? drawn.problems.filter(isNoIdleRule) : drawn.problems),
      ...unsaid(cut.problems, problems),
    ],
  };
}

/** Whether it is known what the part is cut from. */
function isStock({ name, material, thicknessMm }: Part): boolean {
  return name !== "" && material !== "" && thicknessMm > 0;
}

/** A rule may be for a part that could not be read. */
function isNoIdleRule({ code }: Problem): boolean {
  return code !== "line-rule-idle";
}

/** Which lines of a drawing are cut is unknown while the rules for it are not read. */
function canBeDrawn({ form }: Pick<Part | OffcutOnShelf, "form">, doubts: Doubts): boolean {
  const ruled = jobFileInDoubt(doubts, "lines");
  return form.kind !== "drawing" || !ruled;
}

/** What must never meet a laser is refused, not asked to be added to the table. */
function isAnswered(problem: Problem, unsafe: readonly Problem[]): boolean {
  return problem.code === "unknown-material" && unsafe.some((one) => isSameRow(one, problem));
}

function isSameRow(a: Pick<Problem, "file" | "line">, b: Pick<Problem, "file" | "line">): boolean {
  return a.file === b.file && a.line === b.line;
}

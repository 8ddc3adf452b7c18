import {
  choice,
  day,
  mmUpTo,
  name,
  notNegativeUpTo,
  positiveUpTo,
  text,
  wholeUpTo,
} from "../job/cells.ts";
import { MOST } from "../job/limits.ts";
import { optional, required } from "../job/rows.ts";
import type { Operation } from "../job/types.ts";
import type { Place } from "../problem.ts";

/** What a job was estimated to take, and took: rows of the form that is filled in, and of the log. */

export interface Planned {
  readonly what: "machine" | "sheets" | "paint" | "hand work";
  /** Material and thickness, sheet, paint or task. */
  readonly item: string;
  /** Of the machine; `all` is the whole run of several. */
  readonly operation: Operation | "all" | null;
  readonly unit: string;
  readonly estimated: number;
  /** Id in the machines table; empty for what is no machine's work. */
  readonly machine: string;
  readonly material: string;
  readonly thicknessMm: number | null;
  /** Of the estimated minutes those along lines at the feed. */
  readonly workingMin: number | null;
  /** What these would be at half and at twice the feed; null in rows that were written without. */
  readonly halfFeedMin: number | null;
  readonly twiceFeedMin: number | null;
  /** The feed and passes that were estimated with. */
  readonly feedMmS: number | null;
  readonly passes: number | null;
  /** Of hand work the table's minutes for one of what the task counts; null where a job said others. */
  readonly eachMin: number | null;
}

/** Null in `took` where nobody noted it. */
export interface Taken extends Planned {
  readonly took: number | null;
  readonly note: string;
  readonly place: Place;
}

export interface Entry extends Taken {
  /** ISO 8601 day on which the job was made. */
  readonly done: string;
  readonly job: string;
}

export const TAKEN_COLUMNS = {
  what: required("what", choice(["machine", "sheets", "paint", "hand work"])),
  item: required("item", name),
  operation: optional("operation", choice(["cut", "score", "engrave", "all"]), null),
  estimated: required("estimated", notNegativeUpTo(MOST.counted)),
  unit: required("unit", text),
  took: optional("took", positiveUpTo(MOST.counted), null),
  note: optional("note", text, ""),
  machine: optional("machine", name, ""),
  material: optional("material", name, ""),
  thicknessMm: optional("thickness_mm", mmUpTo(MOST.thicknessMm), null),
  workingMin: optional("working_min", notNegativeUpTo(MOST.counted), null),
  feedMmS: optional("feed_mm_s", positiveUpTo(MOST.speedMmS), null),
  passes: optional("passes", wholeUpTo(MOST.passes), null),
  eachMin: optional("each_min", notNegativeUpTo(MOST.minutes), null),
  halfFeedMin: optional("half_feed_min", notNegativeUpTo(MOST.counted), null),
  twiceFeedMin: optional("twice_feed_min", notNegativeUpTo(MOST.counted), null),
};

export const LOG_COLUMNS = {
  done: required("done", day),
  job: required("job", name),
  ...TAKEN_COLUMNS,
};

type Written = Planned & Pick<Taken, "took" | "note">;

/** As they are written, in the order of the columns. */
export function cellsOf(row: Written): readonly string[] {
  const cells: Readonly<Record<keyof typeof TAKEN_COLUMNS, string>> = {
    what: row.what,
    item: row.item,
    operation: row.operation ?? "",
    estimated: numberText(row.estimated),
    unit: row.unit,
    took: numberText(row.took),
    note: row.note,
    machine: row.machine,
    material: row.material,
    thicknessMm: numberText(row.thicknessMm),
    workingMin: numberText(row.workingMin),
    feedMmS: numberText(row.feedMmS),
    passes: numberText(row.passes),
    eachMin: numberText(row.eachMin),
    halfFeedMin: numberText(row.halfFeedMin),
    twiceFeedMin: numberText(row.twiceFeedMin),
  };
  return Object.values(cells);
}

/** A thousandth of a minute, or of a mm/s, is more than anybody notes. */
const DECIMALS = 1000;

export function numberText(value: number | null): string {
  if (value === null) return "";
  const rounded = Math.round(value * DECIMALS) / DECIMALS;
  return value > 0 && rounded === 0 ? smallText(value) : String(rounded);
}

/** All digits of what is no 0: a cell that takes numbers above 0 would refuse it when read again. */
function smallText(value: number): string {
  const [digits = "", zeros = ""] = value.toExponential().split("e-");
  return `0.${"0".repeat(Number(zeros) - 1)}${digits.replace(".", "")}`;
}

/** What people call a column. */
export const OTHER_NAMES: Readonly<Record<string, string>> = {
  actual: "took",
  real: "took",
  date: "done",
};

/** What was timed together: the operations of a machine on one material of a job. */
export function runOf({ what, machine, item }: Taken): string {
  return [what, machine, item].join("\n");
}

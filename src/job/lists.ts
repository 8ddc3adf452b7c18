import { errorAt, inColumn, lineWord, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import {
  amount,
  amountUpTo,
  choice,
  length,
  name,
  notNegativeUpTo,
  positiveUpTo,
  text,
  wholeUpTo,
} from "./cells.ts";
import { choicesFor, mendName, plainName, spelling } from "../names.ts";
import { GLUE_COLUMNS, glueFaults, glueRun } from "./glue.ts";
import { JOINT_COLUMNS } from "./joints.ts";
import { optional, readRows, required } from "./rows.ts";
import type { Columns, Readable, ValuesOf } from "./rows.ts";
import { lengthText } from "../units.ts";
import { MOST } from "./limits.ts";
import type { NamedItem, NamedLength, NamedTask } from "./references.ts";
import type { HandWorkUse, HardwareUse, LengthUse, SourceText } from "./types.ts";
import { twinProblems } from "./twins.ts";

/** The lists beside the parts: hardware.csv, lengths.csv and hand-work.csv of the job folder. */

export interface ListRead<T, N> {
  /** Rows without a fault. */
  readonly uses: readonly T[];
  /** What all rows name, also faulty ones. */
  readonly named: readonly N[];
  readonly problems: readonly Problem[];
}

const HARDWARE_USE_COLUMNS = {
  item: required("item", name),
  quantity: required("qty", positiveUpTo(MOST.each)),
  per: optional("per", choice(["order", "piece", "part", "hole"]), "piece" as const),
  part: optional("part", text, null),
  holeDiameterMm: optional("hole diameter", length, null),
  ...GLUE_COLUMNS,
  note: optional("note", text, ""),
};

const LENGTH_USE_COLUMNS = {
  name: required("name", name),
  stock: required("stock", name),
  lengthMm: required("length", length),
  quantity: required("qty", wholeUpTo(MOST.each)),
  finish: optional("finish", text, null),
  note: optional("note", text, ""),
};

const HAND_WORK_COLUMNS = {
  task: required("task", name),
  part: optional("part", text, null),
  quantity: optional("qty", notNegativeUpTo(MOST.times), 1),
  minutes: optional("minutes", amountUpTo(MOST.minutes, amount.expected), null),
  note: optional("note", text, ""),
};

export const QUANTITY_NAMES: Readonly<Record<string, string>> = {
  quantity: "qty",
  count: "qty",
  pcs: "qty",
};

/** By the name of the list as a CSV. */
export const LIST_COLUMNS: ReadonlyMap<string, Columns> = new Map<string, Columns>([
  ["hardware.csv", HARDWARE_USE_COLUMNS],
  ["joints.csv", JOINT_COLUMNS],
  ["lengths.csv", LENGTH_USE_COLUMNS],
  ["hand-work.csv", HAND_WORK_COLUMNS],
]);

/** @param partNames of the parts list, among which a named part must be. */
export function readHardwareUses(
  source: SourceText,
  partNames: readonly string[],
): ListRead<HardwareUse, NamedItem> {
  const { rows, readable, problems } = readRows(source, HARDWARE_USE_COLUMNS, QUANTITY_NAMES);
  const named = readable.map(({ place, values: { item } }) => ({ place, item }));
  const faults = readable.flatMap((row) => [
    ...unknownPart(row, partNames),
    ...partAndPer(row),
    ...holeAndPer(row),
    ...glueFaults(row.place, row.values),
  ]);
  const uses = rows.map(
    ({ place, values: { item, quantity, per, part, holeDiameterMm, note, ...glue } }) => ({
      item,
      quantity,
      per,
      part: spelled(part, partNames),
      holeDiameterMm,
      glue: glueRun(glue),
      note,
      place,
    }),
  );
  return { uses, named, problems: [...problems, ...faults] };
}

export function readLengthUses(source: SourceText): ListRead<LengthUse, NamedLength> {
  const { rows, readable, problems } = readRows(source, LENGTH_USE_COLUMNS, QUANTITY_NAMES);
  const named = readable.map(({ place, values: { stock, finish } }) => ({ place, stock, finish }));
  const faults = twinProblems(
    readable.map(({ place, values: { name } }) => ({ place, name })),
    lengthTwice,
  );
  const uses = rows.map(({ place, values: { name, stock, lengthMm, quantity, finish, note } }) => ({
    name,
    stock,
    lengthMm,
    quantity,
    finish,
    note,
    place,
  }));
  return { uses, named, problems: [...problems, ...faults] };
}

/** @param partNames of the parts list, among which a named part must be. */
export function readHandWork(
  source: SourceText,
  partNames: readonly string[],
): ListRead<HandWorkUse, NamedTask> {
  const { rows, readable, problems } = readRows(source, HAND_WORK_COLUMNS, QUANTITY_NAMES);
  const named = readable.map(({ place, values: { task } }) => ({ place, task }));
  const faults = readable.flatMap((row) => unknownPart(row, partNames));
  const uses = rows.map(({ place, values: { task, part, quantity, minutes, note } }) => ({
    task,
    part: spelled(part, partNames),
    quantity,
    minutes,
    note,
    place,
  }));
  const silent = rows.length === 0 && problems.length === 0;
  const wrong = [...faults, ...uses.flatMap((use) => contradicted(use, uses))];
  return { uses, named, problems: [...problems, ...wrong, ...(silent ? [noTask(source)] : [])] };
}

/** Left out by one row and counted by another: what is meant is money. */
function contradicted(use: HandWorkUse, uses: readonly HandWorkUse[]): readonly Problem[] {
  const twin = uses.find(
    ({ task, part, quantity }) =>
      quantity > 0 && plainName(task) === plainName(use.task) && part === use.part,
  );
  if (use.quantity > 0 || twin === undefined) return [];
  return [
    errorAt(inColumn(use.place, "qty"), {
      code: "task-contradicted",
      found: "0",
      expected: `no other row that counts ${use.task}${use.part === null ? "" : ` for ${use.part}`}; line ${twin.place.line ?? 0} does`,
      mend: "Delete one of the two rows",
    }),
  ];
}

function spelled(part: string | null, names: readonly string[]): string | null {
  return part === null ? null : (spelling(part, names) ?? part);
}

/** Says nothing when no part could be read at all: then that is what needs mending. */
function unknownPart(
  { place, values: { part } }: { place: Place; values: Readable<{ part: string | null }> },
  names: readonly string[],
): readonly Problem[] {
  if (part === undefined || part === null || names.length === 0 || spelling(part, names) !== null)
    return [];
  return [
    errorAt(inColumn(place, "part"), {
      code: "unknown-part",
      found: part,
      expected: `a part of the parts list: ${choicesFor(part, names, "it")}`,
      mend: mendName(part, names, "add it to the parts list"),
    }),
  ];
}

interface HardwareCells {
  readonly place: Place;
  readonly values: Readable<ValuesOf<typeof HARDWARE_USE_COLUMNS>>;
}

function partAndPer({ place, values: { per, part } }: HardwareCells): readonly Problem[] {
  if (per === undefined || part === undefined) return [];
  const counted = per === "part" || per === "hole";
  if (counted === (part !== null)) return [];
  return [
    errorAt(inColumn(place, "part"), {
      code: counted ? "part-needed" : "part-not-used",
      found: part ?? "",
      expected: counted
        ? `the part whose copies${per === "hole" ? "' holes" : ""} are counted`
        : `an empty cell, because it is counted by ${per}`,
      mend: counted ? "Name the part" : "Empty the cell, or write part or hole under per",
    }),
  ];
}

function holeAndPer({ place, values: { per, holeDiameterMm } }: HardwareCells): readonly Problem[] {
  if (typeof holeDiameterMm !== "number" || per === undefined || per === "hole") return [];
  return [
    errorAt(inColumn(place, "hole diameter"), {
      code: "hole-not-used",
      found: lengthText(holeDiameterMm),
      expected: `an empty cell, because it is counted by ${per}`,
      mend: "Empty the cell, or write hole under per",
    }),
  ];
}

function lengthTwice(place: Place, name: string, twin: Place): Problem {
  return errorAt(inColumn(place, "name"), {
    code: "length-twice",
    found: name,
    expected: `a name that no other length has; ${lineWord(twin.file)} ${twin.line} has it already`,
    mend: "Rename one of the two, or add up their quantities in one row",
  });
}

function noTask({ name }: SourceText): Problem {
  return warningAt(
    { file: name, line: null, column: null },
    {
      code: "no-hand-work",
      found: "a header without rows",
      expected: "a row for each task",
      mend: "List the tasks, or remove the file: the usual tasks of the task table are counted",
    },
  );
}

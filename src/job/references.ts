import { chosenSheetProblems } from "./chosen-sheets.ts";
import { rushProblems } from "./rush-days.ts";
import { materialsOf, thicknessesOf } from "./stocked.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthText, sameThickness, trimmed } from "../units.ts";
import { choicesFor, eitherOf, mendName, sameText, spelling } from "../names.ts";
import { jobFileInDoubt, mayHold, NO_DOUBTS } from "./doubts.ts";
import type { Doubts } from "./doubts.ts";
import { fineSums } from "./price-checks.ts";
import type { NamedJoint } from "./joints.ts";
import type { Readable } from "./rows.ts";
import type {
  HandWorkUse,
  HardwareUse,
  Job,
  LengthUse,
  OffcutOnShelf,
  Part,
  Tables,
} from "./types.ts";

/** How much of the tables a command needs. */
export type Need = "nest" | "time" | "quote";

/** What a job names, row by row; undefined is a cell that could not be read. */
export interface Named extends Pick<
  Job,
  "machine" | "machinePlace" | "attended" | "machineDays" | "delivery" | "settings" | "sheets"
> {
  readonly parts: readonly NamedPart[];
  readonly hardware: readonly NamedItem[];
  readonly joints: readonly NamedJoint[];
  readonly lengths: readonly NamedLength[];
  readonly handWork: readonly NamedTask[];
  readonly offcuts: readonly NamedOffcut[];
}

export type NamedPart = At<Pick<Part, "material" | "thicknessMm" | "finish">>;
export type NamedItem = At<Pick<HardwareUse, "item">>;
export type NamedLength = At<Pick<LengthUse, "stock" | "finish">>;
export type NamedOffcut = At<Pick<OffcutOnShelf, "id" | "material" | "thicknessMm">>;
export type NamedTask = At<Pick<HandWorkUse, "task">>;

type At<V> = Readable<V> & { readonly place: Place };

/**
 * Everything that a job names and the tables do not have, each at the row of the job. Names are
 * compared without regard to case and runs of blanks.
 * @param doubts what of job and tables could not be read, and so is not called missing.
 */
export function checkReferences(
  job: Named,
  tables: Tables,
  need: Need,
  doubts: Doubts = NO_DOUBTS,
): readonly Problem[] {
  return [
    ...sheetProblems(job, tables, doubts),
    ...(need === "nest" ? [] : machineProblems(job, tables, doubts)),
    ...(need === "quote" ? quoteProblems(job, tables, doubts) : []),
  ];
}

/** The job with every name and thickness as the tables have it, where they have it. */
export function spelledAsTables(job: Job, tables: Tables): Job {
  const [finishes, materials] = [idsOf(tables.finishes), materialsOf(tables)];
  const finish = (name: string | null): string | null =>
    name === null ? null : (spelling(name, finishes) ?? name);
  const stockOf = (of: Stock): Stock => ({
    material: spelling(of.material, materials) ?? of.material,
    thicknessMm: stockedThickness(of, tables) ?? of.thicknessMm,
  });
  return {
    ...job,
    machine:
      job.machine === null ? null : (spelling(job.machine, idsOf(tables.machines)) ?? job.machine),
    delivery: job.delivery && {
      ...job.delivery,
      tariff: spelling(job.delivery.tariff, idsOf(tables.deliveries)) ?? job.delivery.tariff,
    },
    attended: job.attended && {
      ...job.attended,
      rate: spelling(job.attended.rate, idsOf(tables.rates)) ?? job.attended.rate,
    },
    parts: job.parts.map((part) =>
      Object.assign({}, part, { ...stockOf(part), finish: finish(part.finish) }),
    ),
    sheets: job.sheets.map(({ sheet, place }) => ({
      sheet: spelling(sheet, idsOf(tables.sheets)) ?? sheet,
      place,
    })),
    offcuts: job.offcuts.map((offcut) => Object.assign({}, offcut, stockOf(offcut))),
    hardware: job.hardware.map((use) =>
      Object.assign({}, use, { item: spelledItem(use.item, tables) }),
    ),
    joints: job.joints.map(({ nut, washer, ...joint }) => ({
      ...joint,
      nut: spelledItem(nut, tables),
      washer: washer === null ? null : spelledItem(washer, tables),
    })),
    lengths: job.lengths.map((use) =>
      Object.assign({}, use, {
        stock: spelling(use.stock, idsOf(tables.stockLengths)) ?? use.stock,
        finish: finish(use.finish),
      }),
    ),
    handWork: job.handWork.map((use) =>
      Object.assign({}, use, { task: spelling(use.task, idsOf(tables.tasks)) ?? use.task }),
    ),
  };
}

function spelledItem(item: string, tables: Tables): string {
  return spelling(item, idsOf(tables.hardware)) ?? item;
}

function idsOf(rows: readonly { readonly id: string }[]): readonly string[] {
  return [...new Set(rows.map(({ id }) => id))];
}

type Stock = Pick<Part, "material" | "thicknessMm">;

function stockedThickness({ material, thicknessMm }: Stock, tables: Tables): number | null {
  const gap = (mm: number): number => Math.abs(mm - thicknessMm);
  const [best] = thicknessesOf(material, tables).toSorted((a, b) => gap(a) - gap(b));
  return best !== undefined && sameThickness(best, thicknessMm) ? best : null;
}

function sheetProblems(job: Named, tables: Tables, doubts: Doubts): readonly Problem[] {
  const anySheet = mayHold(doubts, "sheets.csv", {});
  if (tables.sheets.length === 0)
    return anySheet ? [] : [emptyTable("sheets.csv", "a row for each sheet sold")];
  const materials = materialsOf(tables);
  const ofSheets = [...job.parts, ...job.offcuts].flatMap(({ place, material, thicknessMm }) => {
    if (material === undefined) return [];
    const size = thicknessMm === undefined ? {} : { "thickness mm": thicknessMm };
    if (mayHold(doubts, "sheets.csv", { material, ...size })) return [];
    if (spelling(material, materials) === null)
      return [unknown(place, "material", material, MATERIAL, materials)];
    if (thicknessMm === undefined) return [];
    const stock = { material, thicknessMm };
    return stockedThickness(stock, tables) === null ? [unknownThickness(place, stock, tables)] : [];
  });
  const ids = idsOf(tables.sheets);
  const taken = job.offcuts.flatMap(({ place, id }) =>
    id !== undefined && spelling(id, ids) !== null ? [idOfSheet(place, id)] : [],
  );
  return [...ofSheets, ...taken, ...chosenSheetProblems(job, tables.sheets, doubts)];
}

/** In a nest, on layouts and among the figures the two could not be told apart. */
function idOfSheet(place: Place, id: string): Problem {
  return errorAt(inColumn(place, "id"), {
    code: "offcut-named-as-sheet",
    found: id,
    expected: "an id that no sheet of the price table sheets.csv has",
    mend: "Give the offcut an id of its own",
  });
}

function unknownThickness(place: Place, { material, thicknessMm }: Stock, tables: Tables): Problem {
  const stocked = thicknessesOf(material, tables).map(lengthText);
  return errorAt(inColumn(place, "thickness"), {
    code: "unknown-thickness",
    found: lengthText(thicknessMm),
    expected: `a thickness in which ${material} is stocked: ${eitherOf(stocked, stocked.length)}`,
    mend: thicknessMend(thicknessMm, thicknessesOf(material, tables)),
  });
}

/** A sheet by the caliper is some tenths from its name. */
function thicknessMend(written: number, stocked: readonly number[]): string {
  const add = "choose one of these, or add the sheet to sheets.csv";
  const near = stocked
    .filter((one) => Math.abs(one - written) <= MEASURED_SHARE * one)
    .toSorted((a, b) => Math.abs(a - written) - Math.abs(b - written))[0];
  if (near === undefined) return `C${add.slice(1)}`;
  return `Write ${trimmed(near, 3)} here, and ${trimmed(written, 3)} as measured under \`measured:\` in job.yaml, if that is its thickness by the caliper; else ${add}`;
}

/** How far a sheet may be from its name, of the thickness (common practice, no source). */
const MEASURED_SHARE = 0.15;

function machineProblems(job: Named, tables: Tables, doubts: Doubts): readonly Problem[] {
  const machines = idsOf(tables.machines);
  const inDoubt =
    job.machine === null &&
    (mayHold(doubts, "settings.csv", { id: "machine" }) || jobFileInDoubt(doubts, "machine"));
  if (inDoubt) return [];
  const named = job.machine ?? tables.machine;
  if (mayHold(doubts, "machines.csv", named === null ? {} : { id: named })) return [];
  if (machines.length === 0) return [emptyTable("machines.csv", "a row for each machine")];
  if (named === null) return [noMachine(machines)];
  if (spelling(named, machines) !== null) return [];
  const file = job.machine === null ? "settings.csv" : "job.yaml";
  const place: Place = job.machinePlace ?? { file, line: null, column: null };
  return [unknown(place, place.column ?? "machine", named, MACHINE, machines)];
}

function noMachine(machines: readonly string[]): Problem {
  return errorAt(
    { file: "settings.csv", line: null, column: "machine" },
    {
      code: "no-machine",
      found: "",
      expected: `a machine: ${eitherOf(machines)}`,
      mend: "Name the machine in settings.csv, or under machine: in job.yaml",
    },
  );
}

function quoteProblems(job: Named, tables: Tables, doubts: Doubts): readonly Problem[] {
  const { hardware, lengths, handWork, attended, delivery } = job;
  const noneSaid = tables.currency === null && !mayHold(doubts, "settings.csv", { id: "currency" });
  return [
    ...(noneSaid ? [noCurrency()] : []),
    ...fineSums([job.settings, tables.settings], tables),
    ...finishProblems(job, tables, doubts),
    ...rushProblems(job, tables),
    ...(delivery ? named(delivery.place, "tariff", delivery.tariff, TARIFF, tables, doubts) : []),
    ...(attended ? named(attended.place, "attended", attended.rate, RATE, tables, doubts) : []),
    ...hardware.flatMap(({ place, item }) => named(place, "item", item, ITEM, tables, doubts)),
    ...job.joints.flatMap(({ place, nut, washer }) => [
      ...named(place, "nut", nut, ITEM, tables, doubts),
      ...named(place, "washer", washer ?? undefined, ITEM, tables, doubts),
    ]),
    ...lengths.flatMap(({ place, stock }) => named(place, "stock", stock, SECTION, tables, doubts)),
    ...handWork.flatMap(({ place, task }) => named(place, "task", task, TASK, tables, doubts)),
    ...handWork.flatMap(({ task }) => rateProblems(task, tables, doubts)),
  ];
}

/** A table that names refer to. */
interface Table {
  readonly file: string;
  /** Completes "expected ...". */
  readonly what: string;
}

interface Referred extends Table {
  readonly of: (tables: Tables) => readonly { readonly id: string }[];
}

const MATERIAL: Table = {
  file: "sheets.csv",
  what: "a material of the price table sheets.csv",
};
const MACHINE: Table = {
  file: "machines.csv",
  what: "a machine of the price table machines.csv",
};
const ITEM: Referred = {
  file: "hardware.csv",
  what: "an item of the price table hardware.csv",
  of: ({ hardware }) => hardware,
};
const SECTION: Referred = {
  file: "stock-lengths.csv",
  what: "a section of the price table stock-lengths.csv",
  of: ({ stockLengths }) => stockLengths,
};
const TASK: Referred = {
  file: "tasks.csv",
  what: "a task of the price table tasks.csv",
  of: ({ tasks }) => tasks,
};
const FINISH: Referred = {
  file: "finishes.csv",
  what: "an empty cell for bare, or a finish of the price table finishes.csv",
  of: ({ finishes }) => finishes,
};
const PAINT: Referred = {
  file: "paints.csv",
  what: "a paint of the price table paints.csv",
  of: ({ paints }) => paints,
};
const METHOD: Referred = {
  file: "methods.csv",
  what: "a method of the price table methods.csv",
  of: ({ methods }) => methods,
};
const TARIFF: Referred = {
  file: "deliveries.csv",
  what: "a tariff of the price table deliveries.csv",
  of: ({ deliveries }) => deliveries,
};
const RATE: Referred = {
  file: "rates.csv",
  what: "a rate of the price table rates.csv",
  of: ({ rates }) => rates,
};

function noCurrency(): Problem {
  return errorAt(
    { file: "settings.csv", line: null, column: "currency" },
    {
      code: "no-currency",
      found: "",
      expected: "the currency of all prices, a code of ISO 4217 such as EUR",
      mend: "Add a row currency to settings.csv",
    },
  );
}

function finishProblems(
  { parts, lengths }: Named,
  tables: Tables,
  doubts: Doubts,
): readonly Problem[] {
  const used = [...parts, ...lengths].flatMap(({ place, finish }) =>
    typeof finish === "string" ? [{ place, finish }] : [],
  );
  const steps = tables.finishes.filter(({ id }) => used.some(({ finish }) => sameText(finish, id)));
  const paints = tables.paints.filter(({ id }) => steps.some(({ paint }) => paint === id));
  return [
    ...used.flatMap(({ place, finish }) => named(place, "finish", finish, FINISH, tables, doubts)),
    ...steps.flatMap(({ place, paint }) =>
      named(place, "paint", paint ?? undefined, PAINT, tables, doubts),
    ),
    ...paints.flatMap(({ place, method }) =>
      named(place, "method", method ?? undefined, METHOD, tables, doubts),
    ),
  ];
}

function rateProblems(
  task: string | undefined,
  tables: Tables,
  doubts: Doubts,
): readonly Problem[] {
  const row = tables.tasks.find(({ id }) => task !== undefined && sameText(id, task));
  if (row === undefined) return [];
  return named(row.place, "rate", row.rate, RATE, tables, doubts);
}

function named(
  place: Place,
  column: string,
  name: string | undefined,
  table: Referred,
  tables: Tables,
  doubts: Doubts,
): readonly Problem[] {
  const known = idsOf(table.of(tables));
  if (name === undefined || spelling(name, known) !== null) return [];
  if (mayHold(doubts, table.file, { id: name })) return [];
  return [unknown(place, column, name, table, known)];
}

function unknown(
  place: Place,
  column: string,
  found: string,
  { file, what }: Table,
  known: readonly string[],
): Problem {
  return errorAt(inColumn(place, column), {
    code: `unknown-${column}`,
    found,
    expected: `${what}: ${choicesFor(found, known, file)}`,
    mend: mendName(found, known, `add it to ${file}`),
  });
}

function emptyTable(file: string, expected: string): Problem {
  return errorAt(
    { file, line: null, column: null },
    {
      code: "empty-table",
      found: "",
      expected,
      mend: "Fill the table, or name a table folder that has it",
    },
  );
}

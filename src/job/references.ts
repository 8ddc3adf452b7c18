import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthText } from "../units.ts";
import { eitherOf, mendName, sameText, spelling } from "../names.ts";
import type { Job, Part, Tables } from "./types.ts";

/** How much of the tables a command needs. */
export type Need = "nest" | "time" | "quote";

/** Thicknesses this near are the same sheet, mm. */
const SAME_THICKNESS_MM = 0.001;

/**
 * Everything that a job names and the tables do not have, each at the row of the job. Names are
 * compared without regard to case and runs of blanks.
 */
export function checkReferences(job: Job, tables: Tables, need: Need): readonly Problem[] {
  return [
    ...sheetProblems(job, tables),
    ...(need === "nest" ? [] : machineProblems(job, tables)),
    ...(need === "quote" ? quoteProblems(job, tables) : []),
  ];
}

/** The job with every name and thickness as the tables have it, where they have it. */
export function spelledAsTables(job: Job, tables: Tables): Job {
  const [finishes, materials] = [idsOf(tables.finishes), materialsOf(tables)];
  const finish = (name: string | null): string | null =>
    name === null ? null : (spelling(name, finishes) ?? name);
  return {
    ...job,
    machine:
      job.machine === null ? null : (spelling(job.machine, idsOf(tables.machines)) ?? job.machine),
    parts: job.parts.map((part) =>
      Object.assign({}, part, {
        material: spelling(part.material, materials) ?? part.material,
        thicknessMm: stockedThickness(part, tables) ?? part.thicknessMm,
        finish: finish(part.finish),
      }),
    ),
    hardware: job.hardware.map((use) =>
      Object.assign({}, use, { item: spelling(use.item, idsOf(tables.hardware)) ?? use.item }),
    ),
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

function idsOf(rows: readonly { readonly id: string }[]): readonly string[] {
  return [...new Set(rows.map(({ id }) => id))];
}

function materialsOf({ sheets }: Tables): readonly string[] {
  return [...new Set(sheets.map(({ material }) => material))];
}

function thicknessesOf(material: string, { sheets }: Tables): readonly number[] {
  const rows = sheets.filter((sheet) => sameText(sheet.material, material));
  return [...new Set(rows.map(({ thicknessMm }) => thicknessMm))].toSorted((a, b) => a - b);
}

function stockedThickness({ material, thicknessMm }: Part, tables: Tables): number | null {
  const gap = (mm: number): number => Math.abs(mm - thicknessMm);
  const [best] = thicknessesOf(material, tables).toSorted((a, b) => gap(a) - gap(b));
  return best !== undefined && gap(best) <= SAME_THICKNESS_MM ? best : null;
}

function sheetProblems(job: Job, tables: Tables): readonly Problem[] {
  if (tables.sheets.length === 0) return [emptyTable("sheets.csv", "a row for each sheet sold")];
  const materials = materialsOf(tables);
  return job.parts.flatMap((part) => {
    if (spelling(part.material, materials) === null)
      return [
        unknown(
          part.place,
          "material",
          part.material,
          "a material of the price table sheets.csv",
          materials,
        ),
      ];
    return stockedThickness(part, tables) === null ? [unknownThickness(part, tables)] : [];
  });
}

function unknownThickness({ place, material, thicknessMm }: Part, tables: Tables): Problem {
  const stocked = thicknessesOf(material, tables).map(lengthText);
  return errorAt(inColumn(place, "thickness"), {
    code: "unknown-thickness",
    found: lengthText(thicknessMm),
    expected: `a thickness in which ${material} is stocked: ${eitherOf(stocked)}`,
    mend: "Choose one of these, or add the sheet to sheets.csv",
  });
}

function machineProblems(job: Job, tables: Tables): readonly Problem[] {
  const machines = idsOf(tables.machines);
  if (machines.length === 0) return [emptyTable("machines.csv", "a row for each machine")];
  if (job.machine === null && tables.machine === null) return [noMachine(machines)];
  const named = job.machine ?? tables.machine ?? "";
  if (spelling(named, machines) !== null) return [];
  const file = job.machine === null ? "settings.csv" : "job.yaml";
  const place: Place = job.machinePlace ?? { file, line: null, column: null };
  return [
    unknown(
      place,
      place.column ?? "machine",
      named,
      "a machine of the price table machines.csv",
      machines,
    ),
  ];
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

function quoteProblems(job: Job, tables: Tables): readonly Problem[] {
  const { hardware, lengths, handWork } = job;
  return [
    ...(tables.currency === null ? [noCurrency()] : []),
    ...finishProblems(job, tables),
    ...hardware.flatMap(({ place, item }) =>
      named(place, "item", item, "an item of the price table hardware.csv", idsOf(tables.hardware)),
    ),
    ...lengths.flatMap(({ place, stock }) =>
      named(
        place,
        "stock",
        stock,
        "a section of the price table stock-lengths.csv",
        idsOf(tables.stockLengths),
      ),
    ),
    ...handWork.flatMap(({ place, task }) =>
      named(place, "task", task, "a task of the price table tasks.csv", idsOf(tables.tasks)),
    ),
    ...handWork.flatMap(({ task }) => rateProblems(task, tables)),
  ];
}

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

function finishProblems({ parts, lengths }: Job, tables: Tables): readonly Problem[] {
  const finishes = idsOf(tables.finishes);
  const paints = idsOf(tables.paints);
  const used = [...parts, ...lengths].flatMap(({ place, finish }) =>
    finish === null ? [] : [{ place, finish }],
  );
  const steps = tables.finishes.filter(({ id }) => used.some(({ finish }) => sameText(finish, id)));
  return [
    ...used.flatMap(({ place, finish }) =>
      named(
        place,
        "finish",
        finish,
        "an empty cell for bare, or a finish of the price table finishes.csv",
        finishes,
      ),
    ),
    ...steps.flatMap(({ place, paint }) =>
      named(place, "paint", paint, "a paint of the price table paints.csv", paints),
    ),
  ];
}

/** Only for a table set without rates.csv: otherwise the tables were checked when they were read. */
function rateProblems(task: string, tables: Tables): readonly Problem[] {
  const row = tables.tasks.find(({ id }) => sameText(id, task));
  if (row === undefined) return [];
  return named(
    row.place,
    "rate",
    row.rate,
    "a rate of the price table rates.csv",
    idsOf(tables.rates),
  );
}

function named(
  place: Place,
  column: string,
  name: string,
  what: string,
  known: readonly string[],
): readonly Problem[] {
  return spelling(name, known) === null ? [unknown(place, column, name, what, known)] : [];
}

function unknown(
  place: Place,
  column: string,
  found: string,
  what: string,
  known: readonly string[],
): Problem {
  return errorAt(inColumn(place, column), {
    code: `unknown-${column}`,
    found,
    expected: `${what}: ${eitherOf(known)}`,
    mend: mendName(found, known, "add it to the table"),
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

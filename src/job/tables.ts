import type { Amount } from "../money.ts";
import { checked, errorAt, inColumn, placeText, warningAt } from "../problem.ts";
import type { Checked, Place, Problem } from "../problem.ts";
import { choicesFor, mendName, plainName, sameText } from "../names.ts";
import { mayBeIn } from "./doubts.ts";
import type { TableDoubt } from "./doubts.ts";
import { finePrices } from "./price-checks.ts";
import { readSettings } from "./settings.ts";
import type { SettingRow } from "./settings.ts";
import { baseName, readTable } from "./table.ts";
import type { TableKind, TableRead, TableTexts } from "./table.ts";
import { machineFaults } from "./machine-checks.ts";
import {
  dryingOf,
  finishFaults,
  methodFaults,
  optionalSpread,
  paintFaults,
} from "./paint-checks.ts";
import {
  feedFaults,
  fitFaults,
  isFromShelf,
  sheetFaults,
  spreadFaults,
  spreadOf,
  stockLengthFaults,
  taskFaults,
} from "./table-checks.ts";
import * as columns from "./table-columns.ts";
import { TAXES, taxedTwice } from "./taxes.ts";
import type * as types from "./types.ts";
import { lengthText } from "../units.ts";

/**
 * Reads a table set and the job's own rows that go before it. A file that is missing is an empty
 * table: a command needs only the tables that it uses. Problems of all files come at once.
 * @param date ISO 8601 day on which rows must hold, or null for the newest.
 */
export function readTables(
  builtIn: readonly types.SourceText[],
  ofJob: readonly types.SourceText[],
  date: string | null,
): Checked<types.Tables> {
  const { tables, problems } = collectTables({ builtIn, ofJob, date });
  return checked(tables, problems);
}

/** As {@link readTables}, but with what could be read even when there are errors. */
export function collectTables(texts: TableTexts): {
  readonly tables: types.Tables;
  /** What of each file could not be read. */
  readonly doubts: ReadonlyMap<string, TableDoubt>;
  readonly problems: readonly Problem[];
} {
  const settingRows = readTable(SETTINGS, texts);
  const sheets = readTable(SHEETS, texts);
  const feeds = readTable(FEEDS, texts);
  const machines = readTable(MACHINES, texts);
  const finishes = readTable(FINISHES, texts);
  const paints = readTable(PAINTS, texts);
  const methods = readTable(METHODS, texts);
  const materials = readTable(MATERIALS, texts);
  const deliveries = readTable(DELIVERIES, texts);
  const hardware = readTable(HARDWARE, texts);
  const stockLengths = readTable(STOCK_LENGTHS, texts);
  const tasks = readTable(TASKS, texts);
  const rates = readTable(RATES, texts);
  const kerfs = readTable(KERFS, texts);
  const fits = readTable(FITS, texts);
  const taxes = readTable(TAXES, texts);
  const { machine, problems, ...settings } = readSettings(settingRows.rows);
  const priced = [settingRows, sheets, feeds, machines, finishes, paints, hardware, stockLengths];
  const all = [...priced, tasks, rates, kerfs, fits, methods, taxes, materials, deliveries];
  const setMachine =
    machine === null ? [] : [{ name: machine.value, column: "value", place: machine.place }];
  const strangeMachine = unknownIn(setMachine, machines);
  return {
    doubts: new Map([
      ...all.map(({ file, doubt }) => [file, doubt] as const),
      [SETTINGS.file, settingDoubt(settingRows, [...problems, ...strangeMachine])],
    ]),
    tables: {
      ...settings,
      machine: machine?.value ?? null,
      sheets: sheets.rows,
      feeds: feeds.rows,
      machines: machines.rows,
      finishes: finishes.rows,
      paints: paints.rows,
      methods: methods.rows,
      materials: materials.rows,
      deliveries: deliveries.rows,
      hardware: hardware.rows,
      stockLengths: stockLengths.rows,
      tasks: tasks.rows,
      rates: rates.rows,
      kerfs: kerfs.rows,
      fits: fits.rows,
      taxes: taxes.rows,
    },
    problems: [
      ...all.flatMap((table) => table.problems),
      ...problems,
      ...strangeNames(feeds, "machine", ({ machine }) => machine, machines),
      ...strangeNames(finishes, "paint", ({ paint }) => paint ?? "", paints).filter(
        ({ found }) => !sameText(found, "none"),
      ),
      ...strangeNames(paints, "method", ({ method }) => method ?? "", methods),
      ...strangeNames(paints, "thinner", ({ thinner }) => thinner ?? "", paints),
      ...strangeNames(kerfs, "machine", ({ machine }) => machine, machines),
      ...strangeNames(tasks, "rate", ({ rate }) => rate, rates),
      ...strangeMachine,
      ...idsTwoWays(all.filter((table) => table !== settingRows)),
      ...materialsTwoWays([sheets, feeds, kerfs, fits, materials]),
      ...unpayable(sheets, "price", (row) => (row.form === "sheet" ? row.price : null), settings),
      ...unpayable(paints, "price", ({ price }) => price, settings),
      ...unpayable(hardware, "pack price", ({ packPrice }) => packPrice, settings),
      ...unpayable(stockLengths, "price", ({ price }) => price, settings),
      ...taxedTwice(taxes.rows),
      ...unpayable(deliveries, "price", ({ price }) => price, settings),
      ...unusedFiles(texts),
    ],
  };
}

const SETTINGS: TableKind<typeof columns.SETTING_COLUMNS, SettingRow> = {
  file: "settings.csv",
  columns: columns.SETTING_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  fixedIds: true,
};

const SHEETS: TableKind<typeof columns.SHEET_COLUMNS, types.SheetRow> = {
  file: "sheets.csv",
  columns: columns.SHEET_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  faults: sheetFaults,
  same: (a, b) =>
    sameText(a.material, b.material) &&
    a.thicknessMm === b.thicknessMm &&
    a.widthMm === b.widthMm &&
    a.heightMm === b.heightMm,
};

const FEEDS: TableKind<typeof columns.FEED_COLUMNS, types.FeedRow> = {
  file: "feeds.csv",
  columns: columns.FEED_COLUMNS,
  row: ({ low, likely, high, ...values }, place) => ({
    ...values,
    feedMmS: spreadOf({ low, likely, high }),
    place,
  }),
  faults: feedFaults,
  // A row measured and one from elsewhere stand side by side, whichever is newer.
  key: ({ id, measured }) => `${id}\n${measured ? "measured" : ""}`,
  apart: ({ measured }) => (measured ? "measured" : ""),
  answersFor: ({ machine, operation, material, thicknessMm }) =>
    subject(machine, operation, material, lengthText(thicknessMm)),
};

const MACHINES: TableKind<typeof columns.MACHINE_COLUMNS, types.MachineRow> = {
  file: "machines.csv",
  columns: columns.MACHINE_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  faults: machineFaults,
};

/** A finish has one row for each step. */
const FINISHES: TableKind<typeof columns.FINISH_COLUMNS, types.FinishRow> = {
  file: "finishes.csv",
  columns: columns.FINISH_COLUMNS,
  row: ({ low, likely, high, paint, ...values }, place) => ({
    ...values,
    paint: paint.name,
    soakPercent: optionalSpread({ low, likely, high }),
    place,
  }),
  faults: finishFaults,
  key: ({ id, step }) => `${id}\n${step}`,
};

const PAINTS: TableKind<typeof columns.PAINT_COLUMNS, types.PaintRow> = {
  file: "paints.csv",
  columns: columns.PAINT_COLUMNS,
  row: ({ low, likely, high, ...values }, place) => ({
    ...values,
    spread: optionalSpread({ low, likely, high }),
    drying: dryingOf({ low, likely, high, ...values }),
    place,
  }),
  faults: paintFaults,
};

const METHODS: TableKind<typeof columns.METHOD_COLUMNS, types.MethodRow> = {
  file: "methods.csv",
  columns: columns.METHOD_COLUMNS,
  row: ({ lossLow, lossLikely, lossHigh, pastLow, pastLikely, pastHigh, ...values }, place) => ({
    ...values,
    lossPercent: spreadOf({ low: lossLow, likely: lossLikely, high: lossHigh }),
    pastMm: optionalSpread({ low: pastLow, likely: pastLikely, high: pastHigh }),
    place,
  }),
  faults: methodFaults,
};

const HARDWARE: TableKind<typeof columns.HARDWARE_COLUMNS, types.HardwareRow> = {
  file: "hardware.csv",
  columns: columns.HARDWARE_COLUMNS,
  row: (values, place) => ({ ...values, place }),
};

/** A section has one row for each length it is sold in, and one for each that lies on the shelf. */
const STOCK_LENGTHS: TableKind<typeof columns.STOCK_LENGTH_COLUMNS, types.StockLengthRow> = {
  file: "stock-lengths.csv",
  columns: columns.STOCK_LENGTH_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  faults: stockLengthFaults,
  adds: isFromShelf,
  key: (row) => `${row.id}\n${row.lengthMm}\n${isFromShelf(row) ? "shelf" : "sold"}`,
};

const TASKS: TableKind<typeof columns.TASK_COLUMNS, types.TaskRow> = {
  file: "tasks.csv",
  columns: columns.TASK_COLUMNS,
  row: ({ low, likely, high, ...values }, place) => ({
    ...values,
    minutes: spreadOf({ low, likely, high }),
    place,
  }),
  faults: taskFaults,
};

const RATES: TableKind<typeof columns.RATE_COLUMNS, types.RateRow> = {
  file: "rates.csv",
  columns: columns.RATE_COLUMNS,
  row: (values, place) => ({ ...values, place }),
};

const KERFS: TableKind<typeof columns.KERF_COLUMNS, types.KerfRow> = {
  file: "kerfs.csv",
  columns: columns.KERF_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  answersFor: ({ machine, material, thicknessMm }) =>
    subject(machine, material, lengthText(thicknessMm)),
};

const FITS: TableKind<typeof columns.FIT_COLUMNS, types.FitRow> = {
  file: "fits.csv",
  columns: columns.FIT_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  faults: fitFaults,
  answersFor: ({ material }) => material,
};

const MATERIALS: TableKind<typeof columns.MATERIAL_COLUMNS, types.MaterialRow> = {
  file: "materials.csv",
  columns: columns.MATERIAL_COLUMNS,
  row: ({ low, likely, high, ...values }, place) => ({
    ...values,
    densityKgM3: spreadOf({ low, likely, high }),
    place,
  }),
  faults: (row) => spreadFaults(row, ["density_low_kg_m3", "density_kg_m3", "density_high_kg_m3"]),
  answersFor: ({ material }) => material,
};

/** A tariff has one row for each step. */
const DELIVERIES: TableKind<typeof columns.DELIVERY_COLUMNS, types.DeliveryRow> = {
  file: "deliveries.csv",
  columns: columns.DELIVERY_COLUMNS,
  row: (values, place) => ({ ...values, place }),
  key: ({ id, upToKg }) => `${id}\n${upToKg}`,
};

function subject(...names: readonly string[]): string {
  return names.join(", ");
}

const FILES: readonly string[] = [
  ...[SETTINGS, SHEETS, FEEDS, MACHINES, FINISHES].map(({ file }) => file),
  ...[PAINTS, HARDWARE, STOCK_LENGTHS, TASKS, RATES, KERFS, FITS, METHODS].map(({ file }) => file),
  TAXES.file,
  ...[MATERIALS, DELIVERIES].map(({ file }) => file),
];

/** Also of rows whose value does not serve; an id that is none may have been meant to be any. */
function settingDoubt(
  { rows, doubt }: TableRead<SettingRow>,
  problems: readonly Problem[],
): TableDoubt {
  const faulty = rows.flatMap(({ id, place: { file, line } }) => {
    const fault = problems.find((one) => one.file === file && one.line === line);
    return fault ? [{ id: fault.column === "id" ? "" : id }] : [];
  });
  return { ...doubt, rows: [...doubt.rows, ...faulty] };
}

interface NameAt {
  readonly name: string;
  readonly column: string;
  readonly place: Place;
}

/** What rows refer to in a column and the table does not have, also rows with a fault elsewhere. */
function strangeNames<R extends types.TableRow>(
  { rows, faulty }: TableRead<R>,
  column: string,
  refer: (row: R) => string,
  referred: TableRead<types.TableRow>,
): readonly Problem[] {
  const names = [
    ...rows.map((row) => ({ name: refer(row), column, place: row.place })),
    ...faulty.map(({ place, cells }) => ({ name: cells[column] ?? "", column, place })),
  ];
  return unknownIn(
    names.filter(({ name }) => name !== ""),
    referred,
  );
}

/** References to an id which the table does not have; nothing without a table. */
function unknownIn(
  names: readonly NameAt[],
  { file, present, ids, doubt }: TableRead<types.TableRow>,
): readonly Problem[] {
  if (!present) return [];
  const known = new Set(ids);
  return names
    .filter(({ name }) => !known.has(name) && !mayBeIn(doubt, { id: name }))
    .map(({ name, column, place }) =>
      errorAt(inColumn(place, column), {
        code: "unknown-reference",
        found: name,
        expected: `an id of ${file}: ${choicesFor(name, ids, file)}`,
        mend: mendName(name, ids, `add a row for it to ${file}`),
      }),
    );
}

/** @param priceOf null for a rate, which may be as fine as it likes. */
function unpayable<R extends types.TableRow>(
  { rows, texts }: TableRead<R>,
  column: string,
  priceOf: (row: R) => Amount | null,
  { currency }: Pick<types.Tables, "currency">,
): readonly Problem[] {
  const cells = new Map(texts.map((text) => [placeText(text.place), text.cells]));
  const prices = rows.flatMap((row) => {
    const [price, place] = [priceOf(row), row.place];
    const written = cells.get(placeText(place))?.[column] ?? "";
    return price === null ? [] : [{ place, written, price }];
  });
  return finePrices(prices, column.replaceAll(" ", "_"), currency);
}

/** A table with a slip in its name would be missed in silence. */
function unusedFiles({ builtIn, ofJob }: TableTexts): readonly Problem[] {
  return [...builtIn, ...ofJob]
    .filter(({ name }) => plainName(name).endsWith(".csv") && !FILES.includes(baseName(name)))
    .map(({ name }) =>
      warningAt(
        { file: name, line: null, column: null },
        {
          code: "file-not-used",
          found: baseName(name),
          expected: `one of the tables ${FILES.join(", ")}`,
          mend: mendName(baseName(name), FILES, "leave it: it is not used in the estimate"),
        },
      ),
    );
}

function idsTwoWays(
  tables: readonly Pick<TableRead<types.TableRow>, "rows">[],
): readonly Problem[] {
  return spellingProblems(
    tables.map(({ rows }) => rows.map(({ id, place }) => ({ name: id, column: "id", place }))),
  );
}

type OfMaterial = Pick<types.SheetRow, "material" | "place">;

/** Over all tables that go by material. */
function materialsTwoWays(
  tables: readonly { readonly rows: readonly OfMaterial[] }[],
): readonly Problem[] {
  const named = tables.flatMap(({ rows }) =>
    rows.map(({ material, place }) => ({ name: material, column: "material", place })),
  );
  return spellingProblems([named]);
}

/** Names that differ in case or blanks only: taken as two, one of them would drop out in silence. */
function spellingProblems(lists: readonly (readonly NameAt[])[]): readonly Problem[] {
  return lists.flatMap((list) => {
    const first = new Map<string, string>();
    return list.flatMap(({ name, column, place }) => {
      const known = first.get(plainName(name));
      if (known === undefined) first.set(plainName(name), name);
      if (known === undefined || known === name) return [];
      return errorAt(inColumn(place, column), {
        code: "spelt-two-ways",
        found: name,
        expected: `"${known}", as another row spells it`,
        mend: "Spell it the same in every row, or give one of them another name",
      });
    });
  });
}

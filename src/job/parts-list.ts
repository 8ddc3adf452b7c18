import { errorAt, inColumn, lineWord } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { whole } from "./cells.ts";
import { missingColumn } from "./header.ts";
import { nearest, plainName } from "../names.ts";
import { OTHER_NAMES, PART_COLUMNS } from "./part-columns.ts";
import type { PartRow } from "./part-columns.ts";
import { readForm } from "./part-form.ts";
import type { NamedPart } from "./references.ts";
import { readRows } from "./rows.ts";
import type { Readable, RowsRead } from "./rows.ts";
import type { Part, SourceText } from "./types.ts";
import { twinProblems } from "./twins.ts";

export interface MaterialNamed {
  readonly material: string;
  /** Its row. */
  readonly place: Place;
}

export interface PartsRead {
  /** Parts without a fault, in the order of the list. */
  readonly parts: readonly Part[];
  /** Of rows with a fault that leaves their form: see {@link unsureOf}. */
  readonly unsure: readonly Part[];
  /** What all rows name, also faulty ones. */
  readonly named: readonly NamedPart[];
  /** Names of all rows, also of faulty ones; none when there may be more than are known. */
  readonly names: readonly string[];
  /** Of all rows, also of faulty ones: whether a material is safe must not wait for another cell. */
  readonly materials: readonly MaterialNamed[];
  readonly problems: readonly Problem[];
}

/**
 * Reads a parts list and reports every fault of every row.
 * @param texts all texts of the job, among which a drawing must be.
 */
export function readPartsList(list: SourceText, texts: readonly SourceText[]): PartsRead {
  const read = readRows(list, PART_COLUMNS, OTHER_NAMES);
  const drawings = texts.map(({ name }) => name);
  const sound = new Map(read.rows.map((row) => [row.place.line, row]));
  const parts: Part[] = [];
  const unsure: Part[] = [];
  const faults: Problem[] = [];
  for (const { place, values } of read.readable) {
    const { form, faults: ofForm } = readForm(values, drawings);
    faults.push(...ofForm.map(({ column, ...fault }) => errorAt(inColumn(place, column), fault)));
    const row = sound.get(place.line);
    if (form === null) continue;
    if (row === undefined) unsure.push(unsureOf(values, form, place));
    else parts.push(partOf(row, form));
  }
  const columns = neededColumns(read, faults);
  const answered = new Set(columns.flatMap(({ column, found }) => [column, found]));
  const problems = [
    ...columns,
    ...read.problems.filter((one) => one.code !== "unknown-column" || !answered.has(one.found)),
    ...twinProblems(
      read.readable.map(({ place, values: { name } }) => ({ place, name })),
      partTwice,
    ),
    ...noRows(list, read),
    ...faults.filter((one) => !isNeeded(one, answered)),
  ];
  const materials = read.texts.map(({ place, cells }) => ({
    place,
    material: cells["material"] ?? "",
  }));
  const nameless = read.unreadable || read.named.length < read.texts.length;
  const names = nameless ? [] : read.named;
  const named = read.readable.map(({ place, values: { material, thicknessMm, finish } }) => ({
    place,
    material,
    thicknessMm,
    finish,
  }));
  return { parts, unsure, named, names, materials, problems: withoutTotals(problems, read.texts) };
}

/** One problem for a row that adds up the others, however many of its cells are wrong. */
function withoutTotals(
  problems: readonly Problem[],
  rows: RowsRead<typeof PART_COLUMNS>["texts"],
): readonly Problem[] {
  const totals = rows.filter(
    ({ cells }) => TOTAL.test(cells["part"] ?? "") && !cells["material"] && !cells["thickness"],
  );
  const lines = new Set(totals.map(({ place }) => place.line));
  const others = problems.filter(({ line }) => line === null || !lines.has(line));
  return [...others, ...totals.map(({ place, cells }) => totalRow(place, cells["part"] ?? ""))];
}

const TOTAL = /^(?:sub|grand )?(?:total|sum)s?:?$/i;

function totalRow(place: Place, found: string): Problem {
  return errorAt(inColumn(place, "part"), {
    code: "total-row",
    found,
    expected: "rows of parts alone; they are added up for you",
    mend: "Delete the row",
  });
}

/**
 * Puts quantities from elsewhere in place of the list's own.
 * @param quantities by part name.
 */
export function withQuantities(
  read: PartsRead,
  quantities: Readonly<Record<string, number>>,
  list: Place,
): PartsRead {
  const { parts, names, problems } = read;
  const byName = new Map(
    Object.entries(quantities).map(([name, value]) => [plainName(name), value]),
  );
  const known = new Set(names.map(plainName));
  const faults = Object.entries(quantities).flatMap(([name, value]) => {
    const place = parts.find((part) => plainName(part.name) === plainName(name))?.place ?? list;
    if (!known.has(plainName(name))) return [unknownPart(list, name, names)];
    return whole.read(String(value)) === null ? [wrongQuantity(place, value)] : [];
  });
  const changed = parts.map((part) => {
    const quantity = byName.get(plainName(part.name));
    const quantityPlace = inColumn(part.place, "qty, changed on screen");
    return quantity === undefined ? part : Object.assign({}, part, { quantity, quantityPlace });
  });
  return { ...read, parts: changed, problems: [...problems, ...faults] };
}

function partOf({ values, place, other }: PartRow, form: Part["form"]): Part {
  const { name, quantity, material, thicknessMm, turn, flip, finish, spare, note } = values;
  const kind = { name, quantity, material, thicknessMm, form, turn, flip };
  const part = { ...kind, finish, spare, note, place };
  return Object.keys(other).length === 0 ? part : { ...part, other };
}

/**
 * A part of which something could not be read, to find what else is wrong with it: what is not known
 * is such that no fault follows. Without a name, a material or a thickness only its form is known.
 */
function unsureOf(
  { name, quantity, material, thicknessMm, turn, flip, finish, note }: Readable<PartRow["values"]>,
  form: Part["form"],
  place: Place,
): Part {
  return {
    name: name ?? "",
    quantity: quantity ?? 1,
    material: material ?? "",
    thicknessMm: thicknessMm ?? 0,
    form,
    turn: turn ?? "any",
    flip: flip ?? false,
    finish: finish ?? null,
    spare: null,
    note: note ?? "",
    place,
  };
}

/** Columns that may be left out, and without which these rows say nothing. */
const NEEDED = new Set(["no-drawing-or-shape", "size-missing"]);

/** Each once for all the rows that it is missing in. */
function neededColumns(
  { absent, head }: RowsRead<typeof PART_COLUMNS>,
  faults: readonly Problem[],
): readonly Problem[] {
  const wanted = faults.flatMap(({ code, column }) => (NEEDED.has(code) ? [column ?? ""] : []));
  return [...new Set(wanted)].flatMap((column) => {
    const slip = absent.get(column);
    const other = column === "drawing" ? absent.get("shape") : undefined;
    if (slip === undefined) return other ? [missingColumn(head, "shape", other)] : [];
    if (column !== "drawing" || slip !== "") return [missingColumn(head, column, slip)];
    if (other === undefined) return [];
    return [other === "" ? noFormColumn(head) : missingColumn(head, "shape", other)];
  });
}

function isNeeded({ code, column }: Problem, answered: ReadonlySet<string | null>): boolean {
  if (!NEEDED.has(code)) return false;
  return answered.has(column) || (column === "drawing" && answered.has("shape"));
}

function noFormColumn(head: Place): Problem {
  return errorAt(inColumn(head, "drawing"), {
    code: "missing-column",
    found: "",
    expected: "a column named drawing, or one named shape with those of its sizes",
    mend: "Add the column drawing, or shape with width, height and so on",
  });
}

function partTwice(place: Place, name: string, twin: Place): Problem {
  return errorAt(inColumn(place, "part"), {
    code: "part-twice",
    found: name,
    expected: `a name that no other part has; ${lineWord(twin.file)} ${twin.line} has it already`,
    mend: "Rename one of the two, or add up their quantities in one row",
  });
}

function noRows(
  list: SourceText,
  { named, problems }: RowsRead<typeof PART_COLUMNS>,
): readonly Problem[] {
  if (named.length > 0 || problems.some(({ severity }) => severity === "error")) return [];
  return [
    errorAt(
      { file: list.name, line: null, column: null },
      {
        code: "no-parts",
        found: "a header without rows",
        expected: "at least one part",
        mend: "Add a row for each part below the header",
      },
    ),
  ];
}

function unknownPart(list: Place, name: string, names: readonly string[]): Problem {
  const near = nearest(name, names);
  return errorAt(inColumn(list, "part"), {
    code: "unknown-part",
    found: name,
    expected: "the name of a part in the list, to change its quantity",
    mend: near === null ? "Choose a part of the list" : `Choose "${near}" if that is meant`,
  });
}

function wrongQuantity(place: Place, value: number): Problem {
  const found = String(value);
  const { code, expected, mend } = whole;
  return errorAt(inColumn(place, "qty"), { code, found, expected, mend: mend(found) });
}

import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { whole } from "./cells.ts";
import { nearest, plainName } from "../names.ts";
import { hidesRows } from "./doubts.ts";
import { OTHER_NAMES, PART_COLUMNS } from "./part-columns.ts";
import type { PartRow } from "./part-columns.ts";
import { readForm } from "./part-form.ts";
import { readRows } from "./rows.ts";
import type { RowsRead } from "./rows.ts";
import type { Part, SourceText } from "./types.ts";

export interface MaterialNamed {
  readonly material: string;
  /** Its row. */
  readonly place: Place;
}

export interface PartsRead {
  /** Parts without a fault, in the order of the list. */
  readonly parts: readonly Part[];
  /** Names of all rows, also of faulty ones; none when there may be more than can be read. */
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
  const problems = [...read.problems, ...namedTwice(read), ...noRows(list, read)];
  const parts: Part[] = [];
  for (const row of read.rows) {
    const { form, faults } = readForm(row.values, drawings);
    problems.push(
      ...faults.map(({ column, ...fault }) => errorAt(inColumn(row.place, column), fault)),
    );
    if (form !== null) parts.push(partOf(row, form));
  }
  const materials = read.texts.map(({ place, cells }) => ({
    place,
    material: cells["material"] ?? "",
  }));
  const names = hidesRows(read.problems) ? [] : read.named;
  return { parts, names, materials, problems };
}

/**
 * Puts quantities from elsewhere in place of the list's own.
 * @param quantities by part name.
 */
export function withQuantities(
  { parts, names, materials, problems }: PartsRead,
  quantities: Readonly<Record<string, number>>,
  list: Place,
): PartsRead {
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
  return { parts: changed, names, materials, problems: [...problems, ...faults] };
}

function partOf({ values, place, other }: PartRow, form: Part["form"]): Part {
  const { name, quantity, material, thicknessMm, turn, flip, finish, note } = values;
  const part = { name, quantity, material, thicknessMm, form, turn, flip, finish, note, place };
  return Object.keys(other).length === 0 ? part : { ...part, other };
}

/** Names are compared without regard to case: they become words in files and on screen. */
function namedTwice({ rows }: RowsRead<typeof PART_COLUMNS>): readonly Problem[] {
  const first = new Map<string, PartRow>();
  return rows.flatMap((row) => {
    const key = plainName(row.values.name);
    const twin = first.get(key);
    if (twin === undefined) first.set(key, row);
    return twin === undefined ? [] : [partTwice(row, twin)];
  });
}

function partTwice({ place, values }: PartRow, twin: PartRow): Problem {
  return errorAt(inColumn(place, "part"), {
    code: "part-twice",
    found: values.name,
    expected: `a name that no other part has; line ${twin.place.line} has it already`,
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

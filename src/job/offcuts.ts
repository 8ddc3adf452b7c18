import { Amount } from "../money.ts";
import { errorAt, inColumn, lineWord } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthText } from "../units.ts";
import { amount, count, length, name, text } from "./cells.ts";
import { readDrawingCell } from "./drawing-cell.ts";
import { missingColumn } from "./header.ts";
import type { ListRead } from "./lists.ts";
import type { NamedOffcut } from "./references.ts";
import { optional, readRows, required } from "./rows.ts";
import type { Readable, ValuesOf } from "./rows.ts";
import type { CellFault } from "./table-checks.ts";
import type { OffcutForm, OffcutOnShelf, SourceText } from "./types.ts";
import { twinProblems } from "./twins.ts";

/** The job's offcuts.csv: what lies on the shelf and may be used before anything is bought. */

export const OFFCUT_COLUMNS = {
  id: required("id", name),
  material: required("material", name),
  thicknessMm: required("thickness", length),
  widthMm: optional("width", length, null),
  heightMm: optional("height", length, null),
  drawing: optional("drawing", text, null),
  quantity: optional("qty", count, 1),
  price: optional("price", amount, new Amount(0)),
  note: optional("note", text, ""),
};

const OTHER_NAMES = { quantity: "qty", count: "qty", pcs: "qty", name: "id", offcut: "id" };

type Values = Readable<ValuesOf<typeof OFFCUT_COLUMNS>>;

/** @param texts names of the job's texts, among which drawings must be. */
export function readOffcuts(
  source: SourceText,
  texts: readonly string[],
): ListRead<OffcutOnShelf, NamedOffcut> {
  const { rows, readable, problems, absent, head } = readRows(source, OFFCUT_COLUMNS, OTHER_NAMES);
  const named = readable.map(({ place, values: { id, material, thicknessMm } }) => ({
    place,
    id,
    material,
    thicknessMm,
  }));
  const twice = twinProblems(
    readable.map(({ place, values: { id } }) => ({ place, name: id })),
    offcutTwice,
  );
  const forms = readable.map(({ place, values }) => ({ place, ...formOf(values, texts) }));
  const faults = forms.flatMap((read) =>
    read.faults.map((fault) => errorAt(inColumn(read.place, fault.column), fault)),
  );
  // Once for all the rows that it is missing in.
  const columns = SIDES.flatMap(({ column }) => {
    const slip = absent.get(column);
    const needed = faults.some((one) => isMissing(one, column));
    return slip !== undefined && needed ? [missingColumn(head, column, slip)] : [];
  });
  const uses = rows.flatMap(({ place, values }): readonly OffcutOnShelf[] => {
    const form = forms.find((one) => one.place.line === place.line)?.form ?? null;
    const { id, material, thicknessMm, quantity, price, note } = values;
    return form === null ? [] : [{ id, material, thicknessMm, form, quantity, price, note, place }];
  });
  // A column under another name is told once, as the one that is missing.
  const answered = new Set(columns.flatMap(({ column, found }) => [column, found]));
  const told = [
    ...columns,
    ...problems.filter((one) => one.code !== "unknown-column" || !answered.has(one.found)),
    ...faults.filter((one) => !columns.some(({ column }) => isMissing(one, column ?? ""))),
    ...twice,
  ];
  return { uses, named, problems: told };
}

const SIZE_MISSING = "size-missing";

function isMissing({ code, column }: Problem, side: string): boolean {
  return code === SIZE_MISSING && column === side;
}

const SIDES = [
  { field: "widthMm", column: "width" },
  { field: "heightMm", column: "height" },
] as const;

interface FormRead {
  readonly form: OffcutForm | null;
  readonly faults: readonly CellFault[];
}

/** A drawing, or two sides. A cell that could not be read is undefined, and no fault follows from it. */
function formOf(values: Values, texts: readonly string[]): FormRead {
  const { drawing, widthMm, heightMm } = values;
  if (drawing === undefined) return { form: null, faults: [] };
  if (drawing !== null) {
    const { form, faults } = readDrawingCell(drawing, texts);
    const surplus = SIDES.flatMap(({ field, column }) => {
      const mm = values[field];
      return typeof mm === "number" ? [sizeNotUsed(column, mm)] : [];
    });
    return { form: surplus.length > 0 ? null : form, faults: [...faults, ...surplus] };
  }
  const faults = SIDES.filter(({ field }) => values[field] === null).map(({ column }) =>
    sizeMissing(column),
  );
  if (typeof widthMm !== "number" || typeof heightMm !== "number") return { form: null, faults };
  return { form: { kind: "rectangle", widthMm, heightMm }, faults };
}

function sizeMissing(column: string): CellFault {
  return {
    column,
    code: SIZE_MISSING,
    found: "",
    expected: `the ${column} of the offcut, a length above 0, or a drawing of its outline`,
    mend: `Fill in ${column}, or name a drawing`,
  };
}

function sizeNotUsed(column: string, mm: number): CellFault {
  return {
    column,
    code: "size-not-used",
    found: lengthText(mm),
    expected: "an empty cell, because the drawing says how large the offcut is",
    mend: "Empty the cell, or empty drawing",
  };
}

function offcutTwice(place: Place, id: string, twin: Place): Problem {
  return errorAt(inColumn(place, "id"), {
    code: "offcut-twice",
    found: id,
    expected: `an id that no other offcut has; ${lineWord(twin.file)} ${twin.line} has it already`,
    mend: "Rename one of the two, or write how many there are of it under qty",
  });
}

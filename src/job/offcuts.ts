import { Amount } from "../money.ts";
import { errorAt, inColumn, lineWord } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { amount, count, length, name, text } from "./cells.ts";
import type { ListRead } from "./lists.ts";
import type { NamedOffcut } from "./references.ts";
import { optional, readRows, required } from "./rows.ts";
import type { OffcutOnShelf, SourceText } from "./types.ts";
import { twinProblems } from "./twins.ts";

/** The job's offcuts.csv: what lies on the shelf and may be used before anything is bought. */

export const OFFCUT_COLUMNS = {
  id: required("id", name),
  material: required("material", name),
  thicknessMm: required("thickness", length),
  widthMm: required("width", length),
  heightMm: required("height", length),
  quantity: optional("qty", count, 1),
  price: optional("price", amount, new Amount(0)),
  note: optional("note", text, ""),
};

const OTHER_NAMES = { quantity: "qty", count: "qty", pcs: "qty", name: "id", offcut: "id" };

export function readOffcuts(source: SourceText): ListRead<OffcutOnShelf, NamedOffcut> {
  const { rows, readable, problems } = readRows(source, OFFCUT_COLUMNS, OTHER_NAMES);
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
  const uses = rows.map(({ place, values }): OffcutOnShelf => ({ ...values, place }));
  return { uses, named, problems: [...problems, ...twice] };
}

function offcutTwice(place: Place, id: string, twin: Place): Problem {
  return errorAt(inColumn(place, "id"), {
    code: "offcut-twice",
    found: id,
    expected: `an id that no other offcut has; ${lineWord(twin.file)} ${twin.line} has it already`,
    mend: "Rename one of the two, or write how many there are of it under qty",
  });
}

import { choicesFor, mendName, spelling } from "../names.ts";
import { errorAt, inColumn, lineWord } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthText, parseLength } from "../units.ts";
import { countUpTo, length, name, text, thread } from "./cells.ts";
import type { CellKind } from "./cells.ts";
import type { ListRead } from "./lists.ts";
import { MOST } from "./limits.ts";
import { optional, readRows, required } from "./rows.ts";
import type { Readable, ValuesOf } from "./rows.ts";
import type { Clamped, JointUse, SourceText } from "./types.ts";
import { twinProblems } from "./twins.ts";

/** The job's joints.csv: what bolts go through, from which their length follows. */

/** As written: which of them are parts is known beside the parts list. */
type Through = readonly ({ readonly word: string } | { readonly mm: number })[];

/** `cap-plate + spacer-ring + 2 mm`. */
const through: CellKind<Through> = {
  code: "not-layers",
  expected: "parts and lengths with + between them, such as cap-plate + spacer-ring + 2 mm",
  read: (cell) => {
    const words = cell.split("+").map((word) => word.trim());
    if (words.includes("")) return null;
    return words.map((word) => {
      const mm = parseLength(word);
      return mm !== null && mm > 0 && mm <= MOST.sizeMm ? { mm } : { word };
    });
  },
  mend: () => "Name what lies between head and nut, in order, with + between",
};

export const JOINT_COLUMNS = {
  joint: required("joint", name),
  thread: required("thread", thread),
  head: optional("head", text, ""),
  part: required("part", name),
  holeDiameterMm: optional("hole diameter", length, null),
  through: required("through", through),
  nut: required("nut", name),
  washer: optional("washer", name, null),
  washers: optional("washers", countUpTo(MOST.washers), null),
  note: optional("note", text, ""),
};

type JointCells = ValuesOf<typeof JOINT_COLUMNS>;

/** What a row names of the tables, also a faulty one. */
export type NamedJoint = Readable<Pick<JointUse, "nut" | "washer">> & { readonly place: Place };

/** @param partNames of the parts list, among which the part and the layers that are no lengths must be. */
export function readJoints(
  source: SourceText,
  partNames: readonly string[],
): ListRead<JointUse, NamedJoint> {
  const { rows, readable, problems } = readRows(source, JOINT_COLUMNS);
  const faults = [
    ...readable.flatMap((row) => rowFaults(row, partNames)),
    ...twinProblems(
      readable.map(({ place, values }) => ({ place, name: values.joint })),
      jointTwice,
    ),
  ];
  const uses = rows.map(({ place, values }): JointUse => {
    const { joint, washers, washer, part, ...others } = values;
    return {
      ...others,
      name: joint,
      part: spelling(part, partNames) ?? part,
      through: values.through.map((one) => clamped(one, partNames)),
      washer,
      washers: washers ?? (washer === null ? 0 : USUAL_WASHERS),
      place,
    };
  });
  const named = readable.map(({ place, values: { nut, washer } }) => ({ place, nut, washer }));
  return { uses, named, problems: [...problems, ...faults] };
}

/** One under the head and one under the nut (common practice). */
const USUAL_WASHERS = 2;

function clamped(layer: Through[number], partNames: readonly string[]): Clamped {
  if ("mm" in layer) return { kind: "length", mm: layer.mm };
  return { kind: "part", part: spelling(layer.word, partNames) ?? layer.word };
}

function rowFaults(
  { place, values }: { readonly place: Place; readonly values: Readable<JointCells> },
  partNames: readonly string[],
): readonly Problem[] {
  const { part, washer, washers } = values;
  const layers = values.through ?? [];
  const words = layers.flatMap((layer) => ("word" in layer ? [layer.word] : []));
  const strangers = [
    ...(part === undefined ? [] : unknownPart(place, "part", part, partNames)),
    ...words.flatMap((word) => unknownPart(place, "through", word, partNames)),
  ];
  const without =
    washers !== undefined && washers !== null && washers > 0 && washer === null
      ? [noWasher(place, washers)]
      : [];
  return [...strangers, ...without];
}

/** Says nothing when no part could be read at all: then that is what needs mending. */
function unknownPart(
  place: Place,
  column: string,
  found: string,
  names: readonly string[],
): readonly Problem[] {
  if (names.length === 0 || spelling(found, names) !== null) return [];
  const or = column === "through" ? ", or a length such as 2 mm" : "";
  return [
    errorAt(inColumn(place, column), {
      code: "unknown-part",
      found,
      expected: `a part of the parts list: ${choicesFor(found, names, "it")}${or}`,
      mend: mendName(found, names, `add it to the parts list${or}`),
    }),
  ];
}

function noWasher(place: Place, washers: number): Problem {
  return errorAt(inColumn(place, "washer"), {
    code: "no-washer",
    found: `${washers} washers`,
    expected: "which washer of the price table hardware.csv they are",
    mend: "Name the washer, or write 0 washers",
  });
}

function jointTwice(place: Place, found: string, twin: Place): Problem {
  return errorAt(inColumn(place, "joint"), {
    code: "joint-twice",
    found,
    expected: `a name that no other joint has; ${lineWord(twin.file)} ${twin.line} has it already`,
    mend: "Rename one of the two",
  });
}

/** `cap-plate + spacer-ring + 2 mm`, as it was written. */
export function layersText(layers: readonly Clamped[]): string {
  return layers
    .map((layer) => (layer.kind === "part" ? layer.part : lengthText(layer.mm)))
    .join(" + ");
}

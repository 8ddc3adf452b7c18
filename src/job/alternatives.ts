import { sameText } from "../names.ts";
import { sameThickness } from "../units.ts";
import { length, text } from "./cells.ts";
import type { PartsRead } from "./parts-list.ts";
import type { Alternative } from "./types.ts";
import type { YamlEntry, YamlReader } from "./yaml-map.ts";

/** Other materials and finishes that a job names, and the job with one of them. */

const KEYS = ["material", "thickness", "finish", "take", "take_thickness"] as const;

/** Each item has a material or a finish, and what to take instead. */
export function readAlternatives(
  yaml: YamlReader,
  entry: YamlEntry | undefined,
): readonly Alternative[] {
  if (entry === undefined) return [];
  return yaml.items(entry).flatMap((item) => {
    const fields = yaml.fields(item, KEYS);
    const nothing = { place: item.place, node: null };
    const by = fields.has("finish") && !fields.has("material") ? "finish" : "material";
    if (by === "material") yaml.value(fields.get("finish"), ONE_OF_THEM);
    else for (const key of THICKNESSES) yaml.value(fields.get(key), WITH_MATERIAL);
    const of = yaml.needed(fields.get(by) ?? nothing, OF, MEND);
    const take = yaml.needed(fields.get("take") ?? nothing, TAKE, MEND);
    const thicknessMm = yaml.value(fields.get("thickness"), length);
    const takeThicknessMm = yaml.value(fields.get("take_thickness"), length);
    if (of === null || take === null) return [];
    return [{ by, of, thicknessMm, take, takeThicknessMm, place: item.place }];
  });
}

const OF = { ...text, expected: "the material or finish that parts have now" };
const TAKE = { ...text, expected: "a material or finish to take instead" };
const MEND = "Write `material:` or `finish:` as the parts list has it, and `take:`";

const THICKNESSES = ["thickness", "take_thickness"] as const;

const WITH_MATERIAL = {
  code: "thickness-of-a-finish",
  expected: "a thickness beside a material only: a finish is taken off all parts that have it",
  read: (): null => null,
  mend: () => "Remove it, or name the material",
};

const ONE_OF_THEM = {
  code: "one-of-them",
  expected: "a material or a finish in an item, not both",
  read: (): null => null,
  mend: () => "Make two items of it",
};

/** What finish a thing has with the alternative. */
export function finishInstead(finish: string | null, instead: Alternative | null): string | null {
  if (instead?.by !== "finish" || finish === null || !sameText(finish, instead.of)) return finish;
  return sameText(instead.take, NONE) ? null : instead.take;
}

const NONE = "none";

type Changing = Pick<PartsRead, "parts" | "unsure" | "named" | "materials">;

/** The parts with the alternative, as if the list said so. */
export function withAlternative<Read extends Changing>(read: Read, instead: Alternative): Read {
  const thick = new Map(
    [...read.parts, ...read.unsure].map(({ place, thicknessMm }) => [place.line, thicknessMm]),
  );
  return {
    ...read,
    parts: read.parts.map((part) => ({ ...part, ...changed(part, instead) })),
    unsure: read.unsure.map((part) => ({ ...part, ...changed(part, instead) })),
    named: read.named.map((row) => ({ ...row, ...changed(row, instead) })),
    materials: read.materials.map((row) => {
      const { material = row.material } = changed(
        { ...row, thicknessMm: thick.get(row.place.line) },
        instead,
      );
      return { ...row, material };
    }),
  };
}

interface Said {
  readonly material?: string | undefined;
  readonly thicknessMm?: number | undefined;
  readonly finish?: string | null | undefined;
}

/** The fields that are others. */
function changed(
  { material, thicknessMm, finish }: Said,
  instead: Alternative,
): { material?: string; thicknessMm?: number; finish?: string | null } {
  if (instead.by === "finish")
    return finish === undefined ? {} : { finish: finishInstead(finish, instead) };
  const wanted = instead.thicknessMm;
  const isMeant =
    material !== undefined &&
    sameText(material, instead.of) &&
    (wanted === null || (thicknessMm !== undefined && sameThickness(thicknessMm, wanted)));
  if (!isMeant) return {};
  const { take, takeThicknessMm } = instead;
  return { material: take, ...(takeThicknessMm === null ? {} : { thicknessMm: takeThicknessMm }) };
}

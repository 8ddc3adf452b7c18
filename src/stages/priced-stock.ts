import type { Feed, SheetTime } from "../machine/types.ts";
import type { Leftover } from "../nesting/leftover.ts";
import type { Nest } from "../nesting/types.ts";
import type { PricedStock } from "../pricing/types.ts";
import type { NestedGroup } from "./sheets-tried.ts";

interface TimedNest {
  readonly nested: NestedGroup;
  /** One of those tried. */
  readonly nest: Nest;
  readonly times: readonly SheetTime[];
  readonly feeds: readonly Feed[];
  readonly leftover: Leftover | null;
}

/** What pricing needs of a nest; null where it takes no sheet. */
export function pricedStock({ nested, ...timed }: TimedNest): PricedStock | null {
  const { material, thicknessMm, rows } = nested.group;
  const { nest } = timed;
  const used = nest.choices.flatMap(({ id, offcut = false }, index) => {
    const row = rows.find((one) => one.id === id);
    const sheets = nest.sheets.filter(({ sheet }) => sheet === id);
    if (row === undefined || sheets.length === 0) return [];
    const utilisation = nest.utilisations[index]!;
    return [{ row, offcut, sheets, panels: row.panels ?? null, utilisation }];
  });
  return used.length > 0 ? { material, thicknessMm, used, ...timed } : null;
}

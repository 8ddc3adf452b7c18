import type { MachineRow } from "./table-types.ts";

/** What somebody does at the machine besides its running, as far as its row has minutes for it. */

export interface Handling {
  /** Part of the ids of its figures. */
  readonly id: string;
  /** What it is called in a sum, and of one. */
  readonly label: string;
  readonly each: string;
  /** For each sheet laid down, or each material and thickness. */
  readonly per: "sheet" | "set-up";
  readonly minutes: number;
  /** Of machines.csv. */
  readonly column: string;
}

/** Loading and set-up always, the others where they are more than nothing. */
export function handlingOf(machine: MachineRow): readonly Handling[] {
  return KINDS.flatMap(({ minutes, always, ...kind }) => {
    const each = minutes(machine);
    return each === 0 && !always ? [] : [{ ...kind, minutes: each }];
  });
}

/** Of one material and thickness on so many sheets, min. */
export function handlingMinutes(machine: MachineRow, sheets: number): number {
  return handlingSum(handlingOf(machine), sheets);
}

export function handlingSum(
  handling: readonly Pick<Handling, "per" | "minutes">[],
  sheets: number,
): number {
  return handling.reduce(
    (sum, { per, minutes }) => sum + minutes * (per === "sheet" ? sheets : 1),
    0,
  );
}

type Kind = Omit<Handling, "minutes"> & {
  readonly minutes: (machine: MachineRow) => number;
  /** Whether it is said also where it takes no time. */
  readonly always: boolean;
};

const KINDS: readonly Kind[] = [
  {
    id: "load",
    label: "loading",
    each: "laying down and clearing a sheet",
    per: "sheet",
    minutes: ({ loadMinutes }) => loadMinutes,
    column: "load_minutes",
    always: true,
  },
  {
    id: "origin",
    label: "origin",
    each: "setting the origin on a sheet",
    per: "sheet",
    minutes: ({ originMinutes }) => originMinutes,
    column: "origin_minutes",
    always: false,
  },
  {
    id: "fume",
    label: "waiting for fume",
    each: "waiting for the fume of a sheet",
    per: "sheet",
    minutes: ({ fumeMinutes }) => fumeMinutes,
    column: "fume_minutes",
    always: false,
  },
  {
    id: "unload",
    label: "unloading",
    each: "taking out the parts and the rest of a sheet",
    per: "sheet",
    minutes: ({ unloadMinutes }) => unloadMinutes,
    column: "unload_minutes",
    always: false,
  },
  {
    id: "setup",
    label: "set-up",
    each: "set-up",
    per: "set-up",
    minutes: ({ setupMinutes }) => setupMinutes,
    column: "setup_minutes",
    always: true,
  },
  {
    id: "focus",
    label: "focusing",
    each: "focusing",
    per: "set-up",
    minutes: ({ focusMinutes }) => focusMinutes,
    column: "focus_minutes",
    always: false,
  },
];

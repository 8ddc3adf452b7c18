import type { EstimateInput } from "../estimate-data.ts";
import { counted } from "../names.ts";
import type { State } from "./state.ts";

/** What was changed on screen, beside what the job's files say. */

/** By part name. */
export type Quantities = Readonly<Record<string, number>>;

export interface Changes {
  /** Only those that differ from the parts list. */
  readonly quantities: Quantities;
  /** Pieces commissioned; null where it is as in the job file. */
  readonly pieces: number | null;
}

export const UNCHANGED: Changes = { quantities: {}, pieces: null };

export function isChanged(changes: Changes): boolean {
  return !sameChanges(changes, UNCHANGED);
}

export function sameChanges(a: Changes, b: Changes): boolean {
  const names = new Set([...Object.keys(a.quantities), ...Object.keys(b.quantities)]);
  return (
    a.pieces === b.pieces && [...names].every((name) => a.quantities[name] === b.quantities[name])
  );
}

/** Leaving would lose something: neither an export nor the job's files hold what was changed. */
export function hasUnsaved({ changes, exported }: State): boolean {
  return isChanged(changes) && !sameChanges(changes, exported?.changes ?? UNCHANGED);
}

/** In each piece: as changed on screen, else as listed; null for a part that nobody told of. */
export function quantityOf({ changes, listed }: State, part: string): number | null {
  return changes.quantities[part] ?? listed.quantities[part] ?? null;
}

/** As changed on screen, else as in the job file; null while nobody told. */
export function piecesOf({ changes, listed }: State): number | null {
  return changes.pieces ?? listed.pieces;
}

export function withChanges(input: EstimateInput, { quantities, pieces }: Changes): EstimateInput {
  const changed = { ...input, quantities: { ...input.quantities, ...quantities } };
  return pieces === null ? changed : { ...changed, pieces };
}

/** `heron 1 to 3, 12 to 20 pieces`: from what the files say to what is on screen. */
export function changesText({ changes, listed }: State, changed: Changes = changes): string {
  const quantities = Object.entries(changed.quantities).map(
    ([part, quantity]) => `${part} ${listed.quantities[part] ?? "?"} to ${quantity}`,
  );
  const pieces =
    changed.pieces === null
      ? []
      : [`${listed.pieces ?? "?"} to ${counted(changed.pieces, "piece")}`];
  return [...pieces, ...quantities].join(", ");
}

import type { SheetLeftover } from "../estimate-data.ts";
import { leftoverOf } from "../nesting/leftover.ts";
import { sheetArea } from "../geometry/sheet-area.ts";
import type { Nest, NestPiece } from "../nesting/types.ts";

/** What is left of a nest; looked for once for each, though it is reported round after round. */
export function leftoverFor(pieces: readonly NestPiece[], nest: Nest): SheetLeftover | null {
  const known = FOUND.get(nest);
  if (known !== undefined) return known;
  const found = withShare(pieces, nest);
  FOUND.set(nest, found);
  return found;
}

const FOUND = new WeakMap<Nest, SheetLeftover | null>();

function withShare(pieces: readonly NestPiece[], nest: Nest): SheetLeftover | null {
  const left = leftoverOf(pieces, nest);
  const sheet = nest.sheets[left?.onSheet ?? 0];
  if (left === null || sheet === undefined) return null;
  const share = (left.widthMm * left.heightMm) / sheetArea(sheet);
  return { ...left, share };
}

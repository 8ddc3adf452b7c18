import type { Estimate } from "../estimate-data.ts";
import { noun } from "../names.ts";

/** `12 x way-marker, and 8 spare parts`: what is made, for the maker. */
export function madeText({ pieces, pieceName, parts }: Estimate): string {
  const spare = parts.reduce((sum, part) => sum + part.spare, 0);
  const spares = spare === 0 ? "" : `, and ${spare} spare ${noun(spare, "part")}`;
  return `${pieces} x ${pieceName}${spares}`;
}

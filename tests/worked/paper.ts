import { Amount } from "../../src/money.ts";

/** Figures as the tables of a `worked.md` have them. */

export interface OnPaper {
  readonly id: string;
  readonly value: Amount;
  /** Without pi, roots, powers or thirds: to the last digit. */
  readonly exact: boolean;
}

/** `≈` on paper: as far as 15 digits and binary lengths can agree. */
const RELATIVE = new Amount("1e-9");

export function figuresOnPaper(text: string): readonly OnPaper[] {
  return [...text.matchAll(/^\| `(?<id>[^`]+)` \| (?<about>≈ )?(?<value>[\d.-]+) \|/gm)].map(
    ({ groups = {} }) => ({
      id: groups["id"] ?? "",
      value: new Amount(groups["value"] ?? ""),
      exact: groups["about"] === undefined,
    }),
  );
}

/** How far a figure may lie off the paper's. */
export function allowed({ value, exact }: OnPaper): number {
  return exact ? 0 : value.abs().times(RELATIVE).toNumber();
}

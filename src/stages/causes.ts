import type { Change } from "../difference/changes.ts";
import type { FigureUnit, Source } from "../figure.ts";
import { moneyText } from "../money.ts";
import type { Amount, Currency } from "../money.ts";
import type { DecimalText } from "../pricing/types.ts";
import { placeText } from "../problem.ts";
import type { Place } from "../problem.ts";

/** What caused a part of a difference, as plain records. */

/**
 * `given`: other numbers in one cell or drawing. `worked out`: nested and timed anew. `added` and
 * `gone`: what only one of the two has, such as a part with all that it brings. `replaced`: both at
 * once. `reckoned`: the same figures, put together in another way. `version`: the same figures came to
 * something else when the estimate was written. `rounding`: of lines and total, of both.
 */
export type CauseKind =
  | "given"
  | "worked out"
  | "added"
  | "gone"
  | "replaced"
  | "reckoned"
  | "version"
  | "rounding";

export interface Cause {
  readonly kind: CauseKind;
  /** Of the net total, to the minor unit; below 0 where it made the job cheaper. */
  readonly effect: DecimalText;
  /** Given figures that are others, came or went; of `reckoned` the figure that is. */
  readonly figures: readonly FigureDifference[];
  /** Of what was worked out: the cells that are others now and that it depends on, as text. */
  readonly follows: readonly string[];
}

export interface FigureDifference {
  readonly id: string;
  readonly label: string;
  readonly unit: FigureUnit;
  /** Null where there was none. */
  readonly before: DecimalText | null;
  /** Null where there is none any more. */
  readonly after: DecimalText | null;
  /** Of the later estimate, where it has the figure. */
  readonly source: Source | null;
}

/** @param effect to the minor unit. */
export function causeOf(changes: readonly Change[], effect: Amount, currency: Currency): Cause {
  const pairs = changes.flatMap((change) => change.pairs);
  const given = pairs.filter(({ before, after }) => (after ?? before)?.origin.kind === "given");
  const shown = given.length > 0 ? given : pairs;
  return {
    kind: kindOf(pairs),
    effect: moneyText(effect, currency),
    figures: shown.map(({ id, before, after }): FigureDifference => {
      const { label, unit, origin } = (after ?? before)!;
      return {
        id,
        label,
        unit,
        before: before?.value.toString() ?? null,
        after: after?.value.toString() ?? null,
        source: origin.kind === "given" ? origin.source : null,
      };
    }),
    follows: [],
  };
}

function kindOf(pairs: Change["pairs"]): CauseKind {
  const sides = new Set(
    pairs.map(({ before, after }) =>
      before === null ? "added" : after === null ? "gone" : "both",
    ),
  );
  const [first] = sides;
  if (sides.size === 1 && first !== "both") return first ?? "reckoned";
  const given = pairs.filter(isGiven);
  if (given.some((pair) => sourceOf(pair)?.kind === "computed")) return "worked out";
  if (sides.has("added") && sides.has("gone")) return "replaced";
  if (given.length > 0 && sides.size === 1) return "given";
  if (sides.has("added")) return "added";
  return sides.has("gone") ? "gone" : "reckoned";
}

type Pair = Change["pairs"][number];

function isGiven(pair: Pair): boolean {
  return sourceOf(pair) !== null;
}

function sourceOf({ before, after }: Pair): Source | null {
  const origin = (after ?? before)?.origin;
  return origin?.kind === "given" ? origin.source : null;
}

/**
 * The causes with what those that were worked out follow from: cells and drawings that other causes are
 * about.
 */
export function withReasons(causes: readonly Cause[]): readonly Cause[] {
  const cells = causes.flatMap((cause) =>
    cause.kind === "worked out" ? [] : cause.figures.flatMap((one) => placesOf(cause, one)),
  );
  return causes.map((cause) =>
    cause.kind === "worked out" ? { ...cause, follows: reasonsOf(cause, cells) } : cause,
  );
}

/** What is measured of a sheet follows from the nest itself, and moves no price. */
function placesOf({ effect }: Cause, { source }: FigureDifference): readonly Place[] {
  if (source === null || source.kind === "computed") return [];
  return source.kind === "cell" || Number(effect) !== 0 ? [source.place] : [];
}

function reasonsOf({ figures }: Cause, cells: readonly Place[]): readonly string[] {
  const rows = new Set(
    figures.flatMap(({ source }) => (source?.kind === "computed" ? source.from : [])).map(rowOf),
  );
  return [...new Set(cells.filter((cell) => rows.has(rowOf(cell))).map(placeText))];
}

/** A drawing as a whole, a row of a list whatever the column. */
function rowOf({ file, line }: Place): string {
  return placeText({ file, line, column: null });
}

import { Amount, moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import type { DecimalText, QuoteLine } from "../pricing/types.ts";

/** A line of two quotes, by its section and description. */
export interface LineDifference extends Pick<QuoteLine, "section" | "description" | "kind"> {
  /** Null where there was no such line. */
  readonly before: DecimalText | null;
  /** Null where there is none any more. */
  readonly after: DecimalText | null;
  readonly difference: DecimalText;
}

/** All lines of both, in the order of the later quote, each that is gone where it stood. */
export function lineDifferences(
  before: readonly QuoteLine[],
  after: readonly QuoteLine[],
  currency: Currency,
): readonly LineDifference[] {
  const [keysBefore, keysAfter] = [keysOf(before), keysOf(after)];
  const was = new Map(before.map((line, at) => [keysBefore[at]!, line]));
  const lines = after.map((line, at) => [was.get(keysAfter[at]!) ?? null, line] as const);
  const kept = new Set(keysAfter);
  const merged: (readonly [QuoteLine | null, QuoteLine | null])[] = [...lines];
  let at = 0;
  for (const [index, line] of before.entries()) {
    if (kept.has(keysBefore[index]!)) at = merged.findIndex(([one]) => one === line) + 1;
    else merged.splice(at++, 0, [line, null]);
  }
  return merged.map(([one, other]) => lineDifference(one, other, currency));
}

/** Of lines that say the same, such as two rates of tax of one percent, the n-th goes with the n-th. */
function keysOf(lines: readonly QuoteLine[]): readonly string[] {
  const met = new Map<string, number>();
  return lines.map(({ section, description, kind }) => {
    const key = [kind, section, description].join("\n");
    const number = (met.get(key) ?? 0) + 1;
    met.set(key, number);
    return `${key}\n${number}`;
  });
}

function lineDifference(
  before: QuoteLine | null,
  after: QuoteLine | null,
  currency: Currency,
): LineDifference {
  const { section, description, kind } = (after ?? before)!;
  const [from, to] = [before, after].map((line) => new Amount(line?.amount ?? 0));
  return {
    section,
    description,
    kind,
    before: before?.amount ?? null,
    after: after?.amount ?? null,
    difference: moneyText(to!.minus(from!), currency),
  };
}

import { effectsOn } from "../difference/effects.ts";
import type { EstimateInput } from "../estimate-data.ts";
import { recompute } from "../figure.ts";
import type { Figure } from "../figure.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import type { Currency } from "../money.ts";
import { figureOf } from "../pricing/figure-record.ts";
import type { DecimalText } from "../pricing/types.ts";
import type { SourceText } from "../job/types.ts";
import { checked, errorAt, inColumn, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { causeOf, withReasons } from "./causes.ts";
import type { Cause } from "./causes.ts";
import type { KeptEstimate } from "./kept-estimate.ts";
import { lineDifferences } from "./line-differences.ts";
import type { LineDifference } from "./line-differences.ts";
import { besideLines, unrounded } from "./unrounded.ts";

/** What an estimate is called in a comparison. */
export type Compared = Pick<
  KeptEstimate,
  "jobName" | "title" | "date" | "pieces" | "pieceName" | "seed" | "steps"
>;

export interface DifferenceReport {
  readonly version: 1;
  readonly currency: Currency;
  readonly before: Compared;
  readonly after: Compared;
  /** Of the net total. */
  readonly net: Moved;
  /** Every line of the two quotes, sums and taxes among them. */
  readonly lines: readonly LineDifference[];
  /** Of the net total, largest first; their effects add up to its difference to the cent. */
  readonly causes: readonly Cause[];
}

export interface Moved {
  readonly before: DecimalText;
  readonly after: DecimalText;
  readonly difference: DecimalText;
}

/** What an estimate is compared with: the text of one that was kept, or another job. */
export type Earlier =
  | { readonly kind: "kept"; readonly text: SourceText }
  | { readonly kind: "job"; readonly input: EstimateInput };

/** @param warnings of the later estimate. */
export function differencesBetween(
  before: KeptEstimate,
  after: KeptEstimate,
  warnings: readonly Problem[],
): Checked<DifferenceReport> {
  const [was, is] = [before.currency.code, after.currency.code];
  return was === is
    ? checked(differenceReport(before, after), warnings)
    : { value: null, problems: [...warnings, otherCurrency(was, is)] };
}

function otherCurrency(was: string, is: string): Problem {
  return errorAt(inColumn(inFile("settings.csv"), "currency"), {
    code: "other-currency",
    found: is,
    expected: `${was}, the currency of the earlier estimate`,
    mend: "Compare estimates in one currency",
  });
}

/** Two estimates in the same currency, line by line and down to what was given otherwise. */
export function differenceReport(before: KeptEstimate, after: KeptEstimate): DifferenceReport {
  const { currency } = after;
  const [was, is] = [before, after].map((one) => netOf(one.figures.map(figureOf)));
  const [from, to] = [was ?? new Amount(0), is ?? new Amount(0)];
  return {
    version: 1,
    currency,
    before: compared(before),
    after: compared(after),
    net: {
      before: moneyText(from, currency),
      after: moneyText(to, currency),
      difference: moneyText(to.minus(from), currency),
    },
    lines: lineDifferences(before.quote, after.quote, currency),
    causes: causesOf(before, after),
  };
}

function compared(estimate: KeptEstimate): Compared {
  const { jobName, title, date, pieces, pieceName, seed, steps } = estimate;
  return { jobName, title, date, pieces, pieceName, seed, steps };
}

function netOf(figures: readonly Figure[]): Amount {
  const net = figures.find(({ id }) => id === NET);
  if (net === undefined) throw new RangeError("an estimate without a net total");
  return net.value;
}

const NET = "quote.net";

function causesOf(before: KeptEstimate, after: KeptEstimate): readonly Cause[] {
  const { currency } = after;
  const [was, is] = [before.figures.map(figureOf), after.figures.map(figureOf)];
  const others = [...new Set([...besideLines(was), ...besideLines(is)])].toSorted();
  const effects = effectsOn(NET, unrounded(was, others), unrounded(is, others));
  const causes = effects.map(({ changes, effect }) =>
    causeOf(changes, roundMoney(effect, currency), currency),
  );
  const versions = byVersion(was, is).map((effect) => otherwise("version", effect, currency));
  const told = [...causes, ...versions].reduce(
    (sum, { effect }) => sum.plus(effect),
    new Amount(0),
  );
  const rest = netOf(is).minus(netOf(was)).minus(told);
  const rounding = rest.isZero() ? [] : [otherwise("rounding", rest, currency)];
  return [...withReasons(causes), ...versions, ...rounding].toSorted((one, other) =>
    new Amount(other.effect).abs().cmp(new Amount(one.effect).abs()),
  );
}

/** What came of the earlier estimate's writing by another version, less the same of the later; nothing where none. */
function byVersion(was: readonly Figure[], is: readonly Figure[]): readonly Amount[] {
  const effect = sinceWritten(was).minus(sinceWritten(is));
  return effect.isZero() ? [] : [effect];
}

/** How far the same figures come to something else now than when they were written. */
function sinceWritten(figures: readonly Figure[]): Amount {
  const now = recompute(figures, new Map()).get(NET) ?? new Amount(0);
  return now.minus(netOf(figures));
}

function otherwise(kind: "version" | "rounding", effect: Amount, currency: Currency): Cause {
  return { kind, effect: moneyText(effect, currency), figures: [], follows: [] };
}

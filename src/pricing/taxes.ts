import type { TaxRow } from "../job/types.ts";
import { moneyText } from "../money.ts";
import { givenRule } from "./build-up.ts";
import { cell, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { percentText, totalLine } from "./total-line.ts";
import type { PricingInput, QuoteLine } from "./types.ts";

/**
 * Tax, once for each rate on all that is taxed at it, rounded to the minor unit (EN 16931, from
 * memory; UK VAT Notice 700 17.5 has the total rounded as one of the ways). What changes the price as
 * a whole (minimum, rush, discount, rounding) is taxed in the proportion of the lines.
 * @param lines of the goods, without what changes the price as a whole.
 * @returns a line for each rate; the figure of all of them is `quote.tax`.
 */
export function addTaxes(
  ledger: Ledger,
  input: PricingInput,
  lines: readonly QuoteLine[],
): readonly QuoteLine[] {
  const { sheet } = ledger;
  const groups = taxGroups(input, lines);
  const [first, ...others] = groups;
  if (first === undefined) return [];
  if (others.length === 0 || sheet.value("quote.lines").isZero())
    return [addTax(ledger, input, first, "quote.tax", "quote.net", "on the net total")];
  addShares(ledger, groups);
  const taxes = groups.map((group) => {
    const base = `tax.${group.key}.base`;
    const what = group.row === null ? "" : `, ${group.row.id}`;
    const basis = `on ${moneyText(sheet.value(base), input.currency)}${what}`;
    return addTax(ledger, input, group, `tax.${group.key}.tax`, base, basis);
  });
  const amounts = taxes.map(({ figure }) => figure);
  sheet.derived("quote.tax", "tax at all rates", "currency", "sum", amounts);
  return taxes;
}

/** What is taxed at one rate. */
interface TaxGroup {
  readonly key: string;
  /** Null for the usual rate. */
  readonly row: TaxRow | null;
  /** Ids of the figures of its lines. */
  readonly lines: readonly string[];
}

/** The usual rate first, then those of taxes.csv in its order; of several only such as have lines. */
function taxGroups(
  { tables: { taxes } }: PricingInput,
  lines: readonly QuoteLine[],
): readonly TaxGroup[] {
  const rowOf = (line: QuoteLine): TaxRow | null =>
    taxes.find(({ sections }) => sections.some((section) => section === line.section)) ?? null;
  const groups = [null, ...taxes].map((row) => ({
    key: row === null ? "usual" : `other-${slug(row.id)}`,
    row,
    lines: lines.filter((line) => rowOf(line) === row).map(({ figure }) => figure),
  }));
  const used = groups.filter((group) => group.lines.length > 0);
  return used.length > 0 ? used : groups.slice(0, 1);
}

/** What is taxed at each rate: the shares add up to the net total, for the last one takes the rest. */
function addShares({ sheet }: Ledger, groups: readonly TaxGroup[]): void {
  const all = "quote.adjustments";
  const label = "what changes the price as a whole";
  sheet.derived(all, label, "currency", "difference", ["quote.net", "quote.lines"]);
  const shares: string[] = [];
  for (const [index, { key, row, lines }] of groups.entries()) {
    const id = (what: string): string => `tax.${key}.${what}`;
    const rate = row === null ? "the usual rate" : row.id;
    sheet.derived(id("lines"), `lines at ${rate}`, "currency", "sum", lines);
    const share = `${label}, at ${rate}`;
    if (index < groups.length - 1) {
      const inputs = [id("lines"), "quote.lines"];
      sheet.derived(id("part"), `lines at ${rate}, of all`, "ratio", "quotient", inputs);
      sheet.derived(id("exact"), `${share}, before rounding`, "currency", "product", [
        all,
        id("part"),
      ]);
      const rounded = [id("exact"), "money.unit"];
      shares.push(sheet.derived(id("share"), share, "currency", "rounded to step", rounded));
    } else {
      sheet.derived("tax.shares", `${label}, at the other rates`, "currency", "sum", shares);
      sheet.derived(id("share"), share, "currency", "difference", [all, "tax.shares"]);
    }
    const base = [id("lines"), id("share")];
    sheet.derived(id("base"), `taxed at ${rate}`, "currency", "sum", base);
  }
}

function addTax(
  ledger: Ledger,
  input: PricingInput,
  { key, row }: TaxGroup,
  id: string,
  of: string,
  basis: string,
): QuoteLine {
  const { sheet } = ledger;
  const rate =
    row === null
      ? givenRule(sheet, input, "tax_percent", ["rule.tax", "tax", "percent"])
      : sheet.given(
          `rule.tax-${key}`,
          `tax, ${row.id}`,
          "percent",
          row.percent,
          cell(row, "percent"),
        );
  if (rate === null) throw new RangeError("no tax_percent: it was to be refused beforehand");
  sheet.derived(`${id}-exact`, "tax before rounding", "currency", "percentage", [of, rate]);
  const rounded = [`${id}-exact`, "money.unit"];
  const label = row === null ? "tax" : `tax, ${row.id}`;
  const figure = sheet.derived(id, label, "currency", "rounded to step", rounded, ONCE);
  const description = `Tax ${percentText(ledger, rate)}`;
  return totalLine(ledger, input, "tax", { description, basis, figure });
}

const ONCE = "once, on all that is taxed at this rate";

import { QUOTE_SECTIONS } from "../job/types.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import { capital } from "../names.ts";
import { inFile } from "../problem.ts";
import { trimmed } from "../units.ts";
import { settingOf } from "./build-up.ts";
import { settingSource } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { CostLine, PricingInput, QuoteLine } from "./types.ts";

/** Lines of the same section and description are one line to the customer. */
interface Merged {
  readonly section: CostLine["section"];
  readonly description: string;
  readonly basis: readonly string[];
  readonly costs: readonly string[];
  readonly each: CostLine["each"];
}

/**
 * The customer's quote: every line is its direct cost raised by the same factor (price over direct
 * cost) and rounded to the minor unit; the net total is the sum of the rounded lines, tax is worked
 * out once on it. So a sum over the lines is the net total to the cent.
 */
export function addQuote(ledger: Ledger, input: PricingInput): readonly QuoteLine[] {
  const { sheet } = ledger;
  const unit = new Amount(10).pow(-input.currency.minorDigits);
  sheet.given("money.unit", `smallest unit of ${input.currency.code}`, "currency", unit, {
    kind: "cell",
    place: input.tables.currencyPlace ?? inFile("settings.csv"),
    cited: "ISO 4217",
  });
  sheet.derived("price.factor", "price over direct cost", "ratio", "quotient", [
    "price.exact",
    "cost.direct",
  ]);
  const lines = mergeLines(ledger.costs)
    .filter((merged) => isWorthALine(ledger, input, merged))
    .map((merged, index) => addLine(ledger, input, merged, index + 1));
  const rounded = addRounding(ledger, input, lines);
  return [...lines, ...rounded, ...addTotals(ledger, input, [...lines, ...rounded])];
}

function mergeLines(costs: readonly CostLine[]): readonly Merged[] {
  const merged = new Map<string, Merged>();
  const inOrder = QUOTE_SECTIONS.flatMap((section) =>
    costs.filter((line) => line.section === section),
  );
  for (const { section, description, basis, cost, each } of inOrder) {
    const key = `${section}\n${description}`;
    const before = merged.get(key);
    const bases = [...(before?.basis ?? []), ...basis.split("; ")].filter((one) => one !== "");
    const costs = [...(before?.costs ?? []), cost];
    merged.set(key, {
      section,
      description,
      basis: [...new Set(bases)],
      costs,
      each: before ? null : each,
    });
  }
  return [...merged.values()];
}

/** What comes to nothing is left out, unless it names a thing that the customer gets. */
function isWorthALine(
  { sheet }: Ledger,
  { currency }: PricingInput,
  { costs, each }: Merged,
): boolean {
  const cost = costs.reduce((sum, id) => sum.plus(sheet.value(id)), new Amount(0));
  const amount = roundMoney(cost.times(sheet.value("price.factor")), currency);
  return each !== null || !amount.isZero();
}

function addLine(
  { sheet }: Ledger,
  { currency }: PricingInput,
  merged: Merged,
  number: number,
): QuoteLine {
  const id = `quote.line-${number}`;
  const raised = (cost: string, what: string, label: string): string => {
    sheet.derived(`${id}.${what}-exact`, `${label}, price before rounding`, "currency", "product", [
      cost,
      "price.factor",
    ]);
    return sheet.derived(`${id}.${what}`, `${label}, price`, "currency", "rounded to step", [
      `${id}.${what}-exact`,
      "money.unit",
    ]);
  };
  const base = {
    section: merged.section,
    line: String(number),
    description: capital(merged.description),
    kind: "line",
    basis: merged.basis.join("; "),
  } as const;
  if (merged.each) {
    const unitPrice = raised(merged.each.cost, "unit", `${merged.description}, one`);
    const figure = sheet.derived(id, merged.description, "currency", "product", [
      merged.each.count,
      unitPrice,
    ]);
    const quantity = sheet.value(merged.each.count).toString();
    return {
      ...base,
      quantity,
      unit: "pcs",
      unitPrice: moneyText(sheet.value(unitPrice), currency),
      amount: moneyText(sheet.value(figure), currency),
      figure,
      each: { count: merged.each.count, price: unitPrice },
    };
  }
  const cost = sheet.derived(
    `${id}.cost`,
    `${merged.description}, direct cost`,
    "currency",
    "sum",
    merged.costs,
  );
  const figure = raised(cost, "amount", merged.description);
  const amount = moneyText(sheet.value(figure), currency);
  return { ...base, quantity: "1", unit: "lot", unitPrice: amount, amount, figure, each: null };
}

/** A line that brings the net total up to a multiple of the rounding step, where there is one. */
function addRounding(
  { sheet }: Ledger,
  input: PricingInput,
  lines: readonly QuoteLine[],
): readonly QuoteLine[] {
  sheet.derived(
    "quote.lines",
    "sum of the lines",
    "currency",
    "sum",
    lines.map(({ figure }) => figure),
  );
  const setting = settingOf(input, "round_total_to");
  if (!setting || setting.value.isZero()) return [];
  sheet.given(
    "rule.round-to",
    "net total rounded up to a multiple of",
    "currency",
    setting.value,
    settingSource(setting),
  );
  sheet.derived("quote.rounded", "net total, rounded up", "currency", "rounded up to step", [
    "quote.lines",
    "rule.round-to",
  ]);
  const figure = sheet.derived("quote.rounding", "rounding", "currency", "difference", [
    "quote.rounded",
    "quote.lines",
  ]);
  if (sheet.value(figure).isZero()) return [];
  const amount = moneyText(sheet.value(figure), input.currency);
  const line = String(lines.length + 1);
  return [
    {
      section: "Total",
      line,
      description: "Rounding",
      quantity: "1",
      unit: "lot",
      unitPrice: amount,
      amount,
      kind: "line",
      basis: "to a round total",
      figure,
      each: null,
    },
  ];
}

function addTotals(
  { sheet }: Ledger,
  input: PricingInput,
  lines: readonly QuoteLine[],
): readonly QuoteLine[] {
  const { job, currency } = input;
  const net = sheet.derived(
    "quote.net",
    "net total",
    "currency",
    "sum",
    lines.map(({ figure }) => figure),
  );
  const total = (
    kind: QuoteLine["kind"],
    description: string,
    basis: string,
    figure: string,
  ): QuoteLine => {
    const amount = moneyText(sheet.value(figure), currency);
    return {
      section: "Total",
      line: "",
      description,
      quantity: "1",
      unit: "lot",
      unitPrice: amount,
      amount,
      kind,
      basis,
      figure,
      each: null,
    };
  };
  const tax = settingOf(input, "tax_percent");
  if (!tax) return [];
  sheet.given("rule.tax", "tax", "percent", tax.value, settingSource(tax));
  sheet.derived("quote.tax-exact", "tax before rounding", "currency", "percentage", [
    net,
    "rule.tax",
  ]);
  sheet.derived(
    "quote.tax",
    "tax",
    "currency",
    "rounded to step",
    ["quote.tax-exact", "money.unit"],
    "once, on the net total",
  );
  sheet.derived("quote.total", "total with tax", "currency", "sum", [net, "quote.tax"]);
  sheet.derived("quote.each", "net price of one piece", "currency", "quotient", [
    net,
    "job.pieces",
  ]);
  sheet.derived("price.profit", "profit at the quoted price", "currency", "difference", [
    net,
    "cost.total",
  ]);
  const one = sheet.value("quote.each");
  const about = roundMoney(one, currency).eq(one) ? "" : "about ";
  const each = `${job.pieces} x ${job.pieceName}, ${about}${moneyText(one, currency)} each`;
  const whose = [
    ...(job.customer === "" ? [] : [`for ${job.customer}`]),
    ...(job.reference === "" ? [] : [`reference ${job.reference}`]),
    ...(job.date === null ? [] : [`prices of ${job.date}`]),
    `in ${currency.code}`,
  ];
  return [
    total("subtotal", "Net total", `${job.title}: ${each}`, net),
    total("tax", `Tax ${trimmed(tax.value.toNumber(), 3)} %`, "on the net total", "quote.tax"),
    total("total", "Total with tax", whose.join("; "), "quote.total"),
  ];
}

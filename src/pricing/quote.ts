import { QUOTE_SECTIONS } from "../job/types.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import { capital, counted } from "../names.ts";
import { inFile } from "../problem.ts";
import { addAdjustments } from "./adjustments.ts";
import { addGivenAway, discountProblems } from "./discounts.ts";
import type { Ledger } from "./ledger.ts";
import { addTaxes } from "./taxes.ts";
import { addTerms } from "./terms.ts";
import { totalLine } from "./total-line.ts";
import type { CostLine, LeadTime, PricingInput, QuoteLine, QuoteTerms } from "./types.ts";

/** Lines of the same section and description are one line to the customer. */
interface Merged {
  readonly section: CostLine["section"];
  readonly description: string;
  readonly basis: readonly string[];
  readonly costs: readonly string[];
  readonly each: CostLine["each"];
}

export interface Quote {
  readonly lines: readonly QuoteLine[];
  readonly terms: QuoteTerms;
}

/**
 * The customer's quote: every line is its direct cost raised by the same factor (price over direct
 * cost) and rounded to the minor unit; the net total is the sum of the rounded lines, tax is worked
 * out on it. So a sum over the lines is the net total to the cent.
 */
export function addQuote(ledger: Ledger, input: PricingInput, leadTime: LeadTime | null): Quote {
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
  const figures = lines.map(({ figure }) => figure);
  sheet.derived("quote.lines", "sum of the lines", "currency", "sum", figures);
  const adjusted = addAdjustments(ledger, input, lines.length);
  ledger.remarks.push(...discountProblems(ledger, input));
  return addTotals(ledger, input, lines, adjusted, leadTime);
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

/** Net, tax and total; the words that go with the total name the terms that are sums or days. */
function addTotals(
  ledger: Ledger,
  input: PricingInput,
  goods: readonly QuoteLine[],
  adjusted: readonly QuoteLine[],
  leadTime: LeadTime | null,
): Quote {
  const { sheet } = ledger;
  const lines = [...goods, ...adjusted];
  const net = lines.map(({ figure }) => figure);
  sheet.derived("quote.net", "net total", "currency", "sum", net);
  const taxes = addTaxes(ledger, input, goods);
  const whole = ["quote.net", "quote.tax"];
  sheet.derived("quote.total", "total with tax", "currency", "sum", whole);
  const each = ["quote.net", "job.pieces"];
  sheet.derived("quote.each", "net price of one piece", "currency", "quotient", each);
  addProfitKept(ledger);
  const terms = addTerms(ledger, input);
  const total = totalLine.bind(null, ledger, input);
  return {
    terms,
    lines: [
      ...lines,
      total("subtotal", {
        description: "Net total",
        basis: `${input.job.title}: ${eachText(ledger, input)}`,
        figure: "quote.net",
      }),
      ...taxes,
      total("total", {
        description: "Total with tax",
        basis: totalWords(input, terms, leadTime),
        figure: "quote.total",
      }),
    ],
  };
}

/** What remains of the net total, as a markup on the cost and as a margin of the price. */
function addProfitKept(ledger: Ledger): void {
  const { sheet } = ledger;
  const profit = ["quote.net", "cost.total"];
  sheet.derived("price.profit", "profit at the quoted price", "currency", "difference", profit);
  const share = (id: string, label: string, of: string): void => {
    if (!sheet.value(of).isZero())
      sheet.derived(id, label, "percent", "share in percent", ["price.profit", of]);
  };
  share("price.markup", "as a markup, of the cost", "cost.total");
  share("price.margin", "as a margin, of the price", "quote.net");
  addGivenAway(ledger);
}

/** `12 x way-marker, about 291.00 each`. */
function eachText({ sheet }: Ledger, { job, currency }: PricingInput): string {
  const one = sheet.value("quote.each");
  const about = roundMoney(one, currency).eq(one) ? "" : "about ";
  return `${job.pieces} x ${job.pieceName}, ${about}${moneyText(one, currency)} each`;
}

function totalWords(
  { job, currency }: PricingInput,
  { validUntil, stages }: QuoteTerms,
  leadTime: LeadTime | null,
): string {
  const words = [
    ...(job.customer === "" ? [] : [`for ${job.customer}`]),
    ...(job.reference === "" ? [] : [`reference ${job.reference}`]),
    ...(job.date === null ? [] : [`prices of ${job.date}`]),
    ...(validUntil === null ? [] : [`valid until ${validUntil}`]),
    `in ${currency.code}`,
    ...(leadTime === null ? [] : [readyText(leadTime)]),
    ...stages.map(({ name, due, percent, amount }) => `${name} ${percent} % ${due}: ${amount}`),
  ];
  return words.join("; ");
}

function readyText({ workingDays }: LeadTime): string {
  return `ready in about ${counted(workingDays, "working day")} after the order`;
}

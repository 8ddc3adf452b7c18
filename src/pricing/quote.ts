import { Amount, moneyText, roundMoney } from "../money.ts";
import { counted } from "../names.ts";
import { inFile } from "../problem.ts";
import { addAdjustments } from "./adjustments.ts";
import { addGivenAway, discountProblems } from "./discounts.ts";
import type { Ledger } from "./ledger.ts";
import { addLines } from "./quote-lines.ts";
import { addTaxes } from "./taxes.ts";
import { addTerms } from "./terms.ts";
import { totalLine } from "./total-line.ts";
import type { LeadTime, PricingInput, QuoteLine, QuoteTerms } from "./types.ts";

export interface Quote {
  readonly lines: readonly QuoteLine[];
  readonly terms: QuoteTerms;
}

/**
 * The customer's quote: the net total is the sum of lines that are rounded to the minor unit, tax is
 * worked out on it. So a sum over the lines is the net total to the cent.
 */
export function addQuote(ledger: Ledger, input: PricingInput, leadTime: LeadTime | null): Quote {
  const { sheet } = ledger;
  const unit = new Amount(10).pow(-input.currency.minorDigits);
  sheet.given("money.unit", `smallest unit of ${input.currency.code}`, "currency", unit, {
    kind: "cell",
    place: input.tables.currencyPlace ?? inFile("settings.csv"),
    cited: "ISO 4217",
  });
  const lines = addLines(ledger, input);
  const figures = lines.map(({ figure }) => figure);
  sheet.derived("quote.lines", "sum of the lines", "currency", "sum", figures);
  const adjusted = addAdjustments(ledger, input, lines.length);
  ledger.remarks.push(...discountProblems(ledger, input));
  return addTotals(ledger, input, lines, adjusted, leadTime);
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

import { expect } from "vitest";
import { collectJob } from "../../src/job/job.ts";
import { collectTables } from "../../src/job/tables.ts";
import type { QuoteSection } from "../../src/job/types.ts";
import { QUOTE_SECTIONS } from "../../src/job/types.ts";
import { Amount, currencyOf } from "../../src/money.ts";
import { addBuildUp } from "../../src/pricing/build-up.ts";
import { newLedger } from "../../src/pricing/ledger.ts";
import { addQuote } from "../../src/pricing/quote.ts";
import type { Quote } from "../../src/pricing/quote.ts";
import type { CostKind, PricingInput } from "../../src/pricing/types.ts";
import { isError } from "../../src/problem.ts";
import type { Problem } from "../../src/problem.ts";
import { TABLES, text } from "../job/texts.ts";

/** From costs that are known to the quote, by the functions of pricing alone. */

export interface Given {
  /** What each section costs. */
  readonly costs: Readonly<Partial<Record<QuoteSection, string>>>;
  /** Ids and values of settings.csv; what is not named is 0. */
  readonly settings?: Readonly<Record<string, string>>;
  readonly currency?: string;
  readonly taxes?: readonly string[];
  /** Lines of job.yaml. */
  readonly job?: readonly string[];
}

interface Made extends Quote {
  readonly problems: readonly Problem[];
  readonly value: (figure: string) => string;
}

const ZERO = {
  overhead_percent: "0",
  contingency_percent: "0",
  markup_percent: "0",
  tax_percent: "0",
  round_total_to: "0",
  delivery: "0",
};

export function quoteOf({
  costs,
  settings = {},
  currency = "EUR",
  taxes = [],
  job = [],
}: Given): Made {
  const input = inputOf({ costs, settings, currency, taxes, job });
  const ledger = newLedger();
  const source = { kind: "cell", place: PLACE, cited: null } as const;
  ledger.sheet.given("job.pieces", "pieces", "pcs", input.job.pieces, source);
  for (const [index, section] of QUOTE_SECTIONS.filter((one) => one in costs).entries()) {
    const cost = costs[section] ?? "0";
    const id = ledger.sheet.given(`given.${index}`, section, "currency", new Amount(cost), source);
    ledger.costs.push({
      section,
      of: KINDS[section],
      description: `Work ${index}`,
      basis: "",
      cost: id,
      each: null,
    });
  }
  addBuildUp(ledger, input);
  const quote = addQuote(ledger, input, null);
  const value = (figure: string): string => ledger.sheet.value(figure).toString();
  return { ...quote, problems: ledger.remarks, value };
}

/** What the cost of a section is spent on here. */
const KINDS: Readonly<Record<QuoteSection, CostKind>> = {
  "Design and preparation": "labour",
  Materials: "materials",
  Cutting: "machine",
  Finishing: "materials",
  "Fixings and bought-in parts": "bought-in",
  "Making and assembly": "labour",
  Delivery: "delivery",
};

const PLACE = { file: "parts.csv", line: 2, column: "qty" };

function inputOf({ settings = {}, currency = "EUR", taxes = [], job = [] }: Given): PricingInput {
  const markup = "margin_percent" in settings ? { ...ZERO, markup_percent: null } : ZERO;
  const rows = Object.entries({ currency, machine: "own", ...markup, ...settings });
  const written = rows.flatMap(([id, value]) =>
    value === null ? [] : [`${id},${value},2026-01-01,test`],
  );
  const texts = {
    "machines.csv": TABLES["machines.csv"] ?? [],
    "settings.csv": ["id,value,valid_from,source", ...written],
    "taxes.csv": ["id,sections,percent,valid_from,source", ...taxes],
  };
  const builtIn = Object.entries(texts).map(([name, lines]) => text(name, lines));
  const { tables, problems } = collectTables({ builtIn, ofJob: [], date: null });
  const parts = "part,qty,material,thickness,shape,width,height\na,1,card,1,rectangle,10,10";
  const read = collectJob("job", [text("parts.csv", parts), text("job.yaml", job)]);
  expect([...problems, ...read.problems].filter(isError)).toEqual([]);
  const known = currencyOf(currency);
  const [machine] = tables.machines;
  if (!known || !machine) throw new Error("no currency or no machine");
  return { job: read.job, tables, currency: known, machine, parts: [], stocks: [], bars: [] };
}

/** Descriptions and amounts of the rows. */
export function rows({ lines }: Quote): readonly (readonly [string, string])[] {
  return lines.map(({ description, amount }) => [description, amount]);
}

export function amounts({ lines }: Pick<Quote, "lines">, kind: string): readonly Amount[] {
  return lines.filter((line) => line.kind === kind).map(({ amount }) => new Amount(amount));
}

export function sum(values: readonly (Amount | string)[]): Amount {
  return values.reduce<Amount>((total, one) => total.plus(one), new Amount(0));
}

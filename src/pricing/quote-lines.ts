import { QUOTE_SECTIONS } from "../job/types.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import { capital } from "../names.ts";
import type { Ledger } from "./ledger.ts";
import { factorOf } from "./profit.ts";
import type { CostLine, PricingInput, QuoteLine } from "./types.ts";

/**
 * Lines of the goods and the work: each is its direct cost raised by the factor of its kind (price
 * over direct cost; one for all where kinds have no markup of their own), rounded to the minor unit.
 */
export function addLines(ledger: Ledger, input: PricingInput): readonly QuoteLine[] {
  return mergeLines(ledger.costs)
    .filter((merged) => isWorthALine(ledger, input, merged))
    .map((merged, index) => addLine(ledger, input, merged, index + 1));
}

/** Lines of the same section and description are one line to the customer. */
interface Merged extends Pick<CostLine, "section" | "description" | "each"> {
  readonly basis: readonly string[];
  readonly costs: readonly Pick<CostLine, "cost" | "of">[];
}

function mergeLines(costs: readonly CostLine[]): readonly Merged[] {
  const merged = new Map<string, Merged>();
  const inOrder = QUOTE_SECTIONS.flatMap((section) =>
    costs.filter((line) => line.section === section),
  );
  for (const { section, of, description, basis, cost, each } of inOrder) {
    const key = `${section}\n${description}`;
    const before = merged.get(key);
    const bases = [...(before?.basis ?? []), ...basis.split("; ")].filter((one) => one !== "");
    merged.set(key, {
      section,
      description,
      basis: [...new Set(bases)],
      costs: [...(before?.costs ?? []), { cost, of }],
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
  const price = costs.reduce(
    (sum, { cost, of }) => sum.plus(sheet.value(cost).times(sheet.value(factorOf(sheet, of)))),
    new Amount(0),
  );
  return each !== null || !roundMoney(price, currency).isZero();
}

function addLine(
  ledger: Ledger,
  { currency }: PricingInput,
  merged: Merged,
  number: number,
): QuoteLine {
  const { sheet } = ledger;
  const id = `quote.line-${number}`;
  const { section, description, each, costs } = merged;
  const base = {
    section,
    line: String(number),
    description: capital(description),
    kind: "line",
    basis: merged.basis.join("; "),
  } as const;
  const money = (figure: string): string => moneyText(sheet.value(figure), currency);
  if (each) {
    const one = costs.map(({ of }) => ({ cost: each.cost, of }));
    const price = addPrice(ledger, `${id}.unit`, `${description}, one`, one);
    const figure = sheet.derived(id, description, "currency", "product", [each.count, price]);
    return {
      ...base,
      quantity: sheet.value(each.count).toString(),
      unit: "pcs",
      unitPrice: money(price),
      amount: money(figure),
      figure,
      each: { count: each.count, price },
    };
  }
  const all = costs.map(({ cost }) => cost);
  const cost = sheet.derived(`${id}.cost`, `${description}, direct cost`, "currency", "sum", all);
  const kinds = new Set(costs.map(({ of }) => factorOf(sheet, of)));
  const [first] = costs;
  const one = kinds.size === 1 && first ? [{ cost, of: first.of }] : costs;
  const figure = addPrice(ledger, `${id}.amount`, description, one);
  const amount = money(figure);
  return { ...base, quantity: "1", unit: "lot", unitPrice: amount, amount, figure, each: null };
}

/** The price of costs, each raised by the factor of its kind. @returns the id, rounded. */
function addPrice({ sheet }: Ledger, id: string, label: string, costs: Merged["costs"]): string {
  const exact = `${id}-exact`;
  const text = `${label}, price before rounding`;
  const kinds = [...new Set(costs.map(({ of }) => of))];
  const parts = kinds.map((kind) => {
    const its = costs.filter(({ of }) => of === kind).map(({ cost }) => cost);
    const [only] = its;
    const part = kinds.length === 1 ? exact : `${id}-${kind}`;
    const sum =
      its.length === 1 && only !== undefined
        ? only
        : sheet.derived(`${part}-cost`, `${label}, direct cost of ${kind}`, "currency", "sum", its);
    const what = kinds.length === 1 ? text : `${text}, ${kind}`;
    return sheet.derived(part, what, "currency", "product", [sum, factorOf(sheet, kind)]);
  });
  if (kinds.length > 1) sheet.derived(exact, text, "currency", "sum", parts);
  const rounded = [exact, "money.unit"];
  return sheet.derived(id, `${label}, price`, "currency", "rounded to step", rounded);
}

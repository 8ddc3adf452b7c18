import type { Estimate, FigureRecord } from "../estimate-data.ts";
import { Amount, moneyText } from "../money.ts";
import { capital, counted } from "../names.ts";
import { columns, wrapped } from "./wrap.ts";

/**
 * From cost to price, and what the quote says beside its lines, at a glance. The profit is told as a
 * margin and as a markup, so that neither is taken for the other.
 */

export function pricesBlock(estimate: Estimate): readonly string[] {
  const { figures, currency } = estimate;
  const sections = figures.filter(
    ({ id }) => id.startsWith("cost.") && !STEPS.includes(id) && id !== "cost.with-overhead",
  );
  const rowOf = (figure: FigureRecord, indent = ""): readonly string[] => [
    `${indent}${capital(figure.label)}`,
    figure.unit === "percent"
      ? `${Number(figure.value).toFixed(1)} %`
      : moneyText(new Amount(figure.value), currency),
    figure.id,
  ];
  const rows = [
    ...sections.map((figure) => rowOf(figure, "  ")),
    ...stepsOf(estimate).map((figure) => rowOf(figure, figure.unit === "percent" ? "  " : "")),
  ];
  return ["Price", ...columns(rows, [1]).map((line) => `  ${line}`)];
}

const STEPS: readonly string[] = [
  "cost.direct",
  "cost.overhead",
  "cost.contingency",
  "cost.total",
  "quote.lines",
  "quote.minimum",
  "quote.rush",
  "price.true",
  "price.true-profit",
  "quote.repeat-discount",
  "quote.percent-discount",
  "quote.discount",
  "price.given-away",
  "price.profit",
  "price.margin",
  "price.markup",
  "quote.net",
  "quote.tax",
  "quote.total",
  "quote.each",
];

/** Those that change the price as a whole; without any, the sum of the lines says nothing new. */
const WHOLE = STEPS.slice(STEPS.indexOf("quote.minimum"), STEPS.indexOf("price.profit"));

function stepsOf({ figures }: Estimate): readonly FigureRecord[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  const counts = (id: string): boolean => !new Amount(byId.get(id)?.value ?? 0).isZero();
  const changed = byId.has("price.true") || WHOLE.some(counts);
  return STEPS.filter((id) =>
    id === "quote.lines" ? changed : !WHOLE.includes(id) || counts(id),
  ).flatMap((id) => byId.get(id) ?? []);
}

/** @param width of a line. */
export function termsBlock({ terms, currency }: Estimate, width: number): readonly string[] {
  const { validUntil, stages, revisions, notIncluded } = terms;
  const price = revisions?.further ?? null;
  const further = price === null ? "" : `, a further one ${price} ${currency.code} net`;
  const texts = [
    ...(validUntil === null ? [] : [`valid until ${validUntil}`]),
    ...stages.map(({ name, due, percent, amount }) => `${name} ${percent} %, ${due}: ${amount}`),
    ...(revisions === null ? [] : [`${counted(revisions.included, "change")} included${further}`]),
    ...(notIncluded.length === 0 ? [] : [`not included: ${notIncluded.join("; ")}`]),
  ];
  if (texts.length === 0) return [];
  return ["Terms", ...texts.flatMap((text) => wrapped(text, width, "  - "))];
}

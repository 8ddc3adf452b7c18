import { givenOnce, cell, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { FigureSheet } from "../figure.ts";
import { workWords } from "./quote-words.ts";
import type { PricingInput } from "./types.ts";

/** Name of this work among the tasks of the job. */
export const ATTENDING = "attending";

function attendingId(what: string): string {
  return `work.${ATTENDING}.${what}`;
}

/**
 * Whoever has to stay with the machine works as long as it does: running, loading and set-up (a
 * college course has the operator stay for the whole job).
 */
export function addAttending({ sheet, costs }: Ledger, input: PricingInput): void {
  const { attended } = input.job;
  if (attended === null) return;
  const label = "Staying with the machine";
  const source = { kind: "cell", place: attended.place, cited: null } as const;
  const people = sheet.given(attendingId("people"), "people who stay with it", "pcs", 1, source);
  sheet.derived(attendingId("time"), label, "min", "product", ["machine.minutes", people]);
  sheet.derived(attendingId("hours"), label, "h", "minutes to hours", [attendingId("time")]);
  const inputs = [attendingId("time"), addRate(sheet, input, attended.rate)];
  const cost = sheet.derived(
    attendingId("cost"),
    label,
    "currency",
    "minutes at hourly rate",
    inputs,
  );
  const description = workWords("Cutting", input);
  costs.push({ section: "Cutting", of: "labour", description, basis: "", cost, each: null });
}

/** What an hour costs, by its id in the rates table. @returns the figure's id. */
export function addRate(sheet: FigureSheet, { tables }: PricingInput, id: string): string {
  const rate = tables.rates.find((row) => row.id === id);
  if (!rate) throw new RangeError(`no rate "${id}": it was to be refused beforehand`);
  return givenOnce(
    sheet,
    `rate.${slug(rate.id)}`,
    `${rate.description}, an hour`,
    "currency/h",
    rate.perHour,
    cell(rate, "per_hour"),
  );
}

import { QUOTE_SECTIONS } from "../job/types.ts";
import type { SettingName } from "../job/types.ts";
import { settingSource, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { PricingInput } from "./types.ts";

/** What the percentages are called, and what they are taken of. */
const STEPS = [
  { setting: "overhead_percent", id: "overhead", label: "overhead", of: "cost.direct" },
  {
    setting: "contingency_percent",
    id: "contingency",
    label: "contingency",
    of: "cost.with-overhead",
  },
  { setting: "markup_percent", id: "markup", label: "markup", of: "cost.total" },
] as const;

/**
 * From direct cost to price: overhead on direct cost, contingency on both, markup on the whole cost
 * (OpenStax, Principles of Managerial Accounting 4.2, for the order of the steps). Markup is profit
 * over cost, not over price.
 */
export function addBuildUp(ledger: Ledger, input: PricingInput): void {
  const { sheet } = ledger;
  addDelivery(ledger, input);
  const sections = QUOTE_SECTIONS.flatMap((section) => {
    const costs = ledger.costs.filter((line) => line.section === section).map(({ cost }) => cost);
    if (costs.length === 0) return [];
    return [
      sheet.derived(`cost.${slug(section)}`, `${section}, direct cost`, "currency", "sum", costs),
    ];
  });
  sheet.derived("cost.direct", "direct cost", "currency", "sum", sections);
  for (const step of STEPS) addStep(ledger, input, step);
}

/** The whole price over the direct cost: what each line of the quote is raised by. */
function addStep(
  { sheet }: Ledger,
  { job, tables }: PricingInput,
  step: (typeof STEPS)[number],
): void {
  const setting = job.settings.get(step.setting) ?? tables.settings.get(step.setting);
  if (!setting) return;
  const percent = sheet.given(
    `rule.${step.id}`,
    step.label,
    "percent",
    setting.value,
    settingSource(setting),
  );
  const added = step.id === "markup" ? "price.markup" : `cost.${step.id}`;
  sheet.derived(added, step.label, "currency", "percentage", [step.of, percent]);
  const next = { overhead: "cost.with-overhead", contingency: "cost.total", markup: "price.exact" }[
    step.id
  ];
  const label = {
    overhead: "cost with overhead",
    contingency: "cost in all",
    markup: "price before rounding",
  }[step.id];
  sheet.derived(next, label, "currency", "sum", [step.of, added]);
}

function addDelivery({ sheet, costs }: Ledger, { job, tables }: PricingInput): void {
  const setting = job.settings.get("delivery") ?? tables.settings.get("delivery");
  if (!setting || setting.value.isZero()) return;
  const cost = sheet.given(
    "delivery.cost",
    "delivery of the order",
    "currency",
    setting.value,
    settingSource(setting),
  );
  costs.push({
    section: "Delivery",
    description: "Packing and delivery",
    basis: "to the agreed address",
    cost,
    each: null,
  });
}

/** Settings that a price can not do without; a missing rate is a problem, never zero. */
export const NEEDED_SETTINGS: readonly SettingName[] = [
  "overhead_percent",
  "contingency_percent",
  "markup_percent",
  "tax_percent",
  "round_total_to",
];

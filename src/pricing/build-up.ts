import type { FigureSheet, FigureUnit } from "../figure.ts";
import { QUOTE_SECTIONS } from "../job/types.ts";
import type { Job, Setting, SettingName, Tables } from "../job/types.ts";
import { settingSource, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addProfit } from "./profit.ts";
import type { PricingInput } from "./types.ts";

/**
 * From direct cost to price: overhead on direct cost, contingency on both, then profit (OpenStax,
 * Principles of Managerial Accounting 4.2, for the order of the steps).
 */
export function addBuildUp(ledger: Ledger, input: PricingInput): void {
  const { sheet } = ledger;
  const sections = QUOTE_SECTIONS.flatMap((section) => {
    const costs = ledger.costs.filter((line) => line.section === section).map(({ cost }) => cost);
    if (costs.length === 0) return [];
    return [sheet.derived(`cost.${slug(section)}`, section, "currency", "sum", costs)];
  });
  sheet.derived("cost.direct", "direct cost", "currency", "sum", sections);
  addOnTop(ledger, input, { ...OVERHEAD, of: "cost.direct", sum: "cost.with-overhead" });
  addOnTop(ledger, input, { ...CONTINGENCY, of: "cost.with-overhead", sum: "cost.total" });
  addProfit(ledger, input);
}

/** The job's own rule, else that of the tables. */
export function settingOf(
  { job, tables }: { readonly job: Job; readonly tables: Tables },
  name: SettingName,
): Setting | null {
  return job.settings.get(name) ?? tables.settings.get(name) ?? null;
}

/** The figure of a rule, or null where nobody has said it. */
export function givenRule(
  sheet: FigureSheet,
  input: PricingInput,
  name: SettingName,
  [id, label, unit]: readonly [string, string, FigureUnit],
): string | null {
  const setting = settingOf(input, name);
  return setting && sheet.given(id, label, unit, setting.value, settingSource(setting));
}

interface Step {
  readonly setting: SettingName;
  readonly what: string;
  readonly of: string;
  readonly sum: string;
  readonly sumLabel: string;
}

const OVERHEAD = {
  setting: "overhead_percent",
  what: "overhead",
  sumLabel: "cost with overhead",
} as const;
const CONTINGENCY = {
  setting: "contingency_percent",
  what: "contingency",
  sumLabel: "cost in all",
} as const;

function addOnTop({ sheet }: Ledger, input: PricingInput, step: Step): void {
  const { what, of, sum, sumLabel } = step;
  const percent = givenRule(sheet, input, step.setting, [`rule.${what}`, what, "percent"]);
  if (percent === null) return;
  sheet.derived(`cost.${what}`, what, "currency", "percentage", [of, percent]);
  sheet.derived(sum, sumLabel, "currency", "sum", [of, `cost.${what}`]);
}

import type { FigureSheet } from "../figure.ts";
import type { Job, Setting, SettingName, Tables } from "../job/types.ts";
import { settingSource } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { CostKind, PricingInput } from "./types.ts";

/**
 * Profit is a markup, in percent of the cost, or a margin, in percent of the price; never both. Of the
 * markup each kind of cost may have its own, on its direct cost with its share of overhead and
 * contingency.
 */
export interface ProfitRule {
  /** Of whatever has no markup of its own. */
  readonly markup: Setting | null;
  readonly margin: Setting | null;
  readonly own: ReadonlyMap<CostKind, Setting>;
}

/** A job that says markup or margin sets aside the other one of the tables. */
export function profitRule(said: { readonly job: Job; readonly tables: Tables }): ProfitRule {
  const { job, tables } = said;
  const level = [job, tables].find(({ settings }) => PROFITS.some((name) => settings.has(name)));
  const margin = level?.settings.get("margin_percent") ?? null;
  const markupOf = (name: SettingName): Setting | null =>
    margin === null
      ? (job.settings.get(name) ?? tables.settings.get(name) ?? null)
      : (level?.settings.get(name) ?? null);
  const own = [...OWN_MARKUPS].flatMap(([kind, name]) => {
    const setting = markupOf(name);
    return setting === null ? [] : [[kind, setting] as const];
  });
  return { margin, markup: markupOf("markup_percent"), own: new Map(own) };
}

const OWN_MARKUPS: ReadonlyMap<CostKind, SettingName> = new Map([
  ["materials", "markup_materials_percent"],
  ["bought-in", "markup_bought_in_percent"],
  ["machine", "markup_machine_percent"],
  ["labour", "markup_labour_percent"],
]);

const PROFITS: readonly SettingName[] = [
  "markup_percent",
  "margin_percent",
  ...OWN_MARKUPS.values(),
];

/** The exact price, and by what each direct cost is raised to come to it. */
export function addProfit(ledger: Ledger, input: PricingInput): void {
  const { sheet } = ledger;
  const { markup, margin, own } = profitRule(input);
  if (margin) {
    const label = "margin, of the price";
    sheet.given("rule.margin", label, "percent", margin.value, settingSource(margin));
    const inputs = ["cost.total", "rule.margin"];
    const because = "price = cost / (1 - margin)";
    sheet.derived("price.exact", PRICE, "currency", "cost over margin", inputs, because);
  } else if (own.size > 0) addOwnMarkups(ledger, { markup, own });
  else if (markup) {
    const inputs = ["cost.total", addMarkup(sheet, markup)];
    const because = "price = cost x (1 + markup)";
    sheet.derived("price.exact", PRICE, "currency", "plus percentage", inputs, because);
  }
}

const PRICE = "price before rounding";

function addMarkup(sheet: FigureSheet, { value, ...place }: Setting): string {
  const id = "rule.markup";
  const source = settingSource({ value, ...place });
  return sheet.has(id) ? id : sheet.given(id, "markup, of the cost", "percent", value, source);
}

/** Each kind of cost that there is: its direct cost, raised as all costs are, and by its markup. */
function addOwnMarkups(
  { sheet, costs }: Ledger,
  { markup, own }: Pick<ProfitRule, "markup" | "own">,
): void {
  if (sheet.value("cost.direct").isZero()) return;
  const all = ["cost.total", "cost.direct"];
  sheet.derived(RAISED, "cost in all over direct cost", "ratio", "quotient", all);
  const kinds = [...new Set(costs.map((line) => line.of))];
  const prices = kinds.map((kind) => {
    const id = `markup.${kind}`;
    const its = costs.filter((line) => line.of === kind).map(({ cost }) => cost);
    sheet.derived(`${id}.cost`, `direct cost of ${kind}`, "currency", "sum", its);
    const setting = own.get(kind);
    const percent = setting
      ? sheet.given(
          `rule.markup-${kind}`,
          `markup on ${kind}, of the cost`,
          "percent",
          setting.value,
          settingSource(setting),
        )
      : markup && addMarkup(sheet, markup);
    if (percent === null) throw new RangeError("no markup_percent: it was to be refused before");
    const label = `price over direct cost of ${kind}`;
    sheet.derived(`${id}.factor`, label, "ratio", "plus percentage", [RAISED, percent]);
    const inputs = [`${id}.cost`, `${id}.factor`];
    return sheet.derived(`${id}.price`, `price of ${kind}`, "currency", "product", inputs);
  });
  sheet.derived("price.exact", PRICE, "currency", "sum", prices);
}

const RAISED = "price.raised-cost";

/** Price over direct cost for a kind of cost: its own, or the one of all. */
export function factorOf(sheet: FigureSheet, kind: CostKind): string {
  if (sheet.has(RAISED)) return `markup.${kind}.factor`;
  const factor = "price.factor";
  const inputs = ["price.exact", "cost.direct"];
  return sheet.has(factor)
    ? factor
    : sheet.derived(factor, "price over direct cost", "ratio", "quotient", inputs);
}

import * as fc from "fast-check";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { sourceText } from "../worked/tool-board.ts";
import { inputOf, randomJob } from "./random-job.ts";

/** Commissions by lot with any of the rules that a price can have, and terms of payment. */

const quarters = (max: number): fc.Arbitrary<string> =>
  fc.integer({ min: 0, max: max * 4 }).map((count) => String(count / 4));

/** Rules that stand in settings.csv together; none of a group or all. */
type Rules = Readonly<Record<string, string>>;

const RULES: readonly fc.Arbitrary<Rules>[] = [
  fc.record({ spoilage_percent: quarters(20) }),
  fc.record({ minimum_order: fc.constantFrom("0", "250", "3000") }),
  fc.record({ rush_percent: quarters(40) }),
  fc.record({
    rush_percent_per_day: quarters(10),
    usual_days: fc.constantFrom("10", "15"),
    wanted_days: fc.constantFrom("3", "12"),
  }),
  fc.record({
    repeat_discount_percent: quarters(8),
    repeat_discount_most_percent: fc.constantFrom("10", "30"),
  }),
  fc.record({ discount_percent: quarters(15) }),
  fc.record({ discount: fc.constantFrom("1", "7", "13") }),
  fc.record({ deposit_percent: fc.constantFrom("0", "33", "50", "66.6", "100") }),
  fc.record({
    revisions_included: fc.constantFrom("0", "2"),
    revision_price: fc.constantFrom("25", "40"),
  }),
  fc.record({
    charge_sheets: fc.constantFrom("whole sheets", "less what is left", "area of the parts"),
    waste_percent: quarters(30),
  }),
  fc.record({
    hours_per_day: fc.constantFrom("4", "7.5"),
    delivery_days: fc.constantFrom("0", "2"),
  }),
  fc.record({ learning_model: fc.constantFrom("unit", "cumulative average") }),
];

const rules = fc
  .tuple(...RULES.map((group) => fc.option(group, { nil: {} })))
  .map((groups): Rules => Object.assign({}, ...groups));

/** Whole percents that add up to 100. */
const stages = fc
  .array(fc.integer({ min: 1, max: 30 }), { maxLength: 3 })
  .map((first) => [...first, 100 - first.reduce((sum, one) => sum + one, 0)]);

/** Headings of the quote that are taxed otherwise, and at how many percent. */
const taxes = fc.subarray([
  ["food", "Materials; Delivery", "7"],
  ["none", "Design and preparation", "0"],
  ["odd", "Cutting; Finishing", "5.5"],
] as const);

/** Parcels of so many kg by a tariff, instead of the price in the settings. */
const parcels = fc.record({
  parcels: fc.integer({ min: 1, max: 3 }),
  weight_kg: fc.integer({ min: 1, max: 99 }).map((tenths) => tenths / 10),
});

const TARIFF = [
  "id,up_to_kg,price,cm3_per_kg,round_up_kg,valid_from,source",
  ...["2,6", "5,9", "10,14"].map((step) => `post,${step},,0.5,2026-01-01,by lot`),
].join("\n");

export const richJob: fc.Arbitrary<EstimateInput> = fc
  .record({
    job: randomJob,
    rules,
    stages: fc.option(stages, { nil: null }),
    taxes,
    sent: fc.option(parcels, { nil: null }),
  })
  .map(({ job, rules, stages, taxes, sent }) => {
    const settings = { ...job.settings, ...rules };
    const input = inputOf({ ...job, settings });
    const terms = stages === null ? [] : ["terms:", "  stages:", ...stages.map(stageText)];
    const delivery =
      sent === null ? [] : [`delivery: ${JSON.stringify({ tariff: "post", ...sent })}`];
    const learns = "learning_model" in rules;
    return {
      ...input,
      job: input.job.map(({ name, text }) =>
        sourceText(name, name === "job.yaml" ? [text, ...terms, ...delivery].join("\n") : text),
      ),
      tables: [
        ...input.tables.map((table) =>
          learns && table.name === "tables/tasks.csv" ? learned(table.text) : table,
        ),
        sourceText("tables/deliveries.csv", TARIFF),
        ...(taxes.length === 0 ? [] : [taxTable(taxes)]),
      ],
    };
  });

/** Tasks by the piece get quicker, after some minutes of set-up. */
function learned(tasks: string): EstimateInput["tables"][number] {
  const [head = "", ...rows] = tasks.trim().split("\n");
  const lines = rows.map((row) => `${row},${row.includes(",piece,") ? "90,5" : ","}`);
  return sourceText(
    "tables/tasks.csv",
    [`${head},learning_percent,setup_minutes`, ...lines].join("\n"),
  );
}

function stageText(percent: number, index: number): string {
  return `    - { name: Stage ${index + 1}, percent: ${percent}, due: day ${index + 1} }`;
}

function taxTable(rows: readonly (readonly string[])[]): EstimateInput["tables"][number] {
  const lines = rows.map((cells) => `${cells.join(",")},2026-01-01,by lot`);
  const text = ["id,sections,percent,valid_from,source", ...lines].join("\n");
  return sourceText("tables/taxes.csv", text);
}

import { Amount } from "../money.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { amountUpTo, text } from "./cells.ts";
import { RULE_NAMES } from "./setting-kinds.ts";
import { SETTING_NAMES } from "./types.ts";
import type { JobTerms, StageRule } from "./types.ts";
import type { Elsewhere, YamlEntry, YamlReader } from "./yaml-map.ts";

/** What job.yaml says under `terms:`: stages of payment, and words for the customer. */

export const NO_TERMS: JobTerms = { stages: [], notIncluded: [], discountReason: null };

/** What stands below `price:`. */
export const PRICE_NAMES: readonly string[] = [...SETTING_NAMES, ...RULE_NAMES];

const TERMS = ["stages", "not_included", "discount_reason"];

/** For names that stand under the wrong heading. */
export const BELOW_PRICE: Elsewhere = { names: PRICE_NAMES, below: "price:" };
export const BELOW_TERMS: Elsewhere = { names: TERMS, below: "terms:" };

export function readTerms(yaml: YamlReader, entry: YamlEntry | undefined): JobTerms {
  if (entry === undefined) return NO_TERMS;
  const fields = yaml.fields(entry, TERMS, [BELOW_PRICE]);
  return {
    stages: readStages(yaml, fields.get("stages")),
    notIncluded: readTexts(yaml, fields.get("not_included")),
    discountReason: yaml.value(fields.get("discount_reason"), text),
  };
}

/** The texts of a list; none for nothing. */
export function readTexts(yaml: YamlReader, entry: YamlEntry | undefined): readonly string[] {
  if (entry === undefined) return [];
  return yaml.items(entry).flatMap((item) => yaml.value(item, text) ?? []);
}

/** All of them or none: what is left of the price when one is not known, nobody can say. */
function readStages(yaml: YamlReader, entry: YamlEntry | undefined): readonly StageRule[] {
  if (entry === undefined) return [];
  const items = yaml.items(entry);
  const stages = items.flatMap((item) => readStage(yaml, item) ?? []);
  if (stages.length < items.length) return [];
  yaml.problems.push(...notWhole(entry.place, stages));
  return stages;
}

function readStage(yaml: YamlReader, item: YamlEntry): StageRule | null {
  const fields = yaml.fields(item, ["name", "percent", "due"]);
  const field = (key: string): YamlEntry =>
    fields.get(key) ?? { place: inColumn(item.place, `${item.place.column}.${key}`), node: null };
  const [name, percent, due] = [
    yaml.needed(field("name"), text, STAGE),
    yaml.needed(field("percent"), PERCENT, STAGE),
    yaml.needed(field("due"), text, STAGE),
  ];
  if (name === null || percent === null || due === null) return null;
  return { name, percent, due, place: field("percent").place };
}

const PERCENT = amountUpTo(100, "a percentage, 0 or more, such as 12.5");
const STAGE = "Write `name: Deposit`, `percent: 50` and `due: on order` for each stage";

function notWhole(place: Place, stages: readonly StageRule[]): readonly Problem[] {
  const whole = stages.reduce((sum, { percent }) => sum.plus(percent), new Amount(0));
  if (stages.length === 0 || whole.eq(100)) return [];
  return [
    errorAt(place, {
      code: "stages-not-whole",
      found: `${stages.map(({ percent }) => percent.toString()).join(" + ")} = ${whole.toString()} %`,
      expected: "stages that add up to 100 % of the total",
      mend: whole.lt(100)
        ? `Add a stage for the other ${new Amount(100).minus(whole).toString()} %, or correct one`
        : "Lower one of them",
    }),
  ];
}

import { moneyText } from "../money.ts";
import { givenRule, settingOf } from "./build-up.ts";
import type { Ledger } from "./ledger.ts";
import type { PaymentStage, PricingInput } from "./types.ts";

/**
 * Parts of the total with tax. Each is what is due up to it, rounded, less what was due before: so
 * they add up to the total to the cent, and none falls below 0.
 */
export function addStages(ledger: Ledger, input: PricingInput): readonly PaymentStage[] {
  const { sheet } = ledger;
  const rules = stageRules(ledger, input);
  const upTo = rules.map((_, index) => addUpTo(ledger, rules, index));
  return rules.map(({ name, due, percent }, index) => {
    const [formula, inputs] =
      index === 0
        ? (["sum", upTo.slice(0, 1)] as const)
        : (["difference", [upTo[index]!, upTo[index - 1]!]] as const);
    const figure = sheet.derived(`stage.${index + 1}.amount`, name, "currency", formula, inputs);
    return {
      name,
      due,
      percent: sheet.value(percent).toString(),
      amount: moneyText(sheet.value(figure), input.currency),
      figure,
    };
  });
}

/** What is due with a stage and all before it; with the last one that is the total. */
function addUpTo({ sheet }: Ledger, rules: readonly Stage[], index: number): string {
  const total = "quote.total";
  if (index === rules.length - 1) return total;
  const [id, label] = [`stage.${index + 1}`, `due with ${rules[index]!.name}`];
  const percents = rules.slice(0, index + 1).map(({ percent }) => percent);
  sheet.derived(`${id}.percent-up-to`, label, "percent", "sum", percents);
  const exact = [total, `${id}.percent-up-to`];
  sheet.derived(`${id}.exact`, `${label}, before rounding`, "currency", "percentage", exact);
  const rounded = [`${id}.exact`, "money.unit"];
  return sheet.derived(`${id}.up-to`, label, "currency", "rounded to step", rounded);
}

/** A stage before its amount is known. */
interface Stage {
  readonly name: string;
  readonly due: string;
  /** Id of the figure of its percentage. */
  readonly percent: string;
}

/** The job's own, else the deposit that is usual with the maker, and the rest. */
function stageRules({ sheet }: Ledger, input: PricingInput): readonly Stage[] {
  const { stages } = input.job.terms;
  if (stages.length > 0)
    return stages.map(({ name, due, percent, place }, index) => {
      const source = { kind: "cell", place, cited: null } as const;
      const id = `stage.${index + 1}.percent`;
      return {
        name,
        due,
        percent: sheet.given(id, `${name}, of the total`, "percent", percent, source),
      };
    });
  const deposit = settingOf(input, "deposit_percent");
  if (deposit === null || deposit.value.isZero()) return [];
  const first = "stage.1.percent";
  givenRule(sheet, input, "deposit_percent", [first, "deposit, of the total", "percent"]);
  const all = { name: "Payment", due: "on order", percent: first };
  if (deposit.value.eq(WHOLE)) return [all];
  const rest = "stage.2.percent";
  sheet.derived(rest, "balance, of the total", "percent", "rest in percent", [first]);
  return [
    { ...all, name: "Deposit" },
    { name: "Balance", due: "on completion", percent: rest },
  ];
}

/** Percent. */
const WHOLE = 100;

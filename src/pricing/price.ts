import type { Job, Setting, SettingName, Tables } from "../job/types.ts";
import { Amount, moneyText, roundMoney } from "../money.ts";
import { checked } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { addBuildUp, profitRule, settingOf } from "./build-up.ts";
import { addHandWork } from "./hand-work.ts";
import { addHardware } from "./hardware.ts";
import { newLedger } from "./ledger.ts";
import { addMachine } from "./machine-cost.ts";
import { addPaint } from "./paint.ts";
import { addParts } from "./parts.ts";
import { addQuote } from "./quote.ts";
import { addSheets } from "./sheets.ts";
import { handWorkProblems } from "./work-problems.ts";
import { addStockLengths } from "./stock-lengths.ts";
import type { FigureRecord, Priced, PricingInput } from "./types.ts";

/** Works out every figure of a measured, nested and timed job, from sheets to the customer's total. */
export function priceJob(input: PricingInput): Checked<Priced> {
  const ledger = newLedger();
  addParts(ledger, input);
  addSheets(ledger, input);
  addMachine(ledger, input);
  addPaint(ledger, input);
  addHardware(ledger, input);
  addStockLengths(ledger, input);
  addHandWork(ledger, input);
  addBuildUp(ledger, input);
  const free = ledger.sheet.value("cost.direct").isZero();
  if (free) ledger.problems.push(nothingToCharge(input));
  const quote = free ? [] : addQuote(ledger, input);
  const figures: readonly FigureRecord[] = ledger.sheet
    .figures()
    .map((figure) => ({ ...figure, value: figure.value.toString() }));
  return checked({ figures, quote, shopping: ledger.shopping }, ledger.problems);
}

/** Rules that a price can not do without, or that contradict each other: never taken as zero. */
export function missingPrices(job: Job, tables: Tables): readonly Problem[] {
  const settings = NEEDED_SETTINGS.filter((name) => settingOf({ job, tables }, name) === null).map(
    (name) => missing(name, `a row with the id ${name}`, RULE_MEND),
  );
  const currency = tables.currency === null ? [missing("currency", CURRENCY, CURRENCY_MEND)] : [];
  return [
    ...currency,
    ...settings,
    ...profitProblems(job, tables),
    ...stepProblems(job, tables),
    ...handWorkProblems(job, tables),
  ];
}

/** Prices of nothing but zeros: there is no share of the price to put on a line. */
function nothingToCharge({ stocks, machine }: PricingInput): Problem {
  return {
    code: "nothing-to-charge",
    severity: "error",
    ...(stocks[0]?.row ?? machine).place,
    column: "price",
    found: "prices that come to 0",
    expected: "a price above 0 for something that the job uses",
    mend: "Fill in what sheets, machine and hours cost",
  };
}

const NEEDED_SETTINGS: readonly SettingName[] = [
  "overhead_percent",
  "contingency_percent",
  "tax_percent",
  "round_total_to",
  "delivery",
];
const RULE_MEND = "Add it to settings.csv, or under price: in job.yaml (0 if there is to be none)";
const CURRENCY = "a row with the id currency and an ISO 4217 code";
const CURRENCY_MEND = "Add it to settings.csv, such as currency,EUR";
const MARGIN_LIMIT = 100;

function profitProblems(job: Job, tables: Tables): readonly Problem[] {
  const { markup, margin } = profitRule({ job, tables });
  if (!markup && !margin)
    return [
      missing("markup_percent", "a row with the id markup_percent or margin_percent", RULE_MEND),
    ];
  if (markup && margin) return [bothProfits(markup, margin)];
  return margin?.value.gte(MARGIN_LIMIT) === true ? [marginTooLarge(margin)] : [];
}

/** A total can only be rounded to what can be paid. */
function stepProblems(job: Job, tables: Tables): readonly Problem[] {
  const step = settingOf({ job, tables }, "round_total_to");
  const { currency } = tables;
  if (!step || !currency || roundMoney(step.value, currency).eq(step.value)) return [];
  const least = moneyText(new Amount(10).pow(-currency.minorDigits), currency);
  return [
    {
      code: "round-step",
      severity: "error",
      ...step.place,
      found: step.value.toString(),
      expected: `a multiple of ${least} ${currency.code}`,
      mend: "Round to an amount that can be paid, or write 0 for no rounding",
    },
  ];
}

function bothProfits(markup: Setting, margin: Setting): Problem {
  return {
    code: "markup-and-margin",
    severity: "error",
    ...margin.place,
    found: `markup ${markup.value.toString()} % and margin ${margin.value.toString()} %`,
    expected: "one of them: a markup is in percent of the cost, a margin in percent of the price",
    mend: "Remove the one that is not meant",
  };
}

function marginTooLarge(margin: Setting): Problem {
  return {
    code: "margin-too-large",
    severity: "error",
    ...margin.place,
    found: `${margin.value.toString()} %`,
    expected: "a margin below 100 %, since it is a share of the price",
    mend: "Lower it, or write markup_percent if percent of the cost is meant",
  };
}

function missing(name: string, expected: string, mend: string): Problem {
  return {
    code: "missing-setting",
    severity: "error",
    file: "settings.csv",
    line: null,
    column: name,
    found: "",
    expected,
    mend,
  };
}

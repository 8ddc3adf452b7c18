import { jobFileInDoubt, mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { Job, Setting, SettingName, Tables } from "../job/types.ts";
import { checked, errorAt, inColumn, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { addBuildUp, settingOf } from "./build-up.ts";
import { finishProblems } from "./finish-problems.ts";
import { addDelivery } from "./delivery.ts";
import { addHandWork } from "./hand-work.ts";
import { addHardware } from "./hardware.ts";
import { glueProblems, holeProblems } from "./holes.ts";
import { jointProblems } from "./joint-problems.ts";
import { recordOf } from "./figure-record.ts";
import { newLedger } from "./ledger.ts";
import { addLeadTime } from "./lead-time.ts";
import { addMachine } from "./machine-cost.ts";
import { parcelProblems } from "./parcels.ts";
import { oddPrices } from "./odd-prices.ts";
import { addPaint } from "./paint.ts";
import { addParts } from "./parts.ts";
import { profitRule } from "./profit.ts";
import { addQuote } from "./quote.ts";
import { sheetCharge } from "./sheet-charge.ts";
import type { Quote } from "./quote.ts";
import { addSheets } from "./sheets.ts";
import { handWorkProblems } from "./work-problems.ts";
import { addStockLengths, lengthProblems } from "./stock-lengths.ts";
import { addWeights } from "./weights.ts";
import type { MeasuredJob, Priced, PricingInput } from "./types.ts";

/** Works out every figure of a measured, nested and timed job, from sheets to the customer's total. */
export function priceJob(input: PricingInput): Checked<Priced> {
  const ledger = newLedger();
  addParts(ledger, input);
  addSheets(ledger, input);
  addMachine(ledger, input);
  addPaint(ledger, input);
  addHardware(ledger, input);
  addStockLengths(ledger, input);
  addWeights(ledger, input);
  addHandWork(ledger, input);
  const leadTime = addLeadTime(ledger, input);
  addDelivery(ledger, input);
  addBuildUp(ledger, input);
  const free = ledger.sheet.value("cost.direct").isZero();
  const problems = free ? [nothingToCharge(input)] : [];
  const quote = free ? NO_QUOTE : addQuote(ledger, input, leadTime);
  const figures = ledger.sheet.figures().map(recordOf);
  const { shopping, making, remarks } = ledger;
  const { lines, terms } = quote;
  const priced = { figures, quote: lines, shopping, making, leadTime, terms };
  return checked(priced, [...remarks, ...problems]);
}

const NO_QUOTE: Quote = {
  lines: [],
  terms: { maker: [], validUntil: null, stages: [], revisions: null, notIncluded: [] },
};

/**
 * Everything that a price can not do without, that contradicts itself, or that the job calls for and
 * its parts do not have: never taken as zero. Known before the nest.
 */
export function priceProblems(measured: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const { job, tables } = measured;
  return [
    ...missingSettings(job, tables, doubts),
    ...profitProblems(job, tables),
    ...holeProblems(measured),
    ...glueProblems(measured),
    ...jointProblems(measured),
    ...lengthProblems(job),
    ...finishProblems(measured),
    ...handWorkProblems(measured, doubts),
    ...oddPrices(measured),
    ...parcelProblems(measured, doubts),
  ];
}

function missingSettings(job: Job, tables: Tables, doubts: Doubts): readonly Problem[] {
  const missing = (...names: readonly SettingName[]): boolean =>
    names.every(
      (name) =>
        settingOf({ job, tables }, name) === null && !mayHold(doubts, "settings.csv", { id: name }),
    );
  if (jobFileInDoubt(doubts, "price")) return [];
  const profit = noProfit(job, tables, doubts) ? [missingSetting("markup_percent", PROFIT)] : [];
  const byArea = sheetCharge({ job, tables }) === "area of the parts";
  const waste = byArea ? (["waste_percent"] as const) : [];
  const said = (name: SettingName): boolean => settingOf({ job, tables }, name) !== null;
  const together = TOGETHER.flatMap(([name, ...others]) => (said(name) ? others : []));
  const always = NEEDED_SETTINGS.filter((name) => name !== "delivery" || job.delivery === null);
  const needed = [...always, ...waste, ...together].filter((name) => missing(name));
  return [...needed.map((name) => missingSetting(name, `a row with the id ${name}`)), ...profit];
}

const PROFIT = "a row with the id markup_percent or margin_percent";

/** Also where kinds of cost have their own markups: then there is none for the others. */
function noProfit(job: Job, tables: Tables, doubts: Doubts): boolean {
  const { markup, margin } = profitRule({ job, tables });
  const mayStand = ["markup_percent", "margin_percent"].some((id) =>
    mayHold(doubts, "settings.csv", { id }),
  );
  return markup === null && margin === null && !mayStand;
}

/** Prices of nothing but zeros: there is no share of the price to put on a line. */
function nothingToCharge({ stocks, machine }: PricingInput): Problem {
  return {
    code: "nothing-to-charge",
    severity: "error",
    ...(stocks[0]?.used[0]?.row ?? machine).place,
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
/** The first of them means nothing without the others. */
const TOGETHER: readonly (readonly [SettingName, ...SettingName[]])[] = [
  ["wanted_days", "usual_days", "rush_percent_per_day"],
  ["repeat_discount_percent", "repeat_discount_most_percent"],
];
const MARGIN_LIMIT = 100;

function profitProblems(job: Job, tables: Tables): readonly Problem[] {
  const { markup, margin, own } = profitRule({ job, tables });
  const one = markup ?? [...own.values()][0];
  if (one && margin) return [bothProfits(one, margin)];
  return margin?.value.gte(MARGIN_LIMIT) === true ? [marginTooLarge(margin)] : [];
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

function missingSetting(column: SettingName, expected: string): Problem {
  return errorAt(inColumn(inFile("settings.csv"), column), {
    code: "missing-setting",
    found: "",
    expected,
    mend: "Add it to settings.csv, or under price: in job.yaml (0 if there is to be none)",
  });
}

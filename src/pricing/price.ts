import type { Job, Tables } from "../job/types.ts";
import { checked } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { NEEDED_SETTINGS, addBuildUp } from "./build-up.ts";
import { addHandWork } from "./hand-work.ts";
import { addHardware } from "./hardware.ts";
import { newLedger } from "./ledger.ts";
import { addMachine } from "./machine-cost.ts";
import { addPaint } from "./paint.ts";
import { addParts } from "./parts.ts";
import { addQuote } from "./quote.ts";
import { addSheets } from "./sheets.ts";
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
  const quote = addQuote(ledger, input);
  const figures: readonly FigureRecord[] = ledger.sheet
    .figures()
    .map((figure) => ({ ...figure, value: figure.value.toString() }));
  return checked({ figures, quote, shopping: ledger.shopping }, ledger.problems);
}

/** Rules and rates that a price can not do without: a missing one is a problem, never zero. */
export function missingPrices(job: Job, tables: Tables): readonly Problem[] {
  const settings = NEEDED_SETTINGS.filter(
    (name) => !job.settings.has(name) && !tables.settings.has(name),
  ).map((name) => missing(name, `a row with the id ${name}`, RULE_MEND));
  const currency = missing(
    "currency",
    "a row with the id currency and an ISO 4217 code",
    CURRENCY_MEND,
  );
  return tables.currency === null ? [currency, ...settings] : settings;
}

const RULE_MEND = "Add it to settings.csv, or under price: in job.yaml (0 if there is to be none)";
const CURRENCY_MEND = "Add it to settings.csv, such as currency,EUR";

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

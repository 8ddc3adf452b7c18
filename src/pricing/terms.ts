import { dayAfter } from "../job/day.ts";
import { moneyText } from "../money.ts";
import { givenRule } from "./build-up.ts";
import type { Ledger } from "./ledger.ts";
import { addStages } from "./stages.ts";
import { tasksOf } from "./tasks.ts";
import type { PricingInput, QuoteTerms } from "./types.ts";

/** What a quote says beside its lines: by when, in which stages, and what is not in it. */
export function addTerms(ledger: Ledger, input: PricingInput): QuoteTerms {
  const { job, tables } = input;
  const words = (name: "maker" | "contact" | "not_included"): readonly string[] =>
    tables.wordings.get(name) ?? [];
  return {
    maker: [...words("maker"), ...words("contact")],
    validUntil: addValidity(ledger, input),
    stages: addStages(ledger, input),
    revisions: addRevisions(ledger, input),
    notIncluded: [
      ...words("not_included"),
      ...job.terms.notIncluded,
      ...(hasMains(input) ? [ELECTRICAL] : []),
    ],
  };
}

/** Trade facts 3.2, test guidance for lamp makers; wording: common practice. */
const ELECTRICAL =
  "Electrical parts fitted or checked by a licensed electrician to the local code, unless listed above";

/** Calendar days, the job's date not counted; without a date there is no last day. */
function addValidity({ sheet }: Ledger, input: PricingInput): string | null {
  const what = ["terms.valid-days", "quote holds for", "days"] as const;
  const days = givenRule(sheet, input, "valid_days", what);
  if (days === null || input.job.date === null) return null;
  return dayAfter(input.job.date, sheet.value(days).toNumber());
}

function addRevisions({ sheet }: Ledger, input: PricingInput): QuoteTerms["revisions"] {
  const included = givenRule(sheet, input, "revisions_included", [
    "terms.revisions",
    "changes to the design in the price",
    "pcs",
  ]);
  const further = givenRule(sheet, input, "revision_price", [
    "terms.revision-price",
    "a further change to the design, net",
    "currency",
  ]);
  if (included === null) return null;
  return {
    included: sheet.value(included).toNumber(),
    further: further === null ? null : moneyText(sheet.value(further), input.currency),
  };
}

function hasMains({ job, tables }: PricingInput): boolean {
  const used = new Set(job.hardware.map(({ item }) => item));
  const items = tables.hardware.filter(({ id }) => used.has(id));
  const tasks = tasksOf({ job, tables }).map(({ task }) => task);
  return [...items, ...tasks].some(({ hazard }) => hazard === "mains");
}

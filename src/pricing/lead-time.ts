import type { QuoteSection, SettingName } from "../job/types.ts";
import { settingOf } from "./build-up.ts";
import { dryings } from "./drying.ts";
import type { FinishDrying } from "./drying.ts";
import { cell, settingSource, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import type { FinishCalendar, LeadTime, MomentOfWork, PricingInput, TaskDone } from "./types.ts";
import { DAY_MIN, morningOf, workingDays } from "./working-day.ts";

/**
 * From the order to the hand-over, in working days, one thing after the other: what is bought arrives,
 * the machine's work, hand work before painting, painting or the drying of it (whichever takes longer),
 * hand work after it or until the paint is hard, delivery. Null without hours_per_day.
 */
export function addLeadTime(ledger: Ledger, input: PricingInput): LeadTime | null {
  const { sheet } = ledger;
  const perDay = addSetting(ledger, input, "hours_per_day", "work on the order in a day", "h");
  if (perDay === null) return null;
  const openMin = sheet.value(perDay).times(MIN_PER_HOUR).toNumber();
  const plans = dryings(ledger, input, { openMin, figure: perDay });
  addCalendars(ledger, plans);
  const worked = (what: string, label: string, isIts: (task: TaskDone) => boolean): string =>
    addWorkDays(ledger, perDay, what, label, isIts);
  const drying = addDrying(ledger, plans, openMin);
  const during = worked("painting-work", "painting and what belongs to it", isDuring);
  const preparing = worked("preparing-work", "of these all but painting itself", isPreparing);
  const after = worked("after-work", "assembly and packing", isAfter);
  const dry = drying && addPrepared(ledger, preparing, drying.touch);
  const days = [
    addSetting(ledger, input, "materials_days", "until what is bought is there", "days"),
    addMachineDays(ledger, input, perDay),
    worked("before-work", "drawing, preparing, sorting", isBefore),
    longer(ledger, "painting", "painting, or until it may be touched", during, dry),
    longer(
      ledger,
      "after",
      "assembly and packing, or until it is hard",
      after,
      drying?.hard ?? null,
    ),
    addSetting(ledger, input, "delivery_days", "delivery", "days"),
  ].filter((id) => id !== null);
  sheet.derived("lead.exact", "from the order to the hand-over", "days", "sum", days);
  const label = "ready in so many working days";
  const figure = sheet.derived("lead.days", label, "days", "rounded up", ["lead.exact"]);
  const workingDays = sheet.value(figure).toNumber();
  ledger.remarks.push(...wantedSooner(input, workingDays));
  return { workingDays, figure };
}

/** A surcharge buys nothing that the work and the paint do not give. */
function wantedSooner(input: PricingInput, workingDays: number): readonly Problem[] {
  const wanted = settingOf(input, "wanted_days");
  if (wanted === null || wanted.value.gte(workingDays)) return [];
  return [
    warningAt(wanted.place, {
      code: "wanted-sooner",
      found: wanted.value.toString(),
      expected: `${workingDays} days or more, which the work and the drying take (explain lead.days)`,
      mend: "Agree on more days, have the machine's work sooner by machine_days, or work more hours a day on it",
    }),
  ];
}

const MIN_PER_HOUR = 60;

const AFTER: ReadonlySet<QuoteSection> = new Set([
  "Fixings and bought-in parts",
  "Making and assembly",
  "Delivery",
]);

function isDuring({ section }: TaskDone): boolean {
  return section === "Finishing";
}

/** Scuffing, masking and setting up: the calendar of a finish has only its coats. */
function isPreparing(task: TaskDone): boolean {
  return isDuring(task) && task.basis !== "coat m2";
}

function isAfter({ section }: TaskDone): boolean {
  return AFTER.has(section);
}

function isBefore(task: TaskDone): boolean {
  return !isDuring(task) && !isAfter(task);
}

function addSetting(
  { sheet }: Ledger,
  input: PricingInput,
  name: SettingName,
  label: string,
  unit: "h" | "days",
): string | null {
  const setting = settingOf(input, name);
  if (setting === null) return null;
  return sheet.given(
    `lead.${name.replaceAll("_", "-")}`,
    label,
    unit,
    setting.value,
    settingSource(setting),
  );
}

/** Of a service in how many days it is ready; else the machine's own hours. */
function addMachineDays(ledger: Ledger, { job, machine }: PricingInput, perDay: string): string {
  const { sheet } = ledger;
  const [id, label] = ["lead.machine", `${machine.description}, days`];
  if (job.machineDays !== null) {
    const { days, place } = job.machineDays;
    return sheet.given(id, label, "days", days, { kind: "cell", place, cited: null });
  }
  if (machine.usualDays !== null)
    return sheet.given(id, label, "days", machine.usualDays, cell(machine, "usual_days"));
  return inDays(ledger, id, `${machine.description}, days at work`, ["machine.minutes"], perDay);
}

function addWorkDays(
  ledger: Ledger,
  perDay: string,
  what: string,
  label: string,
  isIts: (task: TaskDone) => boolean,
): string {
  const minutes = ledger.making.tasks.filter(isIts).map(({ figure }) => figure);
  return inDays(ledger, `lead.${what}`, label, minutes, perDay);
}

function inDays(
  { sheet }: Ledger,
  id: string,
  label: string,
  minutes: readonly string[],
  perDay: string,
): string {
  sheet.derived(`${id}-minutes`, label, "min", "sum", minutes);
  sheet.derived(`${id}-hours`, label, "h", "minutes to hours", [`${id}-minutes`]);
  return sheet.derived(id, label, "days", "quotient", [`${id}-hours`, perDay]);
}

/** The days until the last finish may be touched, and those more until the last one is hard. */
function addDrying(
  ledger: Ledger,
  plans: readonly FinishDrying[],
  openMin: number,
): { readonly touch: string; readonly hard: string } | null {
  if (plans.length === 0) return null;
  const { sheet } = ledger;
  const last = (what: "touch" | "hard", words: string): string => {
    const ids = plans.map(({ finish, touchMin, hardMin, from }) =>
      sheet.given(
        `lead.${slug(finish)}.${what}`,
        `${finish}, ${words}`,
        "days",
        workingDays(what === "touch" ? touchMin : hardMin, openMin),
        { kind: "computed", by: "drying times", what: "coats, waits and evenings", from },
      ),
    );
    return sheet.derived(`lead.all-${what}`, `all paint, ${words}`, "days", "at least", ids);
  };
  const [touch, all] = [last("touch", "until it may be touched"), last("hard", "until it is hard")];
  const label = "paint, from touching to hard";
  const hard = sheet.derived("lead.hardening", label, "days", "difference", [all, touch]);
  return { touch, hard };
}

/** None of it is taken to be done while paint dries. */
function addPrepared({ sheet }: Ledger, preparing: string, touch: string): string {
  const label = "preparing, and the days of painting until it may be touched";
  return sheet.derived("lead.prepared-and-dry", label, "days", "sum", [preparing, touch]);
}

function longer(
  { sheet }: Ledger,
  what: string,
  label: string,
  work: string,
  drying: string | null,
): string {
  if (drying === null) return work;
  return sheet.derived(`lead.${what}`, label, "days", "at least", [work, drying]);
}

/** For the bench: what comes when. */
function addCalendars({ making }: Ledger, plans: readonly FinishDrying[]): void {
  for (const [index, made] of making.finishes.entries()) {
    const plan = plans.find(({ finish }) => finish === made.finish);
    if (plan !== undefined) making.finishes[index] = { ...made, calendar: calendarOf(plan) };
  }
}

function calendarOf({ planned, touchMin, hardMin }: FinishDrying): FinishCalendar {
  return {
    planned: planned.map(({ step, coat, waitedFor, begin }) => ({
      step,
      coat,
      waitedFor,
      ...momentOf(begin),
    })),
    touch: momentOf(touchMin),
    hard: momentOf(hardMin),
  };
}

function momentOf(at: number): MomentOfWork {
  const morning = morningOf(at);
  return { day: morning / DAY_MIN + 1, minute: at - morning };
}

import type { FigureSheet } from "../figure.ts";
import { inColumn, warningAt } from "../problem.ts";
import { moneyText } from "../money.ts";
import { trimmed } from "../units.ts";
import { cell, jobCell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addHourlyCost } from "./machine-hour.ts";
import { addLengthCharges } from "./machine-lengths.ts";
import { machineId } from "./sheets.ts";
import type { PricingInput } from "./types.ts";

/**
 * What the machine's work costs: time, lengths, set-up and sheets as the machine's row says, at least
 * its minimum, and more where it is wanted sooner. One's own costs its hour, as long as it runs.
 * @returns the id of `machine.cost`.
 */
export function addBill(ledger: Ledger, input: PricingInput): string {
  const { sheet } = ledger;
  const { machine } = input;
  const others = [...addLengthCharges(sheet, input), ...addFixedCharges(sheet, input)];
  const wantedSooner = isSooner(input);
  const alone = others.length === 0 && machine.minimumCharge === null && !wantedSooner;
  const time = addTime(ledger, input, alone ? "machine.cost" : "machine.time-charge");
  if (alone) return time;
  const base = sheet.derived("machine.charges", "machine, all charges", "currency", "sum", [
    time,
    ...others,
  ]);
  const charged = addMinimum(sheet, input, base);
  const rush = wantedSooner ? [addRush(sheet, input, charged)] : [];
  return sheet.derived("machine.cost", "machine", "currency", "sum", [charged, ...rush]);
}

/** Minutes at the machine's rate: own by the hour as they run, a service's as it bills them. */
function addTime(ledger: Ledger, input: PricingInput, id: string): string {
  const { sheet } = ledger;
  const { machine } = input;
  if (machine.kind === "own") return addRated(sheet, input, id, "machine.minutes");
  const billed = addBilled(sheet, input);
  if (machine.aboveHourRate === null) return addRated(sheet, input, id, billed);
  const byMinute = addRated(sheet, input, "machine.by-minute", billed);
  const byHour = addByHour(sheet, input, billed);
  remarkOtherWay(ledger, input, billed);
  const formula = "by the minute or the hour";
  return sheet.derived(id, "machine, time", "currency", formula, [billed, byMinute, byHour]);
}

/** Started billing steps, and no fewer minutes than the least that is billed. */
function addBilled(sheet: FigureSheet, { machine }: PricingInput): string {
  sheet.given(
    "machine.minimum",
    "least that is billed",
    "min",
    machine.minimumMinutes,
    cell(machine, "minimum_minutes"),
  );
  const { billingStepMinutes: step } = machine;
  const started = addStep(sheet, "machine.minutes", {
    ids: ["machine.step", "machine.started"],
    step,
    source: cell(machine, "billing_step_minutes"),
  });
  return sheet.derived("machine.billed", "machine, minutes billed", "min", "at least", [
    started,
    "machine.minimum",
  ]);
}

/** Whole started hours, or parts of them as the service says. */
function addByHour(sheet: FigureSheet, { machine }: PricingInput, billed: string): string {
  const started = addStep(sheet, billed, {
    ids: ["machine.hour-step", "machine.hours-started"],
    step: machine.aboveHourStepMinutes,
    source: cell(machine, "above_hour_step_minutes"),
  });
  sheet.given(
    "machine.hour-rate",
    `${machine.description}, an hour where there is more than one`,
    "currency/h",
    machine.aboveHourRate ?? 0,
    cell(machine, "above_hour_rate"),
  );
  const inputs = [started, "machine.hour-rate"];
  const label = "machine, billed by the hour";
  return sheet.derived("machine.by-hour", label, "currency", "minutes at hourly rate", inputs);
}

interface Step {
  /** Of the step, and of the minutes rounded up to it. */
  readonly ids: readonly [string, string];
  /** Minutes; 0 leaves them as they are. */
  readonly step: number;
  readonly source: ReturnType<typeof cell>;
}

function addStep(sheet: FigureSheet, minutes: string, { ids, step, source }: Step): string {
  if (step === 0) return minutes;
  const [stepId, started] = ids;
  sheet.given(stepId, "billed in steps of", "min", step, source);
  const label = "started billing steps";
  return sheet.derived(started, label, "min", "rounded up to step", [minutes, stepId]);
}

function addRated(
  sheet: FigureSheet,
  { machine }: PricingInput,
  id: string,
  minutes: string,
): string {
  const rate = addHourlyCost(sheet, machine);
  const formula = machine.ratePer === "hour" ? "minutes at hourly rate" : "product";
  return sheet.derived(id, "machine", "currency", formula, [minutes, rate]);
}

/**
 * Where a service counts differently above an hour, a few minutes more or less can cost the better
 * part of an hour: at 1 a minute and 50 an hour, 51 to 60 minutes are dearer than the hour that
 * starts with the 61st. What is charged is the service's own rule; the other way is told.
 */
function remarkOtherWay({ sheet, remarks }: Ledger, input: PricingInput, billed: string): void {
  const { machine, currency } = input;
  const [byMinute, byHour] = [sheet.value("machine.by-minute"), sheet.value("machine.by-hour")];
  const isOver = sheet.value(billed).gt(60);
  const [charged, other] = isOver ? [byHour, byMinute] : [byMinute, byHour];
  if (other.gte(charged)) return;
  const [way, otherWay] = isOver ? ["hour", "minute"] : ["minute", "hour"];
  const minutes = trimmed(sheet.value(billed).toNumber(), 1);
  remarks.push(
    warningAt(inColumn(machine.place, "above_hour_rate"), {
      code: "cheaper-counted-otherwise",
      found: `${minutes} min billed by the ${way} at ${moneyText(charged, currency)}`,
      expected: `${moneyText(other, currency)} if they were billed by the ${otherWay} (machine.by-${otherWay}); the ${way} is the service's own rule and is charged`,
      mend: isOver
        ? "Ask the service, or see whether fewer minutes or two orders keep below the hour"
        : "Ask the service to bill them as an hour",
    }),
  );
}

/** For each set-up and each sheet laid down. */
function addFixedCharges(sheet: FigureSheet, { machine, stocks }: PricingInput): string[] {
  const charges: string[] = [];
  if (machine.setupCharge !== null) {
    const places = stocks.flatMap(({ used }) => used.map(({ row }) => row.place));
    sheet.given("machine.setups", "materials set up for", "pcs", stocks.length, {
      kind: "computed",
      by: "nest",
      what: "materials and thicknesses that the machine works",
      from: places,
    });
    const each = "machine.setup-each";
    sheet.given(each, "set-up", "currency", machine.setupCharge, cell(machine, "setup_charge"));
    charges.push(charge(sheet, "machine.setup-charge", "set-ups", ["machine.setups", each]));
  }
  if (machine.sheetCharge !== null) {
    const ids = stocks.map((stock) => machineId(stock, "sheets"));
    sheet.derived("machine.sheets", "sheets laid down in all", "pcs", "sum", ids);
    const each = "machine.sheet-each";
    sheet.given(each, "a sheet", "currency", machine.sheetCharge, cell(machine, "sheet_charge"));
    charges.push(charge(sheet, "machine.sheet-charge", "sheets", ["machine.sheets", each]));
  }
  return charges;
}

function charge(sheet: FigureSheet, id: string, what: string, of: readonly string[]): string {
  return sheet.derived(id, `machine, charged for ${what}`, "currency", "product", of);
}

/** The least that is charged, with what each further material adds to it. */
function addMinimum(sheet: FigureSheet, input: PricingInput, base: string): string {
  const { machine, stocks } = input;
  if (machine.minimumCharge === null) return base;
  const first = sheet.given(
    "machine.minimum-first",
    "least that is charged",
    "currency",
    machine.minimumCharge,
    cell(machine, "minimum_charge"),
  );
  const further: string[] = [];
  if (machine.minimumFurther !== null) {
    sheet.given("machine.further", "further materials", "pcs", stocks.length - 1, {
      kind: "computed",
      by: "nest",
      what: "materials and thicknesses beyond the first",
      from: stocks.flatMap(({ used }) => used.map(({ row }) => row.place)),
    });
    const each = sheet.given(
      "machine.minimum-further-each",
      "more for a further material",
      "currency",
      machine.minimumFurther,
      cell(machine, "minimum_further"),
    );
    further.push(
      charge(sheet, "machine.minimum-further", "more materials", ["machine.further", each]),
    );
  }
  const least = "machine.minimum-charge";
  sheet.derived(least, "least for these materials", "currency", "sum", [first, ...further]);
  return sheet.derived("machine.charged", "machine, charged", "currency", "at least", [
    base,
    least,
  ]);
}

/** Later than usual saves nothing. */
function isSooner({ machine, job }: PricingInput): boolean {
  return machine.usualDays !== null && (job.machineDays?.days ?? Infinity) < machine.usualDays;
}

/** So many percent of what is charged for each day that it is wanted sooner. */
function addRush(sheet: FigureSheet, { machine, job }: PricingInput, charged: string): string {
  const place = job.machineDays?.place ?? job.piecesPlace;
  const days = job.machineDays?.days ?? 0;
  sheet.given("machine.wanted-days", "wanted in", "days", days, jobCell(place, "machine_days"));
  sheet.given(
    "machine.usual-days",
    "usually ready in",
    "days",
    machine.usualDays ?? 0,
    cell(machine, "usual_days"),
  );
  const sooner = ["machine.usual-days", "machine.wanted-days"];
  sheet.derived("machine.days-saved", "days sooner", "days", "difference", sooner);
  sheet.given(
    "machine.rush-each",
    "more for a day sooner",
    "percent",
    machine.rushPercentPerDay ?? 0,
    cell(machine, "rush_percent_per_day"),
  );
  const each = ["machine.days-saved", "machine.rush-each"];
  sheet.derived("machine.rush-percent", "more for sooner", "percent", "product", each);
  const rush = [charged, "machine.rush-percent"];
  return sheet.derived("machine.rush", "machine, rush", "currency", "percentage", rush);
}

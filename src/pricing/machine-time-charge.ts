import type { FigureSheet } from "../figure.ts";
import { moneyText } from "../money.ts";
import { inColumn, warningAt } from "../problem.ts";
import { trimmed } from "../units.ts";
import { cell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addHourlyCost } from "./machine-hour.ts";
import type { PricingInput } from "./types.ts";

/**
 * Minutes at the machine's rate: one's own as they run, a service's as it bills them.
 * @param id of the figure that comes of it.
 */
export function addTimeCharge(ledger: Ledger, input: PricingInput, id: string): string {
  const { sheet } = ledger;
  const { machine } = input;
  if (machine.kind === "own")
    return addRated(sheet, input, { id, label: "machine" }, "machine.minutes");
  const billed = addBilled(sheet, input);
  if (machine.aboveHourRate === null)
    return addRated(sheet, input, { id, label: "machine" }, billed);
  const byMinute = addRated(sheet, input, BY_MINUTE, billed);
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

const BY_MINUTE: { readonly id: string; readonly label: string } = {
  id: "machine.by-minute",
  label: "machine, billed by the minute",
};

function addRated(
  sheet: FigureSheet,
  { machine }: PricingInput,
  { id, label }: typeof BY_MINUTE,
  minutes: string,
): string {
  const rate = addHourlyCost(sheet, machine);
  const formula = machine.ratePer === "hour" ? "minutes at hourly rate" : "product";
  return sheet.derived(id, label, "currency", formula, [minutes, rate]);
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

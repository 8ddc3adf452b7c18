import type { FigureSheet } from "../figure.ts";
import { cell, jobCell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addLengthCharges } from "./machine-lengths.ts";
import { addTimeCharge } from "./machine-time-charge.ts";
import { machineId } from "./stock-figures.ts";
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
  const time = addTimeCharge(ledger, input, alone ? "machine.cost" : "machine.time-charge");
  if (alone) return time;
  const base = sheet.derived("machine.charges", "machine, all charges", "currency", "sum", [
    time,
    ...others,
  ]);
  const charged = addMinimum(sheet, input, base);
  const rush = wantedSooner ? [addRush(sheet, input, charged)] : [];
  return sheet.derived("machine.cost", "machine", "currency", "sum", [charged, ...rush]);
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
    const inputs = ["machine.further", each];
    const label = "more for further materials";
    further.push(sheet.derived("machine.minimum-further", label, "currency", "product", inputs));
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

import type { FigureSheet } from "../figure.ts";
import type { MachineRow } from "../job/types.ts";
import { cell } from "./ledger.ts";

/**
 * The machine's rate as told; of one's own, where none is told, what an hour of it costs: its price
 * over the hours it lasts, what wears out meanwhile, and current (the usual machine rate of trade
 * articles: cost over life hours, consumables and power).
 * @returns the id of `machine.rate`.
 */
export function addHourlyCost(sheet: FigureSheet, machine: MachineRow): string {
  const isHourly = machine.ratePer === "hour";
  const label = `${machine.description}, ${isHourly ? "an hour" : "a minute"}`;
  if (machine.rate === null) {
    const parts = [
      addWear(sheet, machine),
      addConsumables(sheet, machine),
      addPower(sheet, machine),
    ];
    return sheet.derived("machine.rate", label, "currency/h", "sum", parts.flat());
  }
  const unit = isHourly ? "currency/h" : "currency/min";
  return sheet.given("machine.rate", label, unit, machine.rate, cell(machine, "rate"));
}

function addWear(sheet: FigureSheet, machine: MachineRow): string[] {
  const { price, lifeHours } = machine;
  if (price === null || lifeHours === null) return [];
  sheet.given("machine.price", "machine, bought for", "currency", price, cell(machine, "price"));
  sheet.given("machine.life", "machine, lasts", "h", lifeHours, cell(machine, "life_hours"));
  const inputs = ["machine.price", "machine.life"];
  return [sheet.derived("machine.wear", "wear of an hour", "currency/h", "quotient", inputs)];
}

function addConsumables(sheet: FigureSheet, machine: MachineRow): string[] {
  const { consumablesPerHour } = machine;
  if (consumablesPerHour === null) return [];
  const source = cell(machine, "consumables_per_hour");
  const label = "consumables of an hour";
  return [sheet.given("machine.consumables", label, "currency/h", consumablesPerHour, source)];
}

function addPower(sheet: FigureSheet, machine: MachineRow): string[] {
  const { powerKw, electricityPerKwh } = machine;
  if (powerKw === null || electricityPerKwh === null) return [];
  sheet.given("machine.power", "machine, draws", "kW", powerKw, cell(machine, "power_kw"));
  sheet.given(
    "machine.electricity",
    "electricity",
    "currency/kWh",
    electricityPerKwh,
    cell(machine, "electricity_per_kwh"),
  );
  const inputs = ["machine.power", "machine.electricity"];
  return [sheet.derived("machine.current", "current of an hour", "currency/h", "product", inputs)];
}

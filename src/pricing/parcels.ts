import type { FigureSheet, FigureUnit } from "../figure.ts";
import { listInDoubt, mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { Delivery, DeliveryRow, Placed } from "../job/types.ts";
import { errorAt, inColumn } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { trimmed } from "../units.ts";
import { cell } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { MeasuredJob, PricingInput } from "./types.ts";
import { unweighed } from "./weights.ts";

/**
 * Delivery by weight and size: a parcel is charged for what it weighs or for its size, length x width
 * x height over so many cm3 a kg, whichever is more (carriers' pages), rounded up to the carrier's
 * step, at the price of the step of the tariff that it falls into.
 */

/** The steps of the job's tariff, the lightest first; none where it has no such tariff. */
function stepsOf({ job, tables }: MeasuredJob): readonly DeliveryRow[] {
  return tables.deliveries
    .filter(({ id }) => id === job.delivery?.tariff)
    .toSorted((a, b) => a.upToKg - b.upToKg);
}

/** What the tariff needs and the job does not say, or says twice. */
export function parcelProblems(measured: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const { job } = measured;
  const { delivery } = job;
  if (delivery === null) return [];
  return [
    ...saidTwice(measured),
    ...tariffTwoWays(stepsOf(measured)),
    ...sizeNeeded(delivery, stepsOf(measured)),
    ...(delivery.weightKg === null ? weightUnknown(measured, doubts) : []),
  ];
}

function saidTwice({ job }: MeasuredJob): readonly Problem[] {
  const price = job.settings.get("delivery");
  if (price === undefined || job.delivery === null) return [];
  return [
    errorAt(price.place, {
      code: "delivery-twice",
      found: price.value.toString(),
      expected: `one of them: line ${job.delivery.place.line ?? 0} has the delivery by weight and size`,
      mend: "Remove the price, or the parcels under delivery:",
    }),
  ];
}

/** One parcel is weighed and measured in one way, whatever step it falls into. */
function tariffTwoWays([first, ...others]: readonly DeliveryRow[]): readonly Problem[] {
  if (first === undefined) return [];
  return (["cm3PerKg", "roundUpKg"] as const).flatMap((field) => {
    const other = others.find((row) => row[field] !== first[field]);
    if (other === undefined) return [];
    return errorAt(inColumn(other.place, COLUMNS[field]), {
      code: "tariff-two-ways",
      found: String(other[field] ?? ""),
      expected: `the same in every row of ${first.id}: line ${first.place.line ?? 0} has ${first[field] ?? "an empty cell"}`,
      mend: "Correct one of the two, or make another tariff of it",
    });
  });
}

const COLUMNS = { cm3PerKg: "cm3_per_kg", roundUpKg: "round_up_kg" } as const;

function sizeNeeded(
  { place, sizeMm }: Delivery,
  [first]: readonly DeliveryRow[],
): readonly Problem[] {
  if (sizeMm !== null || first === undefined || first.cm3PerKg === null) return [];
  return [
    errorAt(place, {
      code: "parcel-size-needed",
      found: first.id,
      expected: "length, width and height of one parcel, because this tariff goes by size as well",
      mend: "Add length, width and height below delivery:",
    }),
  ];
}

/** A weight that is left out would make the delivery too cheap. */
function weightUnknown(measured: MeasuredJob, doubts: Doubts): readonly Problem[] {
  const unread = ["materials.csv", "hardware.csv", "stock-lengths.csv"].some((file) =>
    mayHold(doubts, file, {}),
  );
  const lists = ["hardware.csv", "lengths.csv"].some((list) => listInDoubt(doubts, list));
  const names = unweighed(measured);
  const place = measured.job.delivery?.place;
  if (names.length === 0 || place === undefined || unread || lists || doubts.parts) return [];
  return [
    errorAt(place, {
      code: "weight-unknown",
      found: names.join(", "),
      expected:
        "a weight of everything in the parcels: density_kg_m3 in materials.csv, weight_g in hardware.csv, kg_per_m in stock-lengths.csv",
      mend: "Fill these in, or write what one packed parcel weighs as weight_kg below delivery:",
    }),
  ];
}

/** @returns the figure of what all parcels cost; null where the job has no tariff. */
export function addParcels({ sheet, remarks }: Ledger, input: PricingInput): string | null {
  const { delivery } = input.job;
  const steps = stepsOf(input);
  const [first] = steps;
  const heaviest = steps.at(-1);
  if (delivery === null || first === undefined || heaviest === undefined) return null;
  const parcels = addCount(sheet, delivery);
  const weight = addCharged(sheet, delivery, first);
  const prices = steps.flatMap((row, index) => addStep(sheet, row, index + 1));
  if (sheet.value(weight).gt(heaviest.upToKg))
    remarks.push(tooHeavy(delivery, heaviest, sheet.value(weight).toNumber()));
  const each = sheet.derived(
    "delivery.each",
    "delivery of one parcel",
    "currency",
    "price by steps",
    [weight, ...prices],
  );
  const inputs = [each, parcels];
  return sheet.derived("delivery.cost", "delivery of the order", "currency", "product", inputs);
}

/** As many as the job says, or as its pieces fill. */
function addCount(sheet: FigureSheet, { parcels, piecesIn }: Delivery): string {
  if (piecesIn === null) return given(sheet, "parcels", "parcels", "pcs", parcels);
  const full = given(sheet, "pieces-in", "pieces in a full parcel", "pcs", piecesIn);
  const inputs = ["job.pieces", full];
  return sheet.derived("delivery.parcels", "parcels", "pcs", "whole units", inputs);
}

/** In one of parcels alike; in the fullest where pieces fill them. */
function addGoods(sheet: FigureSheet, { piecesIn }: Delivery): string {
  const label = "goods in one parcel";
  const id = "delivery.goods";
  if (piecesIn === null)
    return sheet.derived(id, label, "kg", "quotient", ["weight.order", "delivery.parcels"]);
  const most = sheet.derived(
    "delivery.pieces-most",
    "pieces in the fullest parcel",
    "pcs",
    "at most",
    ["job.pieces", "delivery.pieces-in"],
  );
  return sheet.derived(id, label, "kg", "product", ["weight.piece", most]);
}

/** What one parcel is charged for, kg. */
function addCharged(sheet: FigureSheet, delivery: Delivery, tariff: DeliveryRow): string {
  const weights = [addWeight(sheet, delivery), ...addVolume(sheet, delivery, tariff)];
  const label = "what a parcel counts as";
  if (tariff.roundUpKg === null)
    return sheet.derived("delivery.chargeable", label, "kg", "at least", weights, BY_SIZE);
  const exact = "delivery.chargeable-exact";
  sheet.derived(exact, `${label}, before rounding`, "kg", "at least", weights, BY_SIZE);
  const step = sheet.given(
    "delivery.round-up",
    "weights are rounded up to multiples of",
    "kg",
    tariff.roundUpKg,
    cell(tariff, "round_up_kg"),
  );
  return sheet.derived("delivery.chargeable", label, "kg", "rounded up to step", [exact, step]);
}

const BY_SIZE = "its weight or its size, whichever is more";

function addWeight(sheet: FigureSheet, delivery: Delivery): string {
  const { weightKg, packingKg } = delivery;
  if (weightKg !== null)
    return given(sheet, "weight", "weight of one packed parcel", "kg", weightKg);
  const goods = addGoods(sheet, delivery);
  const packing =
    packingKg === null ? [] : [given(sheet, "packing", "packing of one parcel", "kg", packingKg)];
  const inputs = [goods, ...packing];
  return sheet.derived("delivery.weight", "weight of one packed parcel", "kg", "sum", inputs);
}

/** The weight that its size counts as, where the tariff goes by size. */
function addVolume(
  sheet: FigureSheet,
  { sizeMm }: Delivery,
  tariff: DeliveryRow,
): readonly string[] {
  if (sizeMm === null || tariff.cm3PerKg === null) return [];
  const sides = (["length", "width", "height"] as const).map((side) =>
    given(sheet, side, `${side} of one parcel`, "mm", sizeMm[side]),
  );
  const volume = sheet.derived("delivery.volume", "one parcel", "cm3", "mm3 to cm3", sides);
  const divisor = sheet.given(
    "delivery.cm3-per-kg",
    "what counts as a kg",
    "cm3/kg",
    tariff.cm3PerKg,
    cell(tariff, "cm3_per_kg"),
  );
  const label = "weight that its size counts as";
  return [sheet.derived("delivery.by-size", label, "kg", "quotient", [volume, divisor])];
}

function addStep(sheet: FigureSheet, row: DeliveryRow, number: number): readonly string[] {
  const id = `delivery.step-${number}`;
  const upTo = `up to ${trimmed(row.upToKg, 3)} kg`;
  return [
    sheet.given(`${id}.up-to`, `${row.id}, ${upTo}`, "kg", row.upToKg, cell(row, "up_to_kg")),
    sheet.given(
      `${id}.price`,
      `${row.id}, price ${upTo}`,
      "currency",
      row.price,
      cell(row, "price"),
    ),
  ];
}

function given(
  sheet: FigureSheet,
  what: string,
  label: string,
  unit: FigureUnit,
  { value, place }: Placed,
): string {
  return sheet.given(`delivery.${what}`, label, unit, value, { kind: "cell", place, cited: null });
}

function tooHeavy({ place }: Delivery, { id, upToKg }: DeliveryRow, kg: number): Problem {
  return errorAt(place, {
    code: "parcel-too-heavy",
    found: `a parcel that counts as ${trimmed(kg, 3)} kg`,
    expected: `at most ${trimmed(upToKg, 3)} kg, where the tariff ${id} ends`,
    mend: "Write more parcels of a smaller size, or choose another tariff",
  });
}

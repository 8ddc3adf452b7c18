import {
  amount,
  amountUpTo,
  choice,
  count,
  day,
  density,
  learningRate,
  mmUpTo,
  name,
  nameOrNone,
  notNegativeUpTo,
  percentUpTo,
  positiveUpTo,
  share,
  spacingUpTo,
  signedUpTo,
  text,
  thread,
  wholeUpTo,
  yesNo,
} from "./cells.ts";
import type { CellKind } from "./cells.ts";
import { mendName, spelling } from "../names.ts";
import { MOST } from "./limits.ts";
import { optional, required } from "./rows.ts";
import { QUOTE_SECTIONS } from "./types.ts";
import type { QuoteSection } from "./types.ts";

/** The columns of each table of a table set. To add a column, add its line. */

const thicknessMm = mmUpTo(MOST.thicknessMm);
const sizeMm = mmUpTo(MOST.sizeMm);
const spacingMm = spacingUpTo(MOST.spacingMm);
const minutes = notNegativeUpTo(MOST.minutes);
const speedMmS = positiveUpTo(MOST.speedMmS);
const accelerationMmS2 = positiveUpTo(MOST.accelerationMmS2);
const spreadM2 = positiveUpTo(MOST.spreadM2);

/** Headings of the quote, `;` between them. */
const sections: CellKind<readonly QuoteSection[]> = {
  code: "not-headings",
  expected: `headings of the quote, ; between them: ${QUOTE_SECTIONS.join("; ")}`,
  read: (cell) => {
    const read = new Set(cell.split(";").map((one) => spelling(one, QUOTE_SECTIONS)));
    return read.has(null) ? null : QUOTE_SECTIONS.filter((section) => read.has(section));
  },
  mend: (cell) => {
    const strange = cell.split(";").find((one) => spelling(one, QUOTE_SECTIONS) === null);
    return mendName(strange ?? "", QUOTE_SECTIONS, "write them as they stand on the quote");
  },
};

const DATED = {
  validFrom: required("valid_from", day),
  source: required("source", text),
};

const HAZARD = optional("hazard", choice(["", "mains", "drilling", "solvent"]), "" as const);

export const SETTING_COLUMNS = {
  id: required("id", name),
  value: required("value", { ...text, numeric: true }),
  ...DATED,
};

export const SHEET_COLUMNS = {
  id: required("id", name),
  material: required("material", name),
  thicknessMm: required("thickness_mm", thicknessMm),
  form: optional("form", choice(["sheet", "roll"]), "sheet" as const),
  widthMm: required("width_mm", sizeMm),
  heightMm: optional("height_mm", sizeMm, null),
  price: required("price", amount),
  marginMm: required("margin_mm", spacingMm),
  gapMm: required("gap_mm", spacingMm),
  onHand: optional("on_hand", count, null),
  ...DATED,
};

export const FEED_COLUMNS = {
  id: required("id", name),
  machine: required("machine", name),
  material: required("material", name),
  thicknessMm: required("thickness_mm", thicknessMm),
  operation: required("operation", choice(["cut", "score", "engrave"])),
  low: optional("feed_low_mm_s", speedMmS, null),
  likely: required("feed_mm_s", speedMmS),
  high: optional("feed_high_mm_s", speedMmS, null),
  passes: required("passes", wholeUpTo(MOST.passes)),
  pierceS: required("pierce_s", notNegativeUpTo(MOST.pierceS)),
  power: optional("power", text, ""),
  measured: optional("measured", yesNo, false),
  pricePerM: optional("price_per_m", amount, null),
  pricePerM2: optional("price_per_m2", amount, null),
  ...DATED,
};

/** Half of the +-0.1 mm that a service keeps to (service design guide), the other half for the belt. */
const CORNER_TOLERANCE_MM = 0.05;

export const MACHINE_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  kind: required("kind", choice(["own", "service"])),
  rate: optional("rate", amount, null),
  ratePer: required("rate_per", choice(["minute", "hour"])),
  price: optional("price", amount, null),
  lifeHours: optional("life_hours", positiveUpTo(MOST.lifeHours), null),
  consumablesPerHour: optional("consumables_per_hour", amount, null),
  powerKw: optional("power_kw", positiveUpTo(MOST.powerKw), null),
  electricityPerKwh: optional("electricity_per_kwh", amount, null),
  aboveHourRate: optional("above_hour_rate", amount, null),
  aboveHourStepMinutes: optional("above_hour_step_minutes", minutes, 0),
  setupCharge: optional("setup_charge", amount, null),
  sheetCharge: optional("sheet_charge", amount, null),
  minimumCharge: optional("minimum_charge", amount, null),
  minimumFurther: optional("minimum_further", amount, null),
  usualDays: optional("usual_days", wholeUpTo(MOST.days), null),
  rushPercentPerDay: optional("rush_percent_per_day", percentUpTo(MOST.rushPercent), null),
  minimumMinutes: required("minimum_minutes", minutes),
  billingStepMinutes: required("billing_step_minutes", minutes),
  setupMinutes: required("setup_minutes", minutes),
  loadMinutes: required("load_minutes", minutes),
  bedWidthMm: required("bed_width_mm", sizeMm),
  bedHeightMm: required("bed_height_mm", sizeMm),
  travelMmS: required("travel_mm_s", speedMmS),
  accelerationMmS2: required("acceleration_mm_s2", accelerationMmS2),
  cornerToleranceMm: optional("corner_tolerance_mm", mmUpTo(MOST.fineMm), CORNER_TOLERANCE_MM),
  settleS: optional("settle_s", notNegativeUpTo(MOST.pierceS), 0),
  focusMinutes: optional("focus_minutes", minutes, 0),
  originMinutes: optional("origin_minutes", minutes, 0),
  unloadMinutes: optional("unload_minutes", minutes, 0),
  fumeMinutes: optional("fume_minutes", minutes, 0),
  engraveBothWays: optional("engrave_both_ways", yesNo, true),
  rasterAccelerationMmS2: optional("raster_acceleration_mm_s2", accelerationMmS2, null),
  lineIntervalMm: required("line_interval_mm", mmUpTo(MOST.fineMm)),
  ...DATED,
};

export const FINISH_COLUMNS = {
  id: required("id", name),
  step: required("step", name),
  paint: required("paint", nameOrNone),
  faces: required("faces", choice(["front", "both", "none"])),
  edges: required("edges", yesNo),
  coats: required("coats", wholeUpTo(MOST.coats)),
  low: optional("soak_low_percent", share, null),
  likely: optional("soak_percent", share, null),
  high: optional("soak_high_percent", share, null),
  ...DATED,
};

export const PAINT_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  kind: optional(
    "kind",
    choice(["paint", "thinner", "abrasive", "cleaner", "masking"]),
    "paint" as const,
  ),
  soldAs: optional(
    "sold_as",
    choice(["can", "tin", "bottle", "sachet", "pad", "sheet", "roll", "pack"]),
    "can" as const,
  ),
  contentMl: optional("content_ml", positiveUpTo(MOST.contentMl), null),
  low: optional("spread_low_m2", spreadM2, null),
  likely: optional("spread_m2", spreadM2, null),
  high: optional("spread_high_m2", spreadM2, null),
  solidsPercent: optional("solids_percent", share, null),
  filmUm: optional("film_um", positiveUpTo(MOST.filmUm), null),
  thinnerPercent: optional("thinner_percent", percentUpTo(MOST.thinnerPercent), null),
  thinner: optional("thinner", name, null),
  lossPercent: optional("loss_percent", share, null),
  method: optional("method", name, null),
  clear: optional("clear", yesNo, null),
  flashMinutes: optional("flash_minutes", minutes, null),
  recoatWithinMinutes: optional("recoat_within_minutes", minutes, null),
  recoatAfterMinutes: optional("recoat_after_minutes", minutes, null),
  handleMinutes: optional("handle_minutes", minutes, null),
  cureHours: optional("cure_hours", notNegativeUpTo(MOST.cureHours), null),
  price: required("price", amount),
  ...DATED,
};

export const METHOD_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  lossLow: optional("loss_low_percent", share, null),
  lossLikely: required("loss_percent", share),
  lossHigh: optional("loss_high_percent", share, null),
  pastLow: optional("past_low_mm", spacingMm, null),
  pastLikely: optional("past_mm", spacingMm, null),
  pastHigh: optional("past_high_mm", spacingMm, null),
  ...DATED,
};

export const HARDWARE_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  kind: required("kind", choice(["fixing", "bought-in"])),
  thread: optional("thread", thread, ""),
  packSize: required("pack_size", wholeUpTo(MOST.each)),
  packPrice: required("pack_price", amount),
  weightG: optional("weight_g", positiveUpTo(MOST.weightG), null),
  sparePercent: required("spare_percent", percentUpTo(MOST.sparePercent)),
  role: optional("role", choice(["", "bolt", "nut", "washer", "insert"]), "" as const),
  head: optional("head", text, ""),
  lengthMm: optional("length_mm", sizeMm, null),
  heightMm: optional("height_mm", thicknessMm, null),
  holeMm: optional("hole_mm", thicknessMm, null),
  contentMl: optional("content_ml", positiveUpTo(MOST.contentMl), null),
  charge: optional("charge", choice(["packs", "used"]), "packs" as const),
  hazard: HAZARD,
  ...DATED,
};

export const STOCK_LENGTH_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  lengthMm: required("length_mm", sizeMm),
  kgPerM: optional("kg_per_m", positiveUpTo(MOST.kg), null),
  sawKerfMm: required("saw_kerf_mm", spacingUpTo(MOST.fineMm)),
  endTrimMm: required("end_trim_mm", spacingMm),
  price: required("price", amount),
  onHand: optional("on_hand", count, null),
  keepFromMm: optional("keep_from_mm", sizeMm, null),
  ...DATED,
};

export const TASK_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  basis: required(
    "basis",
    choice([
      "order",
      "piece",
      "part",
      "m2",
      "coat m2",
      "edge m",
      "hole",
      "slot",
      "sheet",
      "saw cut",
    ]),
  ),
  low: optional("minutes_low", minutes, null),
  likely: required("minutes", minutes),
  high: optional("minutes_high", minutes, null),
  setupMinutes: optional("setup_minutes", minutes, null),
  learningPercent: optional("learning_percent", learningRate, null),
  suppliesEach: optional("supplies_each", amount, null),
  rate: required("rate", name),
  usual: optional("usual", choice(["no", "always", "painted", "lengths"]), "no" as const),
  hazard: HAZARD,
  section: required("section", choice(QUOTE_SECTIONS)),
  onQuote: optional("on_quote", text, ""),
  ...DATED,
};

export const KERF_COLUMNS = {
  id: required("id", name),
  machine: required("machine", name),
  material: required("material", name),
  thicknessMm: required("thickness_mm", thicknessMm),
  kerfMm: required("kerf_mm", positiveUpTo(MOST.fineMm)),
  ...DATED,
};

export const FIT_COLUMNS = {
  id: required("id", name),
  material: required("material", name),
  clearanceLowMm: required("clearance_low_mm", signedUpTo(MOST.clearanceMm)),
  clearanceHighMm: required("clearance_high_mm", signedUpTo(MOST.clearanceMm)),
  overMm: required("over_mm", notNegativeUpTo(MOST.fineMm)),
  overPerMm: required("over_per_mm", notNegativeUpTo(1)),
  underMm: required("under_mm", notNegativeUpTo(MOST.fineMm)),
  underPerMm: required("under_per_mm", notNegativeUpTo(0.5)),
  ...DATED,
};

export const MATERIAL_COLUMNS = {
  id: required("id", name),
  material: required("material", name),
  low: optional("density_low_kg_m3", density, null),
  likely: required("density_kg_m3", density),
  high: optional("density_high_kg_m3", density, null),
  ...DATED,
};

export const DELIVERY_COLUMNS = {
  id: required("id", name),
  upToKg: required("up_to_kg", positiveUpTo(MOST.kg)),
  price: required("price", amount),
  cm3PerKg: optional("cm3_per_kg", positiveUpTo(MOST.cm3PerKg), null),
  roundUpKg: optional("round_up_kg", positiveUpTo(MOST.kg), null),
  ...DATED,
};

export const RATE_COLUMNS = {
  id: required("id", name),
  description: required("description", text),
  perHour: required("per_hour", amount),
  ...DATED,
};

export const TAX_COLUMNS = {
  id: required("id", name),
  sections: required("sections", sections),
  percent: required("percent", amountUpTo(100, "a percentage, 0 or more, such as 12.5")),
  ...DATED,
};

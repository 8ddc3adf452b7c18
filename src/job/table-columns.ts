import {
  amount,
  choice,
  count,
  day,
  notNegative,
  percent,
  positive,
  share,
  text,
  thread,
  whole,
  yesNo,
} from "./cells.ts";
import { optional, required } from "./rows.ts";
import { QUOTE_SECTIONS } from "./types.ts";

/** The columns of each table of a table set. To add a column, add its line. */

const DATED = {
  validFrom: required("valid_from", day),
  source: required("source", text),
};

const HAZARD = optional("hazard", choice(["", "mains", "drilling", "solvent"]), "" as const);

export const SETTING_COLUMNS = {
  id: required("id", text),
  value: required("value", text),
  ...DATED,
};

export const SHEET_COLUMNS = {
  id: required("id", text),
  material: required("material", text),
  thicknessMm: required("thickness_mm", positive),
  form: optional("form", choice(["sheet", "roll"]), "sheet" as const),
  widthMm: required("width_mm", positive),
  heightMm: optional("height_mm", positive, null),
  price: required("price", amount),
  marginMm: required("margin_mm", notNegative),
  gapMm: required("gap_mm", notNegative),
  onHand: optional("on_hand", count, null),
  ...DATED,
};

export const FEED_COLUMNS = {
  id: required("id", text),
  machine: required("machine", text),
  material: required("material", text),
  thicknessMm: required("thickness_mm", positive),
  operation: required("operation", choice(["cut", "score", "engrave"])),
  low: optional("feed_low_mm_s", positive, null),
  likely: required("feed_mm_s", positive),
  high: optional("feed_high_mm_s", positive, null),
  passes: required("passes", whole),
  pierceS: required("pierce_s", notNegative),
  ...DATED,
};

export const MACHINE_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  kind: required("kind", choice(["own", "service"])),
  rate: required("rate", amount),
  ratePer: required("rate_per", choice(["minute", "hour"])),
  minimumMinutes: required("minimum_minutes", notNegative),
  billingStepMinutes: required("billing_step_minutes", notNegative),
  setupMinutes: required("setup_minutes", notNegative),
  loadMinutes: required("load_minutes", notNegative),
  bedWidthMm: required("bed_width_mm", positive),
  bedHeightMm: required("bed_height_mm", positive),
  travelMmS: required("travel_mm_s", positive),
  accelerationMmS2: required("acceleration_mm_s2", positive),
  rasterAccelerationMmS2: optional("raster_acceleration_mm_s2", positive, null),
  lineIntervalMm: required("line_interval_mm", positive),
  ...DATED,
};

export const FINISH_COLUMNS = {
  id: required("id", text),
  step: required("step", text),
  paint: required("paint", text),
  faces: required("faces", choice(["front", "both"])),
  edges: required("edges", yesNo),
  coats: required("coats", whole),
  ...DATED,
};

export const PAINT_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  contentMl: required("content_ml", positive),
  low: optional("spread_low_m2", positive, null),
  likely: optional("spread_m2", positive, null),
  high: optional("spread_high_m2", positive, null),
  solidsPercent: optional("solids_percent", share, null),
  filmUm: optional("film_um", positive, null),
  lossPercent: required("loss_percent", share),
  price: required("price", amount),
  ...DATED,
};

export const HARDWARE_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  kind: required("kind", choice(["fixing", "bought-in"])),
  thread: optional("thread", thread, ""),
  packSize: required("pack_size", whole),
  packPrice: required("pack_price", amount),
  sparePercent: required("spare_percent", percent),
  hazard: HAZARD,
  ...DATED,
};

export const STOCK_LENGTH_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  lengthMm: required("length_mm", positive),
  sawKerfMm: required("saw_kerf_mm", notNegative),
  endTrimMm: required("end_trim_mm", notNegative),
  price: required("price", amount),
  ...DATED,
};

export const TASK_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  basis: required(
    "basis",
    choice(["order", "piece", "part", "m2", "coat m2", "hole", "sheet", "saw cut"]),
  ),
  low: optional("minutes_low", notNegative, null),
  likely: required("minutes", notNegative),
  high: optional("minutes_high", notNegative, null),
  rate: required("rate", text),
  usual: optional("usual", choice(["no", "always", "painted"]), "no" as const),
  hazard: HAZARD,
  section: required("section", choice(QUOTE_SECTIONS)),
  ...DATED,
};

export const RATE_COLUMNS = {
  id: required("id", text),
  description: required("description", text),
  perHour: required("per_hour", amount),
  ...DATED,
};

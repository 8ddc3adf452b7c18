import type { FigureSheet } from "../figure.ts";
import type { MethodRow, PaintRow } from "../job/types.ts";
import { cell, givenOnce, slug, spreadOf } from "./ledger.ts";
import type { PricingInput } from "./types.ts";

/** How far one can, pad or roll goes: its spread before losses, and what its loss leaves of that. */

type Identify = (what: string) => string;

/** @returns the id of the area, m2, that one covers in one coat. */
export function addReach(
  sheet: FigureSheet,
  row: PaintRow,
  input: PricingInput,
  id: Identify,
): string {
  const inputs = [addSpread(sheet, row, id), addLoss(sheet, row, input, id)];
  return sheet.derived(
    id("practical"),
    `${row.description}, area a ${row.soldAs} covers`,
    "m2",
    "less percentage",
    inputs,
    "practical = theoretical x (1 - loss) (corrosion glossary)",
  );
}

/** How it is put on, where its row says so. */
export function methodOf({ method }: PaintRow, { tables }: PricingInput): MethodRow | null {
  return tables.methods.find(({ id }) => id === method) ?? null;
}

/** Of the paint's own row, else of the way in which it is put on. */
function addLoss(sheet: FigureSheet, row: PaintRow, input: PricingInput, id: Identify): string {
  const method = methodOf(row, input);
  if (row.lossPercent !== null || method === null)
    return sheet.given(
      id("loss"),
      `${row.description}, loss`,
      "percent",
      row.lossPercent ?? 0,
      cell(row, "loss_percent"),
    );
  return givenOnce(
    sheet,
    `method.${slug(method.id)}.loss`,
    `${method.description}, loss`,
    "percent",
    method.lossPercent.likely,
    cell(method, "loss_percent"),
    spreadOf(method.lossPercent),
  );
}

/** What a can covers before losses: told by its label, or from its solids and the film wanted. */
function addSpread(sheet: FigureSheet, row: PaintRow, id: Identify): string {
  const label = `${row.description}, area a ${row.soldAs} covers before losses`;
  const { spread, solidsPercent, filmUm } = row;
  if (spread !== null || solidsPercent === null || filmUm === null) {
    if (row.thinnerPercent !== null) addThinning(sheet, row, id);
    const span = spread === null ? null : spreadOf(spread);
    return sheet.given(
      id("spread"),
      label,
      "m2",
      spread?.likely ?? 0,
      cell(row, "spread_m2"),
      span,
    );
  }
  const litres = addLitres(sheet, row, id);
  const given = (what: string, name: string, unit: "percent" | "um", value: number): string =>
    sheet.given(id(what), `${row.description}, ${name}`, unit, value, cell(row, `${what}_${unit}`));
  const solids = given("solids", "volume solids", "percent", solidsPercent);
  const film = given("film", "dry film of a coat", "um", filmUm);
  const [mixed, left] =
    row.thinnerPercent === null
      ? [litres, solids]
      : addMixed(sheet, row, id, { litres, solids, film });
  const because = "m2/l = 10 x solids % / film um (spreading-rate sheet)";
  return sheet.derived(id("spread"), label, "m2", "spreading rate", [mixed, left, film], because);
}

function addLitres(sheet: FigureSheet, row: PaintRow, id: Identify): string {
  const label = `${row.description}, content`;
  sheet.given(id("content"), label, "ml", row.contentMl ?? 0, cell(row, "content_ml"));
  return sheet.derived(id("litres"), label, "l", "ml to l", [id("content")]);
}

function addShare(sheet: FigureSheet, row: PaintRow, id: Identify): string {
  const label = `${row.description}, thinner added`;
  const percent = row.thinnerPercent ?? 0;
  return sheet.given(id("thinner-share"), label, "percent", percent, cell(row, "thinner_percent"));
}

/** Of a can whose label tells its area: only what is poured in has to be known. */
function addThinning(sheet: FigureSheet, row: PaintRow, id: Identify): void {
  addLitres(sheet, row, id);
  addShare(sheet, row, id);
}

/**
 * Thinned paint: more of it, with less solids (VS' = VS / (1 + thinner), coatings blog, worked). A can
 * goes no farther for it; how wet a coat has to be for the same dry film changes.
 */
function addMixed(
  sheet: FigureSheet,
  row: PaintRow,
  id: Identify,
  { litres, solids, film }: Readonly<Record<"litres" | "solids" | "film", string>>,
): readonly [mixed: string, solids: string] {
  const { description } = row;
  const share = addShare(sheet, row, id);
  const because = "VS' = VS / (1 + thinner)";
  const left = sheet.derived(
    id("thinned-solids"),
    `${description}, volume solids when thinned`,
    "percent",
    "thinned solids",
    [solids, share],
    because,
  );
  const mixed = sheet.derived(
    id("mixed"),
    `${description}, content when thinned`,
    "l",
    "plus percentage",
    [litres, share],
  );
  sheet.derived(id("wet-film"), `${description}, wet film of a coat`, "um", "wet film", [
    film,
    left,
  ]);
  return [mixed, left];
}

import { moneyText } from "../money.ts";
import { counted, noun } from "../names.ts";
import { lengthText, trimmed } from "../units.ts";
import type { Job } from "../job/types.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { cell, distinct, jobCell, rowText, slug, uniqueSlugs } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { PlannedBars, PricingInput } from "./types.ts";

/** Whole bars from the saw plan, at the price of the stocked length it chose. */
export function addStockLengths(ledger: Ledger, input: PricingInput): void {
  addCounts(ledger, input.job);
  for (const planned of input.bars) addBars(ledger, input, planned);
}

/** Ids of the job's lengths, in its order: `length.post`, to which `.count` and its like are added. */
export function lengthIds({ lengths }: Job): readonly string[] {
  return uniqueSlugs(lengths.map(({ name }) => name)).map((name) => `length.${name}`);
}

/** Nothing says how much surface a section has, so its paint must be listed by the person. */
export function lengthProblems({ lengths }: Job): readonly Problem[] {
  return lengths.flatMap(({ name, finish, place }) => {
    if (finish === null) return [];
    return warningAt(inColumn(place, "finish"), {
      code: "finish-not-counted",
      found: `${finish} on ${name}`,
      expected: "an empty cell: paint for lengths is not counted from here",
      mend: "Add the tins to hardware.csv and the work to hand-work.csv, and empty the cell",
    });
  });
}

function addCounts({ sheet, making }: Ledger, job: Job): void {
  const ids = lengthIds(job);
  for (const [index, use] of job.lengths.entries()) {
    const { name, quantity, place, stock, lengthMm, note } = use;
    const id = ids[index];
    sheet.given(`${id}.each`, `${name} in each piece`, "pcs", quantity, jobCell(place, "qty"));
    const figure = sheet.derived(`${id}.count`, `${name}, in all`, "pcs", "product", [
      `${id}.each`,
      "job.pieces",
    ]);
    making.lengths.push({ name, stock, lengthMm, note, figure });
  }
}

function addBars(
  { sheet, costs, shopping }: Ledger,
  { job, tables, currency }: PricingInput,
  { row, bars }: PlannedBars,
): void {
  const id = (what: string): string => `bars.${slug(row.id)}.${what}`;
  const pieces = bars.reduce((sum, bar) => sum + bar.length, 0);
  const uses = job.lengths.filter(({ stock }) => stock === row.id);
  const offered = tables.stockLengths.filter(({ id }) => id === row.id);
  sheet.given(id("count"), `${row.description}, bars`, "pcs", bars.length, {
    kind: "computed",
    by: "saw plan",
    what: `${counted(pieces, "length")} from bars of ${trimmed(row.lengthMm, 1)} mm, saw kerf ${trimmed(row.sawKerfMm, 2)} mm`,
    from: distinct([
      row.place,
      ...offered.map(({ place }) => place),
      ...uses.map(({ place }) => place),
      job.piecesPlace,
    ]),
  });
  sheet.given(id("price"), `${row.description}, a bar`, "currency", row.price, cell(row, "price"));
  const cost = sheet.derived(id("cost"), row.description, "currency", "product", [
    id("count"),
    id("price"),
  ]);
  costs.push({
    section: "Materials",
    description: row.description,
    basis: counted(pieces, "length"),
    cost,
    each: null,
  });
  shopping.push({
    kind: "stock length",
    item: row.id,
    description: row.description,
    quantity: sheet.value(id("count")).toString(),
    unit: `${noun(bars.length, "bar")} of ${trimmed(row.lengthMm, 1)} mm`,
    unitPrice: moneyText(row.price, currency),
    amount: moneyText(sheet.value(cost), currency),
    need: sawnText(bars),
    source: rowText(row.place),
  });
}

/** `12 x post 900 mm, 24 x rail 400 mm`. */
function sawnText(bars: PlannedBars["bars"]): string {
  const pieces = bars.flat().map(({ name, lengthMm }) => `${name} ${lengthText(lengthMm)}`);
  const texts = [...new Set(pieces)].map(
    (text) => `${pieces.filter((one) => one === text).length} x ${text}`,
  );
  return texts.join(", ");
}

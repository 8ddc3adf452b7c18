import { moneyText } from "../money.ts";
import type { Currency } from "../money.ts";
import { counted, noun } from "../names.ts";
import { lengthText, trimmed } from "../units.ts";
import { isFromShelf } from "../job/table-checks.ts";
import type { Job, StockLengthRow } from "../job/types.ts";
import type { SawnLength } from "../nesting/bars/saw-plan.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { cell, distinct, jobCell, rowText, slug, uniqueSlugs } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import type { PlannedBars, PricingInput } from "./types.ts";

/** Whole bars from the saw plan, each at the price of its length. */
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

function addBars(ledger: Ledger, input: PricingInput, planned: PlannedBars): void {
  const rows = rowsUsed(planned);
  const [first] = rows;
  if (!first) return;
  const costs = rows.map((row) => addLength(ledger, input, planned, row));
  const cost = barsId(planned.stock, "cost");
  if (rows.length > 1)
    ledger.sheet.derived(cost, `${first.description}, all bars`, "currency", "sum", costs);
  ledger.costs.push({
    section: "Materials",
    of: "materials",
    description: first.description,
    basis: counted(piecesOf(planned.bars).length, "length"),
    cost,
    each: null,
  });
}

/** The lengths of bar that are sawn, in the order of the table. */
function rowsUsed({ bars }: PlannedBars): readonly StockLengthRow[] {
  return [...new Set(bars.map(({ bar }) => bar))];
}

/** `bars.larch-45x45.count` and its like. */
function barsId(stock: string, what: string): string {
  return `bars.${slug(stock)}.${what}`;
}

/** Bars of one length: it comes into the figures' ids where there are several. */
function addLength(
  { sheet, shopping }: Ledger,
  input: PricingInput,
  planned: PlannedBars,
  row: StockLengthRow,
): string {
  const bars = planned.bars.filter(({ bar }) => bar === row);
  const several = rowsUsed(planned).length > 1;
  const length = `${trimmed(row.lengthMm, 1)} mm`;
  const name = several ? `${row.description}, ${length}` : row.description;
  const id = (what: string): string =>
    barsId(planned.stock, several ? `${slug(trimmed(row.lengthMm, 1))}.${what}` : what);
  const count = sheet.given(id("count"), `${name}, bars`, "pcs", bars.length, {
    kind: "computed",
    by: "saw plan",
    what: plannedText(planned, bars, row, input.currency),
    from: plannedFrom(planned, input),
  });
  const price = sheet.given(
    id("price"),
    `${name}, a bar`,
    "currency",
    row.price,
    cell(row, "price"),
  );
  const cost = sheet.derived(id("cost"), name, "currency", "product", [count, price]);
  // What lies on the shelf need not be bought.
  if (!isFromShelf(row))
    shopping.push({
      kind: "stock length",
      item: row.id,
      description: row.description,
      quantity: sheet.value(count).toString(),
      unit: `${noun(bars.length, "bar")} of ${length}`,
      unitPrice: moneyText(row.price, input.currency),
      amount: moneyText(sheet.value(cost), input.currency),
      need: sawnText(bars),
      source: rowText(row.place),
      figures: { quantity: count, unitPrice: price, amount: cost },
    });
  return cost;
}

function plannedText(
  { cost, costBound }: PlannedBars,
  bars: PlannedBars["bars"],
  row: StockLengthRow,
  currency: Currency,
): string {
  const sawn = `${counted(piecesOf(bars).length, "length")} from bars of ${trimmed(row.lengthMm, 1)} mm`;
  const proven = cost.eq(costBound)
    ? "proved: no plan costs less"
    : `proved: no plan costs less than ${moneyText(costBound, currency)}`;
  return `${sawn}, saw kerf ${trimmed(row.sawKerfMm, 2)} mm; ${proven}`;
}

/** All that a plan depends on: lengths offered, lengths wanted, pieces. */
function plannedFrom(
  { stock, bars }: PlannedBars,
  { job, tables }: PricingInput,
): readonly Place[] {
  const uses = job.lengths.filter((use) => use.stock === stock);
  const offered = tables.stockLengths.filter(({ id }) => id === stock);
  return distinct([
    ...bars.map(({ bar }) => bar.place),
    ...offered.map(({ place }) => place),
    ...uses.map(({ place }) => place),
    job.piecesPlace,
  ]);
}

function piecesOf(bars: PlannedBars["bars"]): readonly SawnLength[] {
  return bars.flatMap(({ pieces }) => pieces);
}

/** `12 x post 900 mm, 24 x rail 400 mm`. */
function sawnText(bars: PlannedBars["bars"]): string {
  const pieces = piecesOf(bars).map(({ name, lengthMm }) => `${name} ${lengthText(lengthMm)}`);
  const texts = [...new Set(pieces)].map(
    (text) => `${pieces.filter((one) => one === text).length} x ${text}`,
  );
  return texts.join(", ");
}

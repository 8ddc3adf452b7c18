import type { Part } from "../job/types.ts";
import { givenOnce, slug } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { coatedArea, finishedArea } from "./coated-area.ts";
import { madeId, partId } from "./parts.ts";
import { nestedFrom } from "./stock-figures.ts";
import { lengthIds } from "./stock-lengths.ts";
import type { Doing } from "./tasks.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/**
 * How many units of its basis a task has.
 * @param id of the figure of the sum.
 * @returns a figure's id; null for once an order.
 */
export function addWorkCount(
  ledger: Ledger,
  input: PricingInput,
  { task, parts }: Doing,
  id: string,
): string | null {
  const sum = (unit: "pcs" | "m" | "m2", what: string, ids: readonly (string | null)[]): string =>
    ledger.sheet.derived(id, `${task.description}: ${what}`, unit, "sum", present(ids));
  const ofParts = (of: (part: Part) => string | null): readonly (string | null)[] => parts.map(of);
  switch (task.basis) {
    case "order":
      return null;
    case "piece":
      return "job.pieces";
    case "part":
      return sum(
        "pcs",
        "parts",
        ofParts(({ name }) => madeId(ledger, name)),
      );
    case "m2":
      return sum(
        "m2",
        "finished area",
        ofParts((part) => finishedArea(ledger, input, part)),
      );
    case "coat m2":
      return sum(
        "m2",
        "area of all coats",
        ofParts((part) => coatedArea(ledger, input, part)),
      );
    case "edge m":
      return sum(
        "m",
        "cut edges",
        ofParts((part) => addCutEdges(ledger, part)),
      );
    case "hole":
      return sum(
        "pcs",
        "round holes",
        ofParts((part) => addHoles(ledger, part)),
      );
    case "slot":
      return sum(
        "pcs",
        "slots",
        ofParts((part) => addSlots(ledger, input, part)),
      );
    case "sheet":
      return sum(
        "pcs",
        "sheets",
        input.stocks.map((stock) => addSheetCount(ledger, input, stock)),
      );
    case "saw cut":
      return sum(
        "pcs",
        "saw cuts",
        lengthIds(input.job).map((length) => `${length}.count`),
      );
  }
}

/** Outline and holes of all copies. */
function addCutEdges(ledger: Ledger, { name }: Part): string {
  const { sheet } = ledger;
  const id = partId(name, "all-edges");
  if (sheet.has(id)) return id;
  const inputs = [partId(name, "cut-length"), madeId(ledger, name)];
  return sheet.derived(id, `${name}, cut edges in all`, "m", "product", inputs);
}

function addHoles(ledger: Ledger, { name }: Part): string {
  const { sheet } = ledger;
  const id = partId(name, "all-holes");
  if (sheet.has(id)) return id;
  const inputs = [partId(name, "holes"), madeId(ledger, name)];
  return sheet.derived(id, `${name}, round holes in all`, "pcs", "product", inputs);
}

function addSlots(ledger: Ledger, { parts, tables }: PricingInput, part: Part): string {
  const { sheet } = ledger;
  const { name } = part;
  const id = partId(name, "all-slots");
  const measured = parts.find((one) => one.part.name === name);
  if (sheet.has(id) || measured === undefined) return id;
  const fits = tables.fits.filter(({ material }) =>
    parts.some((one) => material === one.part.material),
  );
  const each = sheet.given(
    partId(name, "slots"),
    `${name}, slots in one copy`,
    "pcs",
    measured.slots,
    {
      kind: "computed",
      by: "slots",
      what: "slots near the thickness of a sheet of the job, which stands in them",
      from: [measured.geometry.place, ...fits.map(({ place }) => place)],
    },
  );
  const inputs = [each, madeId(ledger, name)];
  return sheet.derived(id, `${name}, slots in all`, "pcs", "product", inputs);
}

function addSheetCount({ sheet }: Ledger, input: PricingInput, stock: PricedStock): string {
  return givenOnce(
    sheet,
    `work.sheets.${slug(`${stock.material} ${stock.thicknessMm}`)}`,
    `${stock.material}, sheets handled`,
    "pcs",
    stock.nest.sheets.length,
    {
      kind: "computed",
      by: "nest",
      what: `sheets ${stock.used.map(({ row }) => `"${row.id}"`).join(" and ")} in the judged nest`,
      from: nestedFrom(input, stock),
    },
  );
}

function present(ids: readonly (string | null)[]): readonly string[] {
  return ids.filter((id) => id !== null);
}

import type { Estimate, EstimatedPart, ShoppingItem, TimedStock } from "../estimate-data.ts";
import { madeText } from "./made-words.ts";
import { counted } from "../names.ts";
import { sentence } from "../problem.ts";
import { clockText, sizeText, stockName, trimmed } from "../units.ts";
import { benchSteps, BOX } from "./bench-steps.ts";
import { operationsText, outerSize } from "./cut-list-csv.ts";
import { paged, PAGE_WIDTH } from "./pages.ts";
import type { Block } from "./pages.ts";
import { wrapped } from "./wrap.ts";

/**
 * The pages a maker takes to the bench: what the job is, what to have ready, what to make in working
 * order with a box for each thing done, and the cautions where they apply.
 */
export function makersSheet(estimate: Estimate): string {
  const { reference, title } = estimate;
  const blocks: readonly Block[] = [
    { title: "Maker's sheet", items: [headLines(estimate)] },
    { title: "Notes of the job", items: bullets(estimate.notes) },
    { title: "Warnings", items: bullets(estimate.warnings.map(sentence)) },
    {
      title: "To have ready",
      items: [...estimate.stocks.flatMap(shelfLines), ...estimate.shopping.map(readyLines)],
    },
    { title: "Parts", items: estimate.parts.map(partLines) },
    ...benchSteps(estimate),
  ];
  return paged(reference === "" ? title : `${reference}  ${title}`, blocks);
}

function headLines(estimate: Estimate): readonly string[] {
  const { title, customer, reference, date, machine, parts, stocks } = estimate;
  const copies = parts.reduce((sum, part) => sum + part.copies, 0);
  const sheets = stocks.reduce((sum, { sheets: used }) => sum + used.length, 0);
  const rows = [
    ["job", title],
    ["customer", customer],
    ["reference", reference],
    ["date", date ?? ""],
    ["to make", madeText(estimate)],
    ["parts", `${copies} on ${counted(sheets, "sheet")}`],
    ["weight", weightText(estimate)],
    ["machine", `${machine.description}, ${clockText(runningSeconds(stocks))} running`],
  ];
  return rows.flatMap(([label = "", text = ""]) =>
    text === "" ? [] : wrapped(text, PAGE_WIDTH, label.padEnd(11)),
  );
}

/** Of a piece, as far as the tables know it; empty where they do not. */
function weightText({ figures, pieceName }: Estimate): string {
  const find = (id: string) => figures.find((figure) => figure.id === id)?.value;
  const [piece, parts] = [find("weight.piece"), find("weight.parts")];
  if (piece !== undefined)
    return `about ${trimmed(Number(piece), 2)} kg each ${pieceName}, paint and packing left out`;
  return parts === undefined
    ? ""
    : `sheet parts about ${trimmed(Number(parts), 2)} kg each ${pieceName}`;
}

function bullets(texts: readonly string[]): Block["items"] {
  return texts.map((text) => wrapped(text, PAGE_WIDTH, "- "));
}

/** Offcuts that are on the shelf already. */
function shelfLines(stock: TimedStock): Block["items"] {
  return stock.used
    .filter(({ offcut }) => offcut)
    .map(({ sheet, count, widthMm, heightMm }) => {
      const size = sizeText(widthMm, heightMm);
      const text = `${count} x offcut ${sheet} from the shelf: ${stockName(stock)}, ${size}`;
      return wrapped(text, PAGE_WIDTH, BOX);
    });
}

function readyLines({ quantity, unit, description }: ShoppingItem): readonly string[] {
  const text =
    unit === "pcs" ? `${quantity} x ${description}` : `${quantity} ${unit}: ${description}`;
  return wrapped(text, PAGE_WIDTH, BOX);
}

/** `[ ] 12 x heron-above: 165.6 x 241.2 mm, acrylic cast 3 mm, score, cut; heron-blue`. */
function partLines(part: EstimatedPart): readonly string[] {
  const { name, copies, spare, finish, note } = part;
  const spares = spare === 0 ? [] : [`${spare} of them spare`];
  const facts = [
    ...spares,
    outerSize(part),
    stockName(part),
    operationsText(part),
    finish ?? "bare",
  ];
  const noted = note === "" ? "" : ` (${note})`;
  return wrapped(`${copies} x ${name}: ${facts.join("; ")}${noted}`, PAGE_WIDTH, BOX);
}

/** Loading and set-up left out, s. */
function runningSeconds(stocks: readonly TimedStock[]): number {
  return stocks.flatMap(({ times }) => times).reduce((sum, { runningS }) => sum + runningS, 0);
}

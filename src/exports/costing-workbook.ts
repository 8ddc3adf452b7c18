import type {
  DecimalText,
  Estimate,
  FigureRecord,
  PaymentStage,
  QuoteLine,
  ShoppingItem,
} from "../estimate-data.ts";
import { FORMULAS } from "../formulas.ts";
import { Amount } from "../money.ts";
import type { Currency } from "../money.ts";
import { capital } from "../names.ts";
import { COSTING_COLUMNS, costingCells } from "./costing-csv.ts";
import { QUOTE_COLUMNS } from "./quote-csv.ts";
import { SHOPPING_COLUMNS } from "./shopping-csv.ts";
import { reference } from "./workbook/cells.ts";
import type { Cell } from "./workbook/cells.ts";
import { formulaText } from "./workbook/formula-text.ts";
import type { Look } from "./workbook/looks.ts";
import { workbook } from "./workbook/xlsx.ts";
import type { Sheet } from "./workbook/xlsx.ts";

/**
 * The maker's costing as a workbook that calculates: the figures with the formulas that they were
 * worked out by, and the quote and the shopping list that refer to them. A changed rate changes the
 * total; what nesting and timing have counted stays as it was.
 */
export function costingWorkbook(estimate: Estimate): Uint8Array {
  const { currency } = estimate;
  const shown = showing(estimate);
  return workbook([
    {
      name: "Quote",
      rows: [
        headings(QUOTE_COLUMNS),
        ...estimate.quote.map((row) => quoteRow(row, currency, shown)),
        ...estimate.terms.stages.map((stage) => stageRow(stage, currency, shown)),
      ],
      numbersOnly: [],
    },
    figuresSheet(estimate),
    shoppingSheet(estimate, shown),
  ]);
}

const FIGURES = "Figures";
const VALUE_COLUMN = COSTING_COLUMNS.indexOf("value");

/** Of each figure, by its id; the first row is the header. */
function cellsOf(figures: Estimate["figures"]): ReadonlyMap<string, string> {
  return new Map(figures.map(({ id }, index) => [id, reference(VALUE_COLUMN, index + 1)]));
}

function figuresSheet({ figures, currency }: Estimate): Sheet {
  const cells = cellsOf(figures);
  const asides: Cell[][] = [];
  const asText = formulaText((formula) => {
    asides.push([
      null,
      text("part of a long sum"),
      { kind: "formula", formula, value: null, look: GENERAL },
    ]);
    return reference(VALUE_COLUMN, figures.length + asides.length);
  });
  const valueCell = ({ origin, unit, value }: FigureRecord): Cell => {
    const format = unit.includes("currency") ? rateFormat(currency) : "General";
    if (origin.kind === "given") return { kind: "number", value, look: { format, role: "input" } };
    const inputs = origin.inputs.map((input) => cells.get(input) ?? "");
    const formula = FORMULAS[origin.formula].compute(asText, inputs);
    return { kind: "formula", formula, value, look: { format, role: "plain" } };
  };
  const rows = figures.map((figure) =>
    costingCells(figure, currency).map((cell, column): Cell => {
      if (column === VALUE_COLUMN) return valueCell(figure);
      return typeof cell === "string" ? text(cell) : number(cell.decimal);
    }),
  );
  return {
    name: FIGURES,
    rows: [headings(COSTING_COLUMNS), ...rows, ...asides],
    numbersOnly: figures.flatMap(({ id, origin }) =>
      origin.kind === "given" ? (cells.get(id) ?? []) : [],
    ),
  };
}

interface Showing {
  /** A cell that shows the value of a figure. */
  readonly value: (id: string, look: Look) => Cell;
  readonly label: (id: string) => string;
}

function showing({ figures }: Estimate): Showing {
  const cells = cellsOf(figures);
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  return {
    value: (id, look) => ({
      kind: "formula",
      formula: `${FIGURES}!${cells.get(id)}`,
      value: byId.get(id)?.value ?? null,
      look,
    }),
    label: (id) => byId.get(id)?.label ?? "",
  };
}

/** Of a sum no words that a changed rate would make wrong, such as the tax in percent. */
function quoteRow(row: QuoteLine, currency: Currency, shown: Showing): readonly Cell[] {
  const isLine = row.kind === "line";
  const money: Look = { format: moneyFormat(currency), role: isLine ? "plain" : "sum" };
  const words = (one: string): Cell => text(one, isLine ? "text" : "sumText");
  return [
    words(row.section),
    row.line === "" ? null : number(row.line),
    words(isLine ? row.description : capital(shown.label(row.figure))),
    row.each === null ? number(row.quantity) : shown.value(row.each.count, GENERAL),
    words(row.unit),
    shown.value(row.each?.price ?? row.figure, money),
    shown.value(row.figure, money),
    words(currency.code),
    words(row.kind),
    words(isLine ? row.basis : ""),
  ];
}

/** A part of the total, under the columns of the quote. */
function stageRow(stage: PaymentStage, currency: Currency, shown: Showing): readonly Cell[] {
  const amount = shown.value(stage.figure, { format: moneyFormat(currency), role: "plain" });
  const [section, kind] = [text("Payment"), text("stage")];
  const share = [number(stage.percent), text("%"), null];
  return [
    section,
    null,
    text(stage.name),
    ...share,
    amount,
    text(currency.code),
    kind,
    text(stage.due),
  ];
}

/** To print and to tick off; the last row is what all of it comes to. */
function shoppingSheet({ shopping, currency }: Estimate, shown: Showing): Sheet {
  const at = SHOPPING_COLUMNS.indexOf("amount");
  const sum: Cell = {
    kind: "formula",
    formula: `SUM(${reference(at, 1)}:${reference(at, shopping.length)})`,
    value: shopping.reduce((all, { amount }) => all.plus(amount), new Amount(0)).toString(),
    look: { format: moneyFormat(currency), role: "sum" },
  };
  const total: readonly Cell[] = SHOPPING_COLUMNS.map((name, column) =>
    column === at ? sum : name === "description" ? text("Total", "sumText") : null,
  );
  const rows = shopping.map((row) => shoppingRow(row, currency, shown));
  return {
    name: "Shopping",
    rows: [headings(SHOPPING_COLUMNS), ...rows, ...(rows.length === 0 ? [] : [total])],
    numbersOnly: [],
  };
}

function shoppingRow(row: ShoppingItem, currency: Currency, shown: Showing): readonly Cell[] {
  const money: Look = { format: moneyFormat(currency), role: "plain" };
  return [
    text(row.kind),
    text(row.item),
    text(row.description),
    shown.value(row.figures.quantity, GENERAL),
    text(row.unit),
    shown.value(row.figures.unitPrice, money),
    shown.value(row.figures.amount, money),
    text(currency.code),
    text(row.need),
    text(row.source),
    text("\u2610"),
  ];
}

const GENERAL: Look = { format: "General", role: "plain" };

function text(words: string, role: Look["role"] = "text"): Cell {
  return words === "" ? null : { kind: "text", text: words, look: { format: "General", role } };
}

function number(value: DecimalText): Cell {
  return { kind: "number", value, look: GENERAL };
}

function headings(names: readonly string[]): readonly Cell[] {
  return names.map((name) => text(name, OF_NUMBERS.has(name) ? "numberHeading" : "heading"));
}

/** Columns that hold numbers. */
const OF_NUMBERS = new Set(["value", "line", "quantity", "unit_price", "amount", "low", "high"]);

/** With the minor digits of the currency. */
function moneyFormat({ minorDigits }: Currency): string {
  return minorDigits === 0 ? "#,##0" : `#,##0.${"0".repeat(minorDigits)}`;
}

/** With more digits where there are more: a rate of 0.345 must not look like 0.35. */
function rateFormat(currency: Currency): string {
  return currency.minorDigits === 0 ? "General" : `${moneyFormat(currency)}##`;
}

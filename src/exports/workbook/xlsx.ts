import { strToU8, zipSync } from "fflate";
import { cellXml, reference } from "./cells.ts";
import type { Cell } from "./cells.ts";
import { Looks } from "./looks.ts";
import { escaped } from "./xml-text.ts";

/** Workbooks as SpreadsheetML (ECMA-376, ISO/IEC 29500), the same bytes for the same cells. */

export interface Sheet {
  /** At most 31 letters, none of them `[ ] : * ? / \`. */
  readonly name: string;
  /** The first is a heading that stays in sight. */
  readonly rows: readonly (readonly Cell[])[];
  /** Cells that take nothing but a number, such as `C2:C5`. */
  readonly numbersOnly: readonly string[];
}

export function workbook(sheets: readonly Sheet[]): Uint8Array {
  const looks = new Looks();
  const pages = sheets.map((sheet, index) => sheetXml(sheet, looks, index === 0));
  const names = pages.map((_, index) => `xl/worksheets/sheet${index + 1}.xml`);
  return zipped({
    "[Content_Types].xml": contentTypes(names),
    "_rels/.rels": relations([["officeDocument", "xl/workbook.xml"]]),
    "xl/workbook.xml": bookXml(sheets),
    "xl/_rels/workbook.xml.rels": relations([
      ...names.map((name) => ["worksheet", `/${name}`] as const),
      ["styles", "/xl/styles.xml"],
    ]),
    "xl/styles.xml": looks.xml(MAIN),
    ...Object.fromEntries(pages.map((xml, index) => [names[index], xml])),
  });
}

/** A day that every archive can hold, in no time zone: bytes must not tell when or where. */
const WRITTEN = "2000-01-01T12:00:00";

function zipped(files: Readonly<Record<string, string>>): Uint8Array {
  const texts = Object.entries(files).map(([name, xml]) => [name, strToU8(HEAD + xml)] as const);
  return zipSync(Object.fromEntries(texts), { mtime: WRITTEN });
}

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";

function contentTypes(sheets: readonly string[]): string {
  const parts = [
    ["/xl/workbook.xml", "sheet.main"],
    ["/xl/styles.xml", "styles"],
    ...sheets.map((name) => [`/${name}`, "worksheet"]),
  ].map(([name, type]) => `<Override PartName="${name}" ContentType="${TYPE}.${type}+xml"/>`);
  const rels = `<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`;
  return `<Types xmlns="${PACKAGE}/content-types">${rels}${parts.join("")}</Types>`;
}

function relations(links: readonly (readonly [kind: string, target: string])[]): string {
  const all = links.map(
    ([kind, target], index) =>
      `<Relationship Id="rId${index + 1}" Type="${LINKS}/${kind}" Target="${target}"/>`,
  );
  return `<Relationships xmlns="${PACKAGE}/relationships">${all.join("")}</Relationships>`;
}

/** Asks for all to be worked out anew on opening; the values written are for readers that do not. */
function bookXml(sheets: readonly Sheet[]): string {
  const all = sheets.map(
    ({ name }, index) =>
      `<sheet name="${escaped(name)}" sheetId="${index + 1}" r:id="rId${index + 1}"/>`,
  );
  return `<workbook xmlns="${MAIN}" xmlns:r="${LINKS}"><sheets>${all.join("")}</sheets><calcPr fullCalcOnLoad="1"/></workbook>`;
}

function sheetXml({ rows, numbersOnly }: Sheet, looks: Looks, first: boolean): string {
  const lines = rows.map((cells, row) => {
    const inner = cells.map((cell, column) => cellXml(cell, reference(column, row), looks));
    return `<row r="${row + 1}">${inner.join("")}</row>`;
  });
  const view = `<sheetView${first ? ' tabSelected="1"' : ""} workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView>`;
  return `<worksheet xmlns="${MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews>${view}</sheetViews><cols>${columnsXml(rows)}</cols><sheetData>${lines.join("")}</sheetData>${validations(numbersOnly)}<pageSetup orientation="landscape" fitToHeight="0"/></worksheet>`;
}

const [NARROWEST, WIDEST] = [6, 60];

/** As wide as the longest text, in letters; of numbers it is not known how many are shown. */
function columnsXml(rows: Sheet["rows"]): string {
  const count = rows.reduce((most, cells) => Math.max(most, cells.length), 0);
  return Array.from({ length: count }, (_, column) => {
    const widest = rows.reduce(
      (most, cells) => Math.max(most, widthOf(cells[column] ?? null)),
      NARROWEST,
    );
    const width = Math.min(widest, WIDEST);
    return `<col min="${column + 1}" max="${column + 1}" width="${width}" customWidth="1"/>`;
  }).join("");
}

const NUMBER_WIDTH = 13;

function widthOf(cell: Cell): number {
  if (cell === null) return 0;
  if (cell.kind === "text") return cell.text.length + 3;
  // What calculates may grow.
  const grows = cell.kind === "formula" || cell.look.role === "input";
  return grows ? NUMBER_WIDTH : cell.value.length + 2;
}

const RANGES_AT_ONCE = 100;

function validations(ranges: readonly string[]): string {
  const groups = Array.from({ length: Math.ceil(ranges.length / RANGES_AT_ONCE) }, (_, index) =>
    ranges.slice(index * RANGES_AT_ONCE, (index + 1) * RANGES_AT_ONCE).join(" "),
  );
  const all = groups.map(
    (cells) =>
      `<dataValidation type="decimal" operator="greaterThan" showErrorMessage="1" errorTitle="A number" error="Formulas count with this cell: it takes a number only." sqref="${cells}"><formula1>-1E+99</formula1></dataValidation>`,
  );
  return all.length === 0
    ? ""
    : `<dataValidations count="${all.length}">${all.join("")}</dataValidations>`;
}

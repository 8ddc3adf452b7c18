import { strToU8, zipSync } from "fflate";

/** Small workbooks as ECMA-376 has them, made in memory. */

export interface SheetWritten {
  readonly name: string;
  /** Of each row from the first on; null is a row that is not there. */
  readonly rows: readonly (readonly Cell[] | null)[];
  /** XML of all rows, instead of those that are made from `rows`. */
  readonly xml?: string;
  readonly state?: "hidden" | "veryHidden";
  readonly merged?: readonly string[];
  readonly hiddenRows?: readonly number[];
  /** The element `cols`, as it is written. */
  readonly cols?: string;
}

/** A shared text, a number, a boolean, nothing, or the XML of the cell's inside and its attributes. */
export type Cell =
  | string
  | number
  | boolean
  | null
  | { readonly xml: string; readonly attr?: string };

/** Formats that cells refer to with `s="0"`, `s="1"` ... */
export interface BookWritten {
  readonly sheets: readonly SheetWritten[];
  readonly formats?: readonly (string | number)[];
  readonly date1904?: boolean;
}

export function workbook({ sheets, formats = [], date1904 = false }: BookWritten): Uint8Array {
  const shared: string[] = [];
  const pages = sheets.map((sheet) => sheetXml(sheet, shared));
  const files: Record<string, string> = {
    "[Content_Types].xml": `<Types xmlns="${PACKAGE}/content-types"/>`,
    "_rels/.rels": relations([["rId1", "officeDocument", "xl/workbook.xml"]]),
    "xl/workbook.xml": `<workbook xmlns="${MAIN}" xmlns:r="${LINKS}"><workbookPr${date1904 ? ' date1904="1"' : ""}/><sheets>${sheets
      .map(
        ({ name, state }, at) =>
          `<sheet name="${escaped(name)}" sheetId="${at + 1}" r:id="rId${at + 1}"${state ? ` state="${state}"` : ""}/>`,
      )
      .join("")}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": relations([
      ...pages.map((_, at): Link => [`rId${at + 1}`, "worksheet", `worksheets/sheet${at + 1}.xml`]),
      ["rIdS", "sharedStrings", "/xl/sharedStrings.xml"],
      ["rIdF", "styles", "styles.xml"],
    ]),
    "xl/styles.xml": stylesXml(formats),
    ...Object.fromEntries(pages.map((xml, at) => [`xl/worksheets/sheet${at + 1}.xml`, xml])),
    "xl/sharedStrings.xml": `<sst xmlns="${MAIN}">${shared.join("")}</sst>`,
  };
  return zipped(files);
}

export function zipped(files: Readonly<Record<string, string>>): Uint8Array {
  return zipSync(
    Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])),
  );
}

/** A workbook of one sheet without formats. */
export function sheetOf(...rows: readonly (readonly Cell[] | null)[]): Uint8Array {
  return workbook({ sheets: [{ name: "Parts", rows }] });
}

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";

type Link = readonly [id: string, kind: string, target: string];

function relations(links: readonly Link[]): string {
  const all = links.map(
    ([id, kind, target]) => `<Relationship Id="${id}" Type="${LINKS}/${kind}" Target="${target}"/>`,
  );
  return `<Relationships xmlns="${PACKAGE}/relationships">${all.join("")}</Relationships>`;
}

function stylesXml(formats: NonNullable<BookWritten["formats"]>): string {
  const own = formats.map((code, at) =>
    typeof code === "string"
      ? `<numFmt numFmtId="${200 + at}" formatCode="${escaped(code)}"/>`
      : "",
  );
  const used = formats.map(
    (code, at) => `<xf numFmtId="${typeof code === "string" ? 200 + at : code}"/>`,
  );
  return `<styleSheet xmlns="${MAIN}"><numFmts>${own.join("")}</numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs>${used.join("")}</cellXfs></styleSheet>`;
}

function sheetXml(
  { rows, xml, merged = [], hiddenRows = [], cols = "" }: SheetWritten,
  shared: string[],
): string {
  const lines = rows.map((cells, at) => {
    const row = at + 1;
    const hidden = hiddenRows.includes(row) ? ' hidden="1"' : "";
    const inner = (cells ?? []).map((cell, column) =>
      cellXml(cell, `${letter(column)}${row}`, shared),
    );
    return cells === null ? "" : `<row r="${row}"${hidden}>${inner.join("")}</row>`;
  });
  const merges = merged.map((ref) => `<mergeCell ref="${ref}"/>`).join("");
  return `<worksheet xmlns="${MAIN}">${cols}<sheetData>${xml ?? lines.join("")}</sheetData><mergeCells>${merges}</mergeCells></worksheet>`;
}

function cellXml(cell: Cell, ref: string, shared: string[]): string {
  if (cell === null) return "";
  if (typeof cell === "number") return `<c r="${ref}"><v>${cell}</v></c>`;
  if (typeof cell === "boolean") return `<c r="${ref}" t="b"><v>${Number(cell)}</v></c>`;
  if (typeof cell === "object") return `<c r="${ref}" ${cell.attr ?? ""}>${cell.xml}</c>`;
  shared.push(`<si><t xml:space="preserve">${escaped(cell)}</t></si>`);
  return `<c r="${ref}" t="s"><v>${shared.length - 1}</v></c>`;
}

function letter(column: number): string {
  return String.fromCharCode("A".charCodeAt(0) + column);
}

function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll('"', "&quot;")
    .replaceAll("\n", "&#10;");
}

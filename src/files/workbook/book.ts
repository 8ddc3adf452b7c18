import { posix } from "node:path";
import { readFormats } from "./formats.ts";
import type { NumberFormat } from "./formats.ts";
import { readTexts } from "./texts.ts";
import { visitXml } from "./xml.ts";
import type { Zip } from "./zip.ts";

/** What the sheets of a workbook share (ECMA-376, part 1, 18.2), and where they are. */
export interface Book {
  /** Those that the person sees, in the order of their tabs. */
  readonly sheets: readonly { readonly name: string; readonly path: string }[];
  readonly texts: readonly string[];
  /** By style of a cell. */
  readonly formats: readonly NumberFormat[];
  /** Whether days are counted from 1904 instead of 1900. */
  readonly from1904: boolean;
}

/** Null for a zip that is no workbook; throws where one is broken. */
export function readBook(zip: Zip): Book | null {
  const main = relationsOf(zip, "").find(({ kind }) => kind === "officeDocument")?.path;
  const xml = main === undefined ? null : zip.read(main);
  if (main === undefined || xml === null) return null;
  const related = relationsOf(zip, main);
  const sheets: Book["sheets"][number][] = [];
  let from1904 = false;
  let isWorkbook = false;
  visitXml(xml, {
    open: (tag, { name = "", state = "visible", id, date1904 }) => {
      if (tag === "workbook") isWorkbook = true;
      if (tag === "workbookPr") from1904 = date1904 === "1" || date1904 === "true";
      const to = related.find((one) => one.id === id);
      if (tag === "sheet" && state === "visible" && to?.kind === "worksheet")
        sheets.push({ name, path: to.path });
    },
  });
  if (!isWorkbook) return null;
  const part = (wanted: string): string | null => {
    const path = related.find(({ kind }) => kind === wanted)?.path;
    return path === undefined ? null : zip.read(path);
  };
  const texts = readTexts(part("sharedStrings"));
  return { sheets, texts, formats: readFormats(part("styles")), from1904 };
}

interface Relation {
  readonly id: string;
  /** Last word of its type. */
  readonly kind: string;
  /** Of the file that it leads to. */
  readonly path: string;
}

/** Where a file of the zip refers to (ECMA-376, part 2, 8.3); the zip itself is "". */
function relationsOf(zip: Zip, path: string): readonly Relation[] {
  const folder = posix.dirname(path);
  const xml = zip.read(posix.join(folder, "_rels", `${posix.basename(path)}.rels`));
  const found: Relation[] = [];
  visitXml(xml ?? "<none/>", {
    open: (tag, { Id: id = "", Type: type = "", Target: target = "" }) => {
      const to = target.startsWith("/") ? target.slice(1) : posix.join(folder, target);
      if (tag === "Relationship") found.push({ id, kind: posix.basename(type), path: to });
    },
  });
  return found;
}

import { inFile, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lettersOf } from "./encodings.ts";

/** Letters of DXF files that are older than UTF-8. */

/** DXF reference, `$DWGCODEPAGE`, and the names of the WHATWG Encoding Standard for the same. */
const CODE_PAGES: ReadonlyMap<string, string> = new Map([
  ["874", "windows-874"],
  ["932", "shift_jis"],
  ["936", "gbk"],
  ["949", "euc-kr"],
  ["950", "big5"],
  ...["1250", "1251", "1252", "1253", "1254", "1255", "1256", "1257", "1258"].map(
    (page) => [page, `windows-${page}`] as const,
  ),
]);

const WESTERN = "windows-1252";

/** The text in the code page that the file names; as western letters, and said so, if it names none. */
export function decodeCodePage(file: string, bytes: Buffer): { text: string; problems: Problem[] } {
  const said = /\$DWGCODEPAGE\s+3\s+(\S+)/i.exec(bytes.toString("latin1"))?.[1] ?? null;
  const page = CODE_PAGES.get(/^ANSI_(\d+)$/i.exec(said ?? "")?.[1] ?? "");
  const text = lettersOf(new TextDecoder(page ?? WESTERN), bytes);
  if (page !== undefined) return { text, problems: [] };
  const fault = {
    code: "dxf-code-page",
    found: said ?? "letters that are not ASCII, and no $DWGCODEPAGE",
    expected: "a code page that is known; the letters are read as western ones (ANSI_1252)",
    mend: "Check the names of the layers, or save the drawing as a DXF of 2007 or later",
  };
  return { text, problems: [warningAt({ ...inFile(file), column: "$DWGCODEPAGE" }, fault)] };
}

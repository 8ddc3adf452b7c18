import { asCsvName, isList } from "../../job/file-names.ts";
import { errorAt, inFile } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { openZip } from "./zip.ts";

/** What is met under the name of a workbook and is none that can be read. */
export function otherFile(name: string, bytes: Uint8Array): Problem | null {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (buffer.subarray(0, OLE.length).equals(OLE))
    return buffer.includes(LOCKED) ? locked(name) : otherKind(name, "an older workbook (.xls)");
  if (buffer.subarray(0, 4).toString("latin1") !== "PK\u0003\u0004")
    return otherKind(name, buffer.length === 0 ? "an empty file" : "a file of another kind");
  const kind = kindOfZip(bytes);
  if (kind === "broken") return brokenWorkbook(name);
  return kind === null ? null : otherKind(name, kind);
}

export function brokenWorkbook(name: string): Problem {
  return errorAt(inFile(name), {
    code: "workbook-broken",
    found: "a workbook that can not be unpacked and read to its end",
    expected: "a whole workbook (.xlsx)",
    mend: `Open it in a spreadsheet program and save it again, or save the sheet as ${csvFor(name)}`,
  });
}

/** First bytes of a compound file: older workbooks, and the shell of one with a password. */
const OLE = Buffer.from("d0cf11e0a1b11ae1", "hex");
/** Name of the stream that holds the workbook when it is encrypted (MS-OFFCRYPTO, 1.3.2). */
const LOCKED = Buffer.from("EncryptedPackage", "utf16le");

/** What the sheet is called as a CSV. */
function csvFor(name: string): string {
  return isList(name) ? asCsvName(name) : "parts.csv";
}

function kindOfZip(bytes: Uint8Array): string | null {
  try {
    const zip = openZip(bytes);
    if (zip.has("xl/workbook.bin")) return "a binary workbook (.xlsb)";
    if (zip.has("content.xml")) return "an OpenDocument workbook (.ods)";
    return zip.has("[Content_Types].xml") ? null : "a compressed file (zip)";
  } catch {
    return "broken";
  }
}

function locked(name: string): Problem {
  return errorAt(inFile(name), {
    code: "workbook-locked",
    found: "a workbook with a password",
    expected: "a workbook that opens without one",
    mend: `Save a copy without the password, or save the sheet as ${csvFor(name)}`,
  });
}

function otherKind(name: string, found: string): Problem {
  return errorAt(inFile(name), {
    code: "not-a-workbook",
    found,
    expected: "a workbook (.xlsx)",
    mend: `Save it as .xlsx, or the sheet as ${csvFor(name)} in UTF-8`,
  });
}

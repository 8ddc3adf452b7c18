import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { gunzipSync } from "node:zlib";
import { errorAt, inFile } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import type { SourceText } from "../job/types.ts";
import { decodeCodePage } from "./dxf-code-page.ts";
import { declaredText, textOf, utf16Of } from "./encodings.ts";

const NEWLINE = 0x0a;

/**
 * The text of a file that is UTF-8 or UTF-16, with or without a byte order mark. An SVG may be packed
 * and may name other letters, a DXF may have a code page.
 */
export function decodeText(name: string, bytes: Buffer): Checked<SourceText> {
  const { value: unpacked, problems: ofPacking } = unpackedOf(name, bytes);
  if (unpacked === null) return { value: null, problems: ofPacking };
  const problem = otherKind(name, unpacked) ?? encodingProblem(name, unpacked);
  if (problem !== null) return { value: null, problems: [problem] };
  const plain = textOf(unpacked) ?? (isNamedSvg(name) ? declaredText(unpacked) : null);
  const { text, problems } =
    plain === null ? decodeCodePage(name, unpacked) : { text: plain, problems: [] };
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  return { value: { name, text, sha256 }, problems };
}

/** Unpacked; a drawing of a commission is a tenth of it, a file made to fill the memory far more. */
const MOST_UNPACKED_BYTES = 64 * 1024 * 1024;

/** An SVG may be packed by gzip (SVG 1.1, 1.2: `svgz`), whatever of the two names it has. */
function unpackedOf(file: string, bytes: Buffer): Checked<Buffer> {
  const isPacked = isNamedSvg(file) && bytes.subarray(0, 2).toString("hex") === "1f8b";
  if (!isPacked) return { value: bytes, problems: [] };
  try {
    const options = { maxOutputLength: MOST_UNPACKED_BYTES };
    return { value: gunzipSync(bytes, options), problems: [] };
  } catch (error) {
    return { value: null, problems: [notUnpacked(file, error instanceof RangeError)] };
  }
}

function notUnpacked(file: string, isTooLarge: boolean): Problem {
  const most = `${MOST_UNPACKED_BYTES / 1024 / 1024} MiB`;
  return errorAt(inFile(file), {
    code: "drawing-packed",
    found: isTooLarge
      ? `a packed drawing of more than ${most}`
      : "a packed drawing (gzip) that is broken",
    expected: isTooLarge ? `at most ${most} when it is unpacked` : "a drawing packed to its end",
    mend: isTooLarge
      ? "Simplify the drawing"
      : "Copy or save the drawing again, or save it as plain SVG",
  });
}

const PLAIN_SVG = "Save the drawing as plain SVG, uncompressed";
const ASCII_DXF = "Save the drawing as ASCII DXF";

/** First bytes of what is often met under the ending of a drawing or a table. */
const KINDS = [
  { starts: "\u001f\u008b", found: "a compressed file (gzip)" },
  { starts: "PK\u0003\u0004", found: "a compressed file (zip)" },
  { starts: "\u0089PNG", found: "a picture (PNG)" },
  { starts: "\u00ff\u00d8\u00ff", found: "a picture (JPEG)" },
  { starts: "%PDF", found: "a PDF" },
] as const;

/** A version and a zero byte. */
const DWG = /^AC\d{4}\0/;

/** Enough for the first bytes of any kind. */
const FIRST_BYTES = 64;

/** A drawing or a table that is none, whatever its name says. */
function otherKind(file: string, bytes: Buffer): Problem | null {
  const isDxf = isNamedDxf(file);
  const start = bytes.subarray(0, FIRST_BYTES).toString("latin1");
  const isBinary = isDxf && start.includes("Binary DXF");
  const kind = KINDS.find(({ starts }) => start.startsWith(starts));
  const other = isDxf && DWG.test(start) ? "a DWG, whatever its name says" : kind?.found;
  const found = isBinary ? "a binary DXF" : other;
  if (found === undefined) return null;
  if (!isDxf && !isNamedSvg(file)) return notPlainText(file, found);
  return errorAt(inFile(file), {
    code: isBinary ? "dxf-binary" : "not-a-drawing",
    found,
    expected: isDxf ? "an ASCII DXF" : "an SVG drawing as plain text",
    mend: isDxf ? ASCII_DXF : PLAIN_SVG,
  });
}

/** A workbook is a zip too. */
function notPlainText(file: string, found: string): Problem {
  return errorAt(inFile(file), {
    code: "not-plain-text",
    found,
    expected: "plain text",
    mend: /\.csv$/i.test(file)
      ? "Open it where it was made and save the sheet as CSV in UTF-8"
      : "Write the file in a plain text editor",
  });
}

function isNamedSvg(file: string): boolean {
  return /\.svgz?$/i.test(file);
}

function isNamedDxf(file: string): boolean {
  return /\.dxf$/i.test(file);
}

function encodingProblem(file: string, bytes: Buffer): Problem | null {
  if (utf16Of(bytes) !== null)
    return textOf(bytes) === null ? notUtf8(file, null, "UTF-16 that is broken") : null;
  if (bytes.includes(0)) return notUtf8(file, lineAt(bytes, bytes.indexOf(0)), "a zero byte");
  if (isUtf8(bytes) || isNamedDxf(file)) return null;
  if (isNamedSvg(file) && declaredText(bytes) !== null) return null;
  const { line, byte } = firstWrongLine(bytes);
  return notUtf8(file, line, byte);
}

function notUtf8(file: string, line: number | null, found: string): Problem {
  return errorAt(
    { file, line, column: null },
    {
      code: "not-utf-8",
      found,
      expected: "text in UTF-8",
      mend: "Save the file with the encoding UTF-8",
    },
  );
}

function lineAt(bytes: Buffer, offset: number): number {
  return bytes.subarray(0, offset).filter((byte) => byte === NEWLINE).length + 1;
}

/** No byte of a longer UTF-8 character is a line feed, so that lines can be judged one by one. */
function firstWrongLine(bytes: Buffer): { line: number; byte: string } {
  let start = 0;
  for (let line = 1; ; line += 1) {
    const feed = bytes.indexOf(NEWLINE, start);
    const end = feed < 0 ? bytes.length : feed;
    const part = bytes.subarray(start, end);
    if (!isUtf8(part) || feed < 0) return { line, byte: firstHighByte(part) };
    start = feed + 1;
  }
}

/** The character that replaces what can not be decoded stands where the wrong byte was. */
function firstHighByte(line: Buffer): string {
  const sound = line.toString("utf8").split("\uFFFD", 1)[0] ?? "";
  const byte = line[Buffer.byteLength(sound)] ?? 0;
  return `byte ${byte.toString(16).toUpperCase().padStart(2, "0")}`;
}

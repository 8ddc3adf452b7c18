import { isUtf8 } from "node:buffer";

/** In which letters a text file was saved: UTF-8, UTF-16, or what an XML file says of itself. */

type Utf16 = "utf-16le" | "utf-16be";

/** The text without its byte order mark; null where the bytes are not what they seem to be. */
export function textOf(bytes: Buffer): string | null {
  const encoding = utf16Of(bytes);
  if (encoding === null) return isUtf8(bytes) ? withoutMark(bytes.toString("utf8")) : null;
  try {
    return lettersOf(new TextDecoder(encoding, { fatal: true }), bytes);
  } catch {
    // An odd count of bytes, or half of a letter.
    return null;
  }
}

/** UTF-16 by its mark, or, without one, as every other byte of plain letters is zero. */
export function utf16Of(bytes: Buffer): Utf16 | null {
  const mark = bytes.subarray(0, 2).toString("hex");
  if (mark === "fffe") return "utf-16le";
  if (mark === "feff") return "utf-16be";
  const start = [...bytes.subarray(0, FIRST_BYTES)];
  const zeros = start.flatMap((byte, at) => (byte === 0 ? [at % 2] : []));
  const [first, ...others] = new Set(zeros);
  if (zeros.length * 4 <= start.length || first === undefined || others.length > 0) return null;
  return first === 1 ? "utf-16le" : "utf-16be";
}

const FIRST_BYTES = 64;

/**
 * The text of an XML file that is not UTF-8, by the encoding that its first line names (XML 1.0,
 * 4.3.3, names as in the WHATWG Encoding Standard); null where it names none that is known.
 */
export function declaredText(bytes: Buffer): string | null {
  const start = bytes.subarray(0, DECLARATION_BYTES).toString("latin1");
  const [, name] = /^<\?xml\s[^>]*?encoding\s*=\s*["']([\w.:-]+)["']/.exec(start) ?? [];
  if (name === undefined) return null;
  try {
    const decoder = new TextDecoder(name, { fatal: true });
    return decoder.encoding.startsWith("utf-") ? null : lettersOf(decoder, bytes);
  } catch {
    // A name that nobody knows, or bytes that are no letters in it.
    return null;
  }
}

const DECLARATION_BYTES = 200;

/** In two steps: in one, Node 20 takes windows-1252 for ISO 8859-1 and loses the euro sign. */
export function lettersOf(decoder: InstanceType<typeof TextDecoder>, bytes: Uint8Array): string {
  return decoder.decode(bytes, { stream: true }) + decoder.decode();
}

/** A text in the letters, and with the mark, of the bytes that it takes the place of. */
export function encodedAs(bytes: Buffer, text: string): Buffer {
  const encoding = utf16Of(bytes);
  const marked =
    encoding === null ? UTF8_MARK.test(bytes.toString("latin1", 0, 3)) : isMarked(bytes);
  const whole = marked ? `\uFEFF${text}` : text;
  if (encoding === null) return Buffer.from(whole, "utf8");
  const little = Buffer.from(whole, "utf16le");
  return encoding === "utf-16le" ? little : little.swap16();
}

const UTF8_MARK = /^\u00ef\u00bb\u00bf/;

function isMarked(bytes: Buffer): boolean {
  return ["fffe", "feff"].includes(bytes.subarray(0, 2).toString("hex"));
}

function withoutMark(text: string): string {
  return text.replace(/^\uFEFF/, "");
}

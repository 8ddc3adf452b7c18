import { parse } from "csv-parse/sync";

/** Rows of a CSV by column name, as an independent reader of RFC 4180 sees them. */
export function rowsOf(text: string): readonly Readonly<Record<string, string>>[] {
  return parse(text, { columns: true, record_delimiter: "\r\n" });
}

/** The cells of the header line. */
export function headerOf(text: string): string {
  return text.slice(0, text.indexOf("\r\n"));
}

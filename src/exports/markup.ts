import { printable } from "../problem.ts";

/** A text as XML and HTML have it, between tags and in attributes; control characters made visible. */
export function escaped(text: string): string {
  return printable(text)
    .replace(/[\p{Cs}\uFFFE\uFFFF]/gu, "\uFFFD")
    .replace(/[&<>"]/g, (character) => ESCAPES[character] ?? character);
}

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
};

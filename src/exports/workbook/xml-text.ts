/**
 * A text as XML has it. What XML can not hold is written as ECMA-376 has it (part 1, 22.9.2.19:
 * `_x000D_`), and so is a text that looks like that itself.
 */
export function escaped(text: string): string {
  return text
    .replace(/_(?=x[0-9a-f]{4}_)/gi, "_x005F_")
    .replace(NOT_IN_XML, (character) => {
      const code = character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0");
      return `_x${code}_`;
    })
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

/** A carriage return it could hold, but readers make a line feed of it. */
// oxlint-disable-next-line no-control-regex -- control characters are what it is about
const NOT_IN_XML = /[\u0000-\u0008\u000B-\u001F\uFFFE\uFFFF]/g;

/**
 * Plain text broken at blanks, and inside a word that is longer than a line; the first line begins
 * with `lead`, the others are indented to it.
 */
export function wrapped(text: string, width: number, lead = ""): readonly string[] {
  const lines: string[] = [];
  let line = "";
  const pieces = new RegExp(`.{1,${Math.max(1, width - lead.length)}}`, "gsu");
  const words = text.split(/\s+/).flatMap((word) => word.match(pieces) ?? []);
  for (const word of words) {
    if (line !== "" && lead.length + line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((one, index) => `${index === 0 ? lead : " ".repeat(lead.length)}${one}`);
}

/** Rows in columns: texts to the left, columns named in `right` to the right; no trailing blanks. */
export function columns(
  rows: readonly (readonly string[])[],
  right: readonly number[],
  apart = "  ",
): readonly string[] {
  const count = Math.max(0, ...rows.map((row) => row.length));
  const widths = Array.from({ length: count }, (_, index) =>
    Math.max(...rows.map((row) => (row[index] ?? "").length)),
  );
  return rows.map((row) =>
    row
      .map((text, index) => {
        const width = widths[index] ?? 0;
        return right.includes(index) ? text.padStart(width) : text.padEnd(width);
      })
      .join(apart)
      .trimEnd(),
  );
}

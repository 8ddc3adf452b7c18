/** Plain tables and numbers. */

export function say(text) {
  process.stdout.write(`${text}\n`);
}

/** @param words how many columns from the left are set to the left. */
export function table(head, rows, words = 1) {
  const all = [head, ...rows].map((row) => row.map(String));
  const widths = head.map((_, column) => Math.max(...all.map((row) => row[column].length)));
  const pad = (cell, column) =>
    column < words ? cell.padEnd(widths[column]) : cell.padStart(widths[column]);
  say(all.map((row) => row.map(pad).join("  ").trimEnd()).join("\n"));
}

export function heading(text) {
  say(`\n== ${text}`);
}

export function mm(value, places = 3) {
  return value.toFixed(places).replace(/^-(0\.?0*)$/, "$1");
}

export function small(value) {
  return value === 0 ? "0" : value.toExponential(1);
}

export function apart(ours, theirs) {
  return Math.abs(ours / theirs - 1);
}

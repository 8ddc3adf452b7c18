/** As a word of a command line: in quotes where it is not plain. */
export function asTyped(path: string): string {
  return /^[\w./-]+$/.test(path) ? path : `'${path.replaceAll("'", `'\\''`)}'`;
}

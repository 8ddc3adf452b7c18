/** Several lengths in one cell, apart by blanks: `5 mm`, `1 1/4 in` and `5.5` as words. */
export function lengthWords(text: string): readonly string[] {
  return text
    .trim()
    .replace(/(\d)\s+(?=\d+\/\d)/g, "$1-")
    .replace(/(\d)\s+(?=(?:mm|cm|m|in|inch|inches)(?!\w)|["\u2033\u201D])/gi, "$1")
    .split(/\s+/);
}

/** `1-4, 7` of 1, 2, 3, 4, 7 in any order; each number once. */
export function rangesText(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].toSorted((a, b) => a - b);
  const ranges: [number, number][] = [];
  for (const number of sorted) {
    const last = ranges.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges.map(([from, to]) => (from === to ? String(from) : `${from}-${to}`)).join(", ");
}

import { distance } from "fastest-levenshtein";

const MOST_SUGGESTIONS = 3;

/** `"heron" or "herons"`: up to three known names that were probably meant; null when none is near. */
export function nearNames(wanted: string, known: readonly string[]): string | null {
  const near = [...new Set(known)]
    .map((name) => ({ name, edits: distance(wanted.toLowerCase(), name.toLowerCase()) }))
    .filter(({ name, edits }) => edits <= Math.max(2, Math.max(wanted.length, name.length) / 3))
    .toSorted((a, b) => a.edits - b.edits || (a.name < b.name ? -1 : 1))
    .slice(0, MOST_SUGGESTIONS);
  return near.length === 0 ? null : near.map(({ name }) => `"${name}"`).join(" or ");
}

import { distance } from "fastest-levenshtein";

/** Names as people type them: when two are the same, which known one was meant, and how many. */

/** Case, runs of blanks and the two ways to write an accented letter do not tell names apart. */
export function plainName(text: string): string {
  return text.normalize("NFC").trim().toLowerCase().replace(/\s+/g, " ");
}

export function sameText(a: string, b: string): boolean {
  return plainName(a) === plainName(b);
}

/** The candidate that is {@link sameText}, as the list spells it. */
export function spelling(text: string, candidates: readonly string[]): string | null {
  return candidates.find((candidate) => sameText(candidate, text)) ?? null;
}

/**
 * The candidate that was probably meant: at most two fifths of its letters differ (two neighbours
 * swapped count once), or one name begins with the other. Earlier candidates win ties, so that the
 * answer depends on nothing but the list.
 */
export function nearest(text: string, candidates: readonly string[]): string | null {
  const wanted = plainName(text);
  let best: { name: string; steps: number } | null = null;
  for (const name of candidates) {
    const steps = stepsBetween(wanted, plainName(name));
    if (steps !== null && (best === null || steps < best.steps)) best = { name, steps };
  }
  return best?.name ?? null;
}

/** `Write "birch-ply" if that is meant, or add it to sheets.csv`; `otherwise` begins lower case. */
export function mendName(text: string, candidates: readonly string[], otherwise: string): string {
  const near = nearest(text, candidates);
  return near === null ? capital(otherwise) : `Write "${near}" if that is meant, or ${otherwise}`;
}

/** `1 part`, `3 parts`, `2 copies`; the count may be a decimal text. */
export function counted(count: number | string, one: string, many = `${one}s`): string {
  return `${count} ${noun(count, one, many)}`;
}

/** The word alone, as a count calls for it: for columns that have the number beside it. */
export function noun(count: number | string, one: string, many = `${one}s`): string {
  return Number(count) === 1 ? one : many;
}

/** `a, b or c`; long lists end in `or one of 12 more`. */
export function eitherOf(names: readonly string[], most = 8): string {
  const distinct = [...new Set(names)];
  if (distinct.length === 0) return "nothing yet";
  const shown = distinct.slice(0, most);
  const rest = distinct.length - shown.length;
  const last = rest > 0 ? `one of ${rest} more` : (shown.pop() ?? "");
  return shown.length === 0 ? last : `${shown.join(", ")} or ${last}`;
}

/** As {@link eitherOf}; of too many those nearest to what was found, and in which file the rest are. */
export function choicesFor(found: string, names: readonly string[], file: string): string {
  const distinct = [...new Set(names)];
  if (distinct.length <= MOST_CHOICES) return eitherOf(distinct, MOST_CHOICES);
  const near = distinct
    .map((name) => ({ name, steps: distance(plainName(found), plainName(name)) }))
    .toSorted((a, b) => a.steps - b.steps);
  const shown = eitherOf(
    near.map(({ name }) => name),
    MOST_CHOICES,
  );
  return `${shown} in ${file}`;
}

const MOST_CHOICES = 12;
const MOST_LISTED = 18;

/** `one of a, b, c`; of many those nearest to what was found, and that the rest are in the README. */
export function oneOf(found: string, names: readonly string[]): string {
  return names.length <= MOST_LISTED
    ? `one of ${names.join(", ")}`
    : choicesFor(found, names, "the README");
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Edits from one name to the other, or null when they are too far apart to be a slip. */
function stepsBetween(wanted: string, name: string): number | null {
  const longest = Math.max(wanted.length, name.length);
  const shortest = Math.min(wanted.length, name.length);
  if (shortest < 2) return null;
  const steps = areSwapped(wanted, name) ? 1 : distance(wanted, name);
  if (steps <= Math.floor(longest * 0.4)) return steps;
  const begins = name.startsWith(wanted) || wanted.startsWith(name);
  return begins && shortest >= 3 ? steps : null;
}

/** Whether they differ in nothing but two neighbouring letters. */
function areSwapped(a: string, b: string): boolean {
  let at = 0;
  while (at < a.length && a[at] === b[at]) at += 1;
  return at + 1 < a.length && a.slice(0, at) + a[at + 1] + a[at] + a.slice(at + 2) === b;
}

/**
 * The drawing that was probably meant: by its name alone, since all may lie in one folder and end
 * alike; of several of one name the one whose folder is nearest.
 */
export function nearestDrawing(path: string, drawings: readonly string[]): string | null {
  const name = nearest(drawingName(path), drawings.map(drawingName));
  const named = drawings.filter((drawing) => drawingName(drawing) === name);
  return nearest(path, named) ?? named[0] ?? null;
}

/** `heron` of `drawings/heron.svg`. */
function drawingName(path: string): string {
  return (path.split("/").at(-1) ?? path).replace(/\.[^.]*$/, "");
}

/** Whether a file of this name holds a drawing. */
export function isDrawingName(path: string): boolean {
  return /\.(svgz?|dxf)$/i.test(path);
}

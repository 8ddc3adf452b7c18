/** The first colours of the index, on which all programs agree; 7 is black on white. */
const BASIC = [
  "#ff0000",
  "#ffff00",
  "#00ff00",
  "#00ffff",
  "#0000ff",
  "#ff00ff",
  "#000000",
  "#808080",
  "#c0c0c0",
];

/** Colour indices that are none. */
export const BY_BLOCK = 0;
export const BY_LAYER = 256;

/**
 * A line's colour as a stroke that rules can name: `#ff0000`, or `colour 142` for the indices that
 * programs show differently. Null for by block and by layer.
 * @param trueColour of group 420, 24 bits; negative when there is none.
 */
export function drawnColour(index: number, trueColour: number): string | null {
  if (trueColour >= 0) return `#${(trueColour % 2 ** 24).toString(16).padStart(6, "0")}`;
  if (index === BY_BLOCK || index === BY_LAYER) return null;
  return BASIC[index - 1] ?? `colour ${index}`;
}

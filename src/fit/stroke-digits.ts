import { polylinePath } from "../geometry/path.ts";
import type { Path, Point } from "../geometry/types.ts";

/** Figures drawn with single lines, so that a beam can score them: no font is needed to cut. */

/** Strokes through the points of a grid two quarters of the height wide and four high: `xy xy`. */
const STROKES: ReadonlyMap<string, readonly string[]> = new Map([
  ["0", ["00 20 24 04 00"]],
  ["1", ["03 14 10"]],
  ["2", ["04 24 22 02 00 20"]],
  ["3", ["04 24 20 00", "12 22"]],
  ["4", ["04 02 22", "24 20"]],
  ["5", ["24 04 02 22 20 00"]],
  ["6", ["24 04 00 20 22 02"]],
  ["7", ["04 24 10"]],
  ["8", ["00 20 24 04 00", "02 22"]],
  ["9", ["22 02 04 24 20 00"]],
  [".", ["00 01"]],
]);

/** From one figure to the next, in quarters of the height; a figure is two wide. */
const ADVANCE = 3;

/** Open lines of a number such as `2.85`, its lower left corner at `at`. */
export function strokeDigits(text: string, at: Point, heightMm: number): Path[] {
  const quarter = heightMm / 4;
  return Array.from(text).flatMap((character, index) => {
    const left = at.x + advanceTo(text, index) * quarter;
    return (STROKES.get(character) ?? []).map((stroke) => {
      const points = stroke.split(" ").map((xy) => ({
        x: left + Number(xy.charAt(0)) * quarter,
        y: at.y + Number(xy.charAt(1)) * quarter,
      }));
      const [start = at, ...rest] = points;
      return polylinePath([start, ...rest], false);
    });
  });
}

/** mm from the left of the first figure to the right of the last. */
export function strokesWidth(text: string, heightMm: number): number {
  return ((advanceTo(text, text.length - 1) + 2) * heightMm) / 4;
}

/** A point stands where the figure before it ends, and takes half the room of one. */
function advanceTo(text: string, index: number): number {
  const points = text.slice(0, index).split(".").length - 1;
  return (index - points) * ADVANCE + (points * ADVANCE) / 2;
}

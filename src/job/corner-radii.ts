import { parseLength, trimmed } from "../units.ts";
import type { CellKind } from "./cells.ts";
import { length } from "./cells.ts";
import { lengthWords } from "./length-words.ts";
import { MOST } from "./limits.ts";
import type { CornerRadii } from "./types.ts";

/**
 * One radius for all corners, or one for each: `12`, `12 12 0 0`. The order is that of the style
 * sheets of the web (W3C, CSS Backgrounds and Borders 3, border-radius).
 */
export const cornerRadii: CellKind<number | CornerRadii> = {
  code: length.code,
  expected: `${length.expected}, or four of them, 0 or more: ${orderText("12 12 0 0")}`,
  read: (cell) => {
    const [topLeft, topRight, bottomRight, bottomLeft] = radiiOf(cell) ?? [];
    if (topLeft === undefined) return null;
    return topRight === undefined || bottomRight === undefined || bottomLeft === undefined
      ? length.read(cell)
      : { topLeft, topRight, bottomRight, bottomLeft };
  },
  mend: (cell) =>
    lengthWords(cell).length > 1 || /[\d\s],\s*\d.*,/.test(cell)
      ? "Write one radius, or four with blanks between them and decimal points"
      : length.mend(cell),
  pointed: (cell) => {
    const decimal = cell.replace(/(\d),(?=\d)/g, "$1.");
    return radiiOf(decimal) === null ? null : decimal;
  },
};

/** `12 12 0 0`, as they are written. */
export function radiiText({ topLeft, topRight, bottomRight, bottomLeft }: CornerRadii): string {
  return [topLeft, topRight, bottomRight, bottomLeft].map((mm) => trimmed(mm, 4)).join(" ");
}

/** A side that is too short for the radii of its two corners. */
export interface CrowdedSide {
  /** `at the top`. */
  readonly where: string;
  readonly name: "width" | "height";
  readonly mm: number;
  readonly radii: readonly [number, number];
}

/** The first such side of a rectangle; null when all have room. */
export function crowdedSide(
  { topLeft, topRight, bottomRight, bottomLeft }: CornerRadii,
  widthMm: number,
  heightMm: number,
): CrowdedSide | null {
  const [width, height] = [
    { name: "width", mm: widthMm } as const,
    { name: "height", mm: heightMm } as const,
  ];
  const sides: readonly CrowdedSide[] = [
    { where: "at the top", ...width, radii: [topLeft, topRight] },
    { where: "on the right", ...height, radii: [topRight, bottomRight] },
    { where: "at the bottom", ...width, radii: [bottomLeft, bottomRight] },
    { where: "on the left", ...height, radii: [topLeft, bottomLeft] },
  ];
  return sides.find(({ mm, radii: [one, other] }) => one + other > mm + DUST_MM) ?? null;
}

/** What sums of inches leave. */
const DUST_MM = 1e-6;

function orderText(example: string): string {
  return `${example} for top left, top right, bottom right, bottom left`;
}

/** Null where it is neither one nor four lengths. */
function radiiOf(cell: string): readonly number[] | null {
  const radii = lengthWords(cell).map(parseLength);
  const isSound = radii.every((mm) => mm !== null && mm <= MOST.sizeMm);
  return isSound && (radii.length === 1 || radii.length === 4)
    ? radii.filter((mm) => mm !== null)
    : null;
}

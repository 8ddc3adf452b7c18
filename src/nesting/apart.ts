import { regionArea, ringBounds } from "../geometry/ring.ts";
import type { NestPiece, SheetChoice } from "./types.ts";

/** How a rectangle may lie: its sides along x and y, mm. */
export type Sides = readonly (readonly [number, number])[];

/** Null for what is no rectangle as drawn, or may be turned by any angle. */
export function sidesOf({ region, turn }: NestPiece): Sides | null {
  if (turn === "any" || region.holes.length > 0 || region.outer.length !== CORNERS) return null;
  const { minX, minY, maxX, maxY } = ringBounds(region.outer);
  const [width, height] = [maxX - minX, maxY - minY];
  if (regionArea(region) < width * height * (1 - ROUNDING)) return null;
  return turn === "quarter"
    ? [
        [width, height],
        [height, width],
      ]
    : [[width, height]];
}

const CORNERS = 4;
const ROUNDING = 1e-9;
/** Sides give way by this, mm, so that no two are called apart that the judge lets lie together. */
const SLACK_MM = 0.01;

/**
 * False only where it is certain that no two of these lie on one sheet: rectangles that keep a gap lie
 * beside each other, above each other, or across a corner, whose two distances make up the gap.
 */
export function mayShare(a: Sides, b: Sides, choice: SheetChoice): boolean {
  const { widthMm, heightMm, marginMm, gapMm } = choice;
  const gap = gapMm - SLACK_MM;
  const within = SLACK_MM - 2 * marginMm;
  return a.some(([wide, high]) =>
    b.some(([otherWide, otherHigh]) => {
      const across = widthMm + within - wide - otherWide;
      const up = (heightMm ?? Infinity) + within - high - otherHigh;
      if (Math.max(across, up) < 0) return false;
      return (
        Math.max(across, up) >= gap || (Math.min(across, up) >= 0 && Math.hypot(across, up) >= gap)
      );
    }),
  );
}

/** So many copies of a rectangle. */
export interface Rectangles {
  readonly sides: Sides;
  readonly copies: number;
}

/** Largest first, those of which no two share a sheet of this size, as far as a greedy look finds them. */
export function allApart<R extends Rectangles>(
  rectangles: readonly R[],
  choice: SheetChoice,
): readonly R[] {
  const shortest = ({ sides }: R): number => Math.min(...sides[0]!);
  const chosen: R[] = [];
  for (const next of rectangles.toSorted((a, b) => shortest(b) - shortest(a))) {
    if (chosen.some(({ sides }) => mayShare(sides, next.sides, choice))) continue;
    const alone = mayShare(next.sides, next.sides, choice);
    chosen.push(alone ? { ...next, copies: 1 } : next);
  }
  return chosen;
}

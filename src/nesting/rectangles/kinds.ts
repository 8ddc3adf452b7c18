import { sideInUnits, type Rectangle } from "./sizes.ts";

/** Rectangles that the search need not tell apart. */
export interface Kind {
  /** Without the gap, in units; of one that may be turned the longer side. */
  readonly width: number;
  readonly height: number;
  readonly turnable: boolean;
  readonly copies: number;
  readonly members: readonly Member[];
}

interface Member {
  /** Number of the rectangle. */
  readonly rectangle: number;
  readonly copies: number;
  /** Its first way is not the kind's but a quarter turn from it. */
  readonly across: boolean;
}

/** By falling area, then by sides: the same whatever the order of the rectangles. */
export function kindsOf(rectangles: readonly Rectangle[]): readonly Kind[] {
  const kinds = new Map<string, Kind>();
  for (const [index, { widthMm, heightMm, ways, copies }] of rectangles.entries()) {
    const [own, other] = [sideInUnits(widthMm), sideInUnits(heightMm)];
    const turnable = ways.length > 1;
    const across = turnable && other > own;
    const [width, height] = across ? [other, own] : [own, other];
    const key = `${width} ${height} ${turnable}`;
    const kind = kinds.get(key) ?? { width, height, turnable, copies: 0, members: [] };
    const members = [...kind.members, { rectangle: index, copies, across }];
    kinds.set(key, { ...kind, copies: kind.copies + copies, members });
  }
  return [...kinds.values()].sort(
    (a, b) =>
      b.width * b.height - a.width * a.height ||
      b.width - a.width ||
      Number(a.turnable) - Number(b.turnable),
  );
}

/** Sides of all kinds, grown by a gap: flat, for the inner loops. */
export interface Sides {
  readonly widths: Float64Array;
  readonly heights: Float64Array;
  /** The shortest of all. */
  readonly least: number;
}

export function sidesOf(kinds: readonly Kind[], gap: number): Sides {
  const widths = Float64Array.from(kinds, ({ width }) => width + gap);
  const heights = Float64Array.from(kinds, ({ height }) => height + gap);
  const least = Math.min(...kinds.map(({ width, height }) => Math.min(width, height) + gap));
  return { widths, heights, least };
}

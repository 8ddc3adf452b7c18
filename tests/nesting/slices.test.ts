import { describe, expect, it } from "vitest";
import type { Point } from "../../src/geometry/types.ts";
import { stepFor, type Variant } from "../../src/nesting/bed.ts";
import { judge } from "../../src/nesting/check.ts";
import { NoFitCache } from "../../src/nesting/no-fit.ts";
import type { Placement } from "../../src/nesting/types.ts";
import { bedFor, piece, shapesFor, sheet } from "./pieces.ts";

/** Cuts through no-fit regions of intricate pieces, held against the judge that knows nothing of them. */

function star(points: number, long: number, short: number): readonly Point[] {
  return Array.from({ length: 2 * points }, (_, index) => {
    const [radius, angle] = [index % 2 === 0 ? long : short, (Math.PI * index) / points + 0.1];
    return { x: radius * Math.cos(angle), y: radius * Math.sin(angle) };
  });
}

const pieces = [
  piece("star", star(7, 40, 12), { turn: "half" }),
  piece("burr", star(9, 25, 20), { turn: "fixed" }),
];
const choice = sheet(400, 400, { marginMm: 5, gapMm: 3 });
const shapes = shapesFor(...pieces);
const stepMm = stepFor(shapes, [choice]);
const { singles } = bedFor(choice, shapes);
const [stars, burrs] = singles.map((ways) => ways.map(({ members }) => members[0]!.variant));
const [starUp, starDown] = stars!;
const [burr] = burrs!;

describe("slices of no-fit regions", () => {
  it("are for pieces of many parts, steps apart", () => {
    expect(shapes.map(({ parts }) => parts.length > 4)).toEqual([true, true]);
    expect(singles.flat().every(({ intricate }) => intricate)).toBe(true);
    expect(stepMm).toBeLessThanOrEqual(1);
  });

  it("end where the two pieces keep the gap by the judge, and not before", () => {
    const counted = { free: 0, taken: 0 };
    for (const [placed, moving] of [
      [starUp!, starDown!],
      [starDown!, burr!],
    ] as const) {
      const { first, starts, spans } = new NoFitCache().slicesOf(placed, moving);
      for (let cut = 0; cut < starts.length - 1; cut += 5) {
        const x = moving.room.minX - placed.room.minX + (first + cut) * stepMm;
        for (let span = starts[cut]!; span < starts[cut + 1]!; span++) {
          const [from, to] = [spans[2 * span]!, spans[2 * span + 1]!];
          for (const y of [from, to]) expect(tooClose(placed, moving, x, y)).toBe(false);
          counted.free += 2;
          counted.taken += tooClose(placed, moving, x, (from + to) / 2) ? 1 : 0;
        }
      }
    }
    expect(counted.free).toBeGreaterThan(100);
    // The search's outlines are grown a little: a slim stretch may be free in truth.
    expect(counted.taken).toBeGreaterThan(0.45 * counted.free);
  });

  it("are the same with the roles exchanged, turned through the origin", () => {
    const cache = new NoFitCache();
    cache.slicesOf(starUp!, burr!);
    const exchanged = cache.slicesOf(burr!, starUp!);
    const fresh = new NoFitCache().slicesOf(burr!, starUp!);
    expect(exchanged.first).toBe(fresh.first);
    expect(exchanged.starts).toEqual(fresh.starts);
    expect(fresh.spans.length).toBeGreaterThan(50);
    for (const [index, value] of fresh.spans.entries())
      expect(exchanged.spans[index]).toBeCloseTo(value, 9);
  });
});

/** By differences of positions, in the middle of a sheet that is wide enough. */
function tooClose(placed: Variant, moving: Variant, x: number, y: number): boolean {
  const placements = [lying(placed, 0, 0), lying(moving, x, y)];
  const on = { sheet: choice.id, widthMm: 400, heightMm: 400, placements };
  return judge(pieces, [choice], [on], []).some(({ kind }) => kind === "too close");
}

function lying(variant: Variant, x: number, y: number): Placement {
  return {
    part: stars!.includes(variant) ? "star" : "burr",
    copy: 1,
    turnDeg: variant.turnDeg,
    mirrored: variant.mirrored,
    xMm: 200 + x,
    yMm: 200 + y,
  };
}

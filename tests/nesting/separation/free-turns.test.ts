import { describe, expect, it } from "vitest";
import { poseRing } from "../../../src/geometry/pose.ts";
import type { Ring } from "../../../src/geometry/types.ts";
import type { Laid } from "../../../src/nesting/filled.ts";
import { randomFrom } from "../../../src/random.ts";
import { freeTurns } from "../../../src/nesting/separation/free-turns.ts";
import { turnedAs } from "../../../src/nesting/turns.ts";
import { piece, ring, shapesFor } from "../pieces.ts";

const fin = ring([0, 0], [40, 7], [9, 31]);
const kite = ring([0, 0], [30, 11], [44, 41], [5, 30]);

function laid(shape: number, outer: Ring, turnDeg: number, mirrored: boolean): Laid {
  return { shape, variant: turnedAs(outer, turnDeg, mirrored), x: 0, y: 0 };
}

/** Directions of edges, degrees from 0 to 180: along each other both ways. */
function directions(outer: Ring, { turnDeg, mirrored }: Laid["variant"]): readonly number[] {
  const lying = poseRing({ mirrored, turnDeg, xMm: 0, yMm: 0 }, outer);
  return lying.map((a, index) => {
    const b = lying[(index + 1) % lying.length]!;
    return ((Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI + 360) % 180;
  });
}

function areAlong(a: number, b: number): boolean {
  const apart = Math.abs(a - b) % 180;
  return Math.min(apart, 180 - apart) < 1e-6;
}

describe("free angles", () => {
  it("bring edges along those of copies or of the sheet, but for some", () => {
    const shapes = shapesFor(
      piece("fin", fin, { turn: "any", flip: true }),
      piece("kite", kite, { turn: "any" }),
    );
    const [finNumber, kiteNumber] = [fin, kite].map((outer) =>
      shapes.findIndex(({ piece: { region } }) => region.outer.length === outer.length),
    );
    const copies = [laid(finNumber!, fin, 33, true), laid(kiteNumber!, kite, 12, false)];
    const there = [
      ...directions(fin, copies[0]!.variant),
      ...directions(kite, copies[1]!.variant),
      0,
      90,
    ];
    const random = randomFrom(3);
    const turns = Array.from({ length: 20 }, () =>
      freeTurns(shapes[finNumber!]!, shapes, copies, 8, random),
    ).flat();
    const along = turns.filter((turn) =>
      directions(fin, turn).some((own) => there.some((other) => areAlong(own, other))),
    );
    expect(turns.length).toBeGreaterThan(100);
    expect(along.length / turns.length).toBeGreaterThan(0.6);
    expect(along.length).toBeLessThan(turns.length);
    expect(new Set(turns.map(({ mirrored }) => mirrored)).size).toBe(2);
    expect(turns.every(({ turnDeg }) => turnDeg >= 0 && turnDeg < 360)).toBe(true);
  });

  it("are for shapes that may lie at any angle, and for no disc", () => {
    const random = randomFrom(1);
    const round = Array.from({ length: 64 }, (_, corner) => {
      const angle = (Math.PI * corner) / 32;
      return [10 * Math.cos(angle), 10 * Math.sin(angle)] as const;
    });
    const disc = piece("disc", ring(...round), { turn: "any", flatteningMm: 0.02 });
    for (const one of [piece("fin", fin), disc]) {
      const [shape] = shapesFor(one);
      const copies = [laid(0, one.region.outer, 0, false)];
      expect(freeTurns(shape!, [shape!], copies, 4, random)).toEqual([]);
    }
  });
});

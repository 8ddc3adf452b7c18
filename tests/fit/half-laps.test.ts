import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lapFaults } from "../../src/fit/half-laps.ts";
import type { HalfLapPlate } from "../../src/fit/half-laps.ts";

function plate(part: string, sizes: Partial<HalfLapPlate>): HalfLapPlate {
  const usual = { heightMm: 80, slotDepthMm: 40.1, slotWidthMm: 3, thicknessMm: 3, copies: 1 };
  return { part, slotSide: "top", ...usual, ...sizes };
}

function tenths(mm: number): number {
  return Math.round(mm * 10);
}

function tenthsBetween(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: min * 10, max: max * 10 }).map((value) => value / 10);
}

/** By how much each pair is out. */
function out(one: number, other: number): number[] {
  const below = plate("a", { slotDepthMm: one });
  const above = plate("b", { slotDepthMm: other, slotSide: "bottom" });
  return lapFaults([below, above]).map(({ outMm }) => tenths(outMm) / 10);
}

function pairs(...plates: readonly HalfLapPlate[]): string[][] {
  return lapFaults(plates).map((fault) => fault.plates.map(({ part }) => part));
}

/**
 * Where the plates cross, each is solid along a stretch of tenths of a mm. The one from above is let
 * down until it stands on the table or on the other: how high its foot is, and what stays open.
 */
function letDown(below: HalfLapPlate, above: HalfLapPlate): { foot: number; open: number } {
  const solid = new Set<number>();
  for (let at = 0; at < tenths(below.heightMm - below.slotDepthMm); at++) solid.add(at);
  const lowest = tenths(above.slotDepthMm);
  const isFree = (foot: number): boolean => {
    for (let at = lowest; at < tenths(above.heightMm); at++) if (solid.has(foot + at)) return false;
    return true;
  };
  let foot = tenths(below.heightMm);
  while (foot > 0 && isFree(foot - 1)) foot--;
  return { foot: foot / 10, open: Math.max(0, foot + lowest - solid.size) / 10 };
}

describe("half laps", () => {
  it("are right where plates let down into each other end flush, and nowhere else", () => {
    const judged = { right: 0, out: 0, open: 0 };
    fc.assert(
      fc.property(
        tenthsBetween(20, 40),
        fc.oneof(fc.constant(0), tenthsBetween(0, 15)),
        tenthsBetween(5, 19),
        fc.oneof(tenthsBetween(-3, 3), tenthsBetween(-0.3, 1.3)),
        (height, less, depth, error) => {
          const below = plate("below", { heightMm: height, slotDepthMm: depth });
          const slotDepthMm = tenths(height - depth + error) / 10;
          const above = plate("above", {
            heightMm: tenths(height - less) / 10,
            slotDepthMm,
            slotSide: "bottom",
          });
          fc.pre(slotDepthMm > 0 && slotDepthMm < above.heightMm);
          const { foot, open } = letDown(below, above);
          const top = foot + above.heightMm - height;
          const isFlush = foot < 0.15 && open < 1.05;
          const isFlushAbove = open < 0.05 && foot > 0 && top > -1.05 && top < 0.15;
          const faults = lapFaults([below, above]);
          expect(faults).toHaveLength(isFlush || isFlushAbove ? 0 : 1);
          if (faults.length === 0) judged.right++;
          else if ((faults[0]?.outMm ?? 0) > 0) judged.out++;
          else judged.open++;
        },
      ),
      { numRuns: 1000, seed: 5 },
    );
    for (const count of Object.values(judged)) expect(count).toBeGreaterThan(50);
  });

  it("say by how much a plate stands out, and how much stays open", () => {
    expect(out(40.1, 40.1)).toEqual([]);
    expect(out(40, 40)).toEqual([]);
    expect(out(40, 30)).toEqual([10]);
    expect(out(50, 45)).toEqual([-15]);
  });

  it("are paired with what their slots take and what takes them", () => {
    const short = plate("short", { slotDepthMm: 30, slotSide: "bottom" });
    // The other side before the same, one that is right before one that is not.
    expect(pairs(plate("a", {}), plate("b", {}), short)).toEqual([
      ["a", "short"],
      ["b", "short"],
    ]);
    expect(pairs(plate("a", {}), plate("b", { slotSide: "bottom" }))).toEqual([]);
    expect(pairs(plate("a", { slotDepthMm: 30 }), plate("b", {}))).toEqual([["a", "b"]]);
    // A slot for another sheet, and a plate that is alone.
    expect(pairs(plate("a", { slotWidthMm: 6 }), short)).toEqual([]);
    expect(pairs(short)).toEqual([]);
    expect(pairs({ ...short, copies: 2 })).toEqual([["short", "short"]]);
  });
});

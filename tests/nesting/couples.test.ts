import { describe, expect, it } from "vitest";
import type { Bed } from "../../src/nesting/bed.ts";
import { judge } from "../../src/nesting/check.ts";
import type { NestPiece } from "../../src/nesting/types.ts";
import { bedFor, box, piece, ring, shapesFor, sheet } from "./pieces.ts";

const choice = sheet(900, 900, { marginMm: 5, gapMm: 2 });

function couplesOn(...pieces: readonly NestPiece[]): Bed["couples"] {
  return bedFor(choice, shapesFor(...pieces)).couples;
}

const triangle = ring([0, 0], [90, 0], [0, 70]);
/** The same with a long side like a saw: of many parts, so it keeps to whole steps. */
const saw = ring(
  [0, 0],
  [90, 0],
  [74, 8],
  [76, 14],
  [55, 18],
  [58, 27],
  [35, 32],
  [40, 41],
  [16, 46],
  [20, 57],
  [0, 70],
);

describe("couples of copies", () => {
  it("are not made of what fills its box already, of few copies, or without half turns", () => {
    const many = { copies: 20 };
    expect(
      couplesOn(
        piece("card", box(85, 55), many),
        piece("few", triangle, { copies: 7 }),
        piece("fixed", triangle, { ...many, turn: "fixed" }),
        piece("triangle", triangle, many),
      ).map(({ length }) => length > 0),
    ).toEqual([false, false, false, true]);
  });

  it("come close to the rectangle of two right triangles (derived)", () => {
    const [[best] = []] = couplesOn(piece("triangle", triangle, { copies: 20 }));
    const { minX, minY, maxX, maxY } = best!.box;
    // Moved apart along one side only: 2 mm over the sine of the angle there. The round of the gap
    // is a polygon, up to a fiftieth too far out.
    const flat = (90 + (2 * Math.hypot(90, 70)) / 70) * 70;
    const tall = 90 * (70 + (2 * Math.hypot(90, 70)) / 90);
    const taken = (maxX - minX) * (maxY - minY);
    expect(taken).toBeGreaterThan(Math.min(flat, tall) - 1e-6);
    expect(taken).toBeLessThan(1.01 * Math.max(flat, tall));
  });

  it("keep the gap by the judge, and whole steps where they are intricate", () => {
    const pieces = [
      piece("triangle", triangle, { copies: 2, turn: "any", flip: true }),
      piece("saw", saw, { copies: 2, turn: "any", flip: true }),
    ];
    const couples = couplesOn(...pieces.map((each) => ({ ...each, copies: 20 })));
    let judged = 0;
    for (const [index, { part }] of pieces.entries()) {
      for (const { members, room, intricate, stepMm } of couples[index]!) {
        const placements = members.map(({ variant, x, y }, copy) => ({
          part,
          copy: copy + 1,
          turnDeg: variant.turnDeg,
          mirrored: variant.mirrored,
          xMm: room.minX + x,
          yMm: room.minY + y,
        }));
        const on = { sheet: choice.id, widthMm: 900, heightMm: 900, placements };
        expect(judge([pieces[index]!], [choice], [on], [])).toEqual([]);
        expect(intricate).toBe(part === "saw");
        for (const { variant, x, at } of intricate ? members : [])
          expect(room.minX + x).toBeCloseTo(variant.room.minX + at * stepMm, 9);
        judged++;
      }
    }
    expect(judged).toBeGreaterThan(4);
    expect(couples[1]!.length).toBeGreaterThan(0);
  });
});

import { describe, expect, it } from "vitest";
import { dxf, entity, line, readPart } from "./dxf-text.ts";

describe("a drawing of 5,000 entities", () => {
  it("is read in a second or two: a sieve of holes drawn as loose lines and arcs", () => {
    const holes: string[] = [];
    for (let row = 0; row < 35; row++)
      for (let column = 0; column < 36; column++) holes.push(slot(10 * column + 10, 10 * row + 10));
    const frame =
      line(0, 0, 390, 0) + line(390, 370, 390, 0) + line(0, 370, 390, 370) + line(0, 0, 0, 370);
    // Every fourth piece of each slot at a time, so that neighbours in the file do not meet.
    const pieces = [0, 1, 2, 3].flatMap((piece) =>
      holes.map((each) => each.split("|")[piece] ?? ""),
    );
    const text = dxf(frame + pieces.join(""));
    const { holes: read, areaMm2 } = readPart(text);
    expect(read).toHaveLength(1260);
    expect(areaMm2).toBeCloseTo(390 * 370 - 1260 * (8 + 4 * Math.PI), 4);
  });
});

/** 2 mm between centres, 4 wide, in four pieces. */
function slot(x: number, y: number): string {
  return [
    line(x, y - 2, x + 2, y - 2),
    entity("ARC", 10, x + 2, 20, y, 40, 2, 50, 270, 51, 90),
    line(x, y + 2, x + 2, y + 2),
    entity("ARC", 10, x, 20, y, 40, 2, 50, 90, 51, 270),
  ].join("|");
}

import { describe, expect, it } from "vitest";
import { readPathData } from "../../../src/drawing/svg/path-data.ts";
import { pathLength } from "../../../src/geometry/path.ts";
import { page, readOne } from "../reading.ts";

describe("large drawings", () => {
  it("with one command of 60,000 points are read within the time limit", () => {
    const points = Array.from({ length: 60_000 }, (_, i) => {
      const turn = (2 * Math.PI * i) / 60_000;
      return `${(100 + 49 * Math.cos(turn)).toFixed(4)},${(50 + 49 * Math.sin(turn)).toFixed(4)}`;
    });
    const { cutLengthMm } = readOne(page(`<path d="M${points.join(" ")}z"/>`));
    expect(cutLengthMm).toBeCloseTo(98 * Math.PI, 0);
  });

  it("say the same in long runs of a command as with its letter written each time", () => {
    const numbers = [3, -1.5, "1e-1", ".5", "-.25", "+2"];
    for (const [letter, count] of Object.entries({
      l: 2,
      h: 1,
      v: 1,
      c: 6,
      s: 4,
      q: 4,
      t: 2,
      m: 2,
    })) {
      const groups = Array.from({ length: 2600 }, (_, group) =>
        Array.from({ length: count }, (_, i) => numbers[(group + i) % numbers.length]).join(" "),
      );
      const next = letter === "m" ? "l" : letter;
      const run = readPathData(`M1 1${letter}${groups.join(",")}`);
      const apart = readPathData(`M1 1${letter}${groups.join(next)}`);
      expect(run).toEqual(apart);
      const upper = readPathData(`M1 1${letter.toUpperCase()}${groups.join(" ")}z`);
      expect("paths" in upper && upper.paths.length).toBe(1);
    }
  });

  it("stay malformed in long runs", () => {
    const run = "1 2 ".repeat(2000);
    for (const d of [`M0 0L${run}3`, `M0 0L${run},,3 4`, `M0 0L${run}x`, `L${run}`])
      expect(readPathData(d)).toHaveProperty("fault");
  });

  it("of arcs with packed flags are read as they stand", () => {
    const read = readPathData(`M0 0a${"5 5 0 0110 0 ".repeat(500)}`);
    const [path] = "paths" in read ? read.paths : [];
    expect(path?.segments).toHaveLength(500);
    expect(path && pathLength(path)).toBeCloseTo(500 * 5 * Math.PI, 6);
  });
});

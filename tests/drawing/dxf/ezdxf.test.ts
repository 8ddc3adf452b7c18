import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { dxfLines, readDxf } from "../../../src/drawing/dxf/drawing.ts";
import { pathArea, pathBounds, pathEnd, pathLength } from "../../../src/geometry/path.ts";
import type { Point } from "../../../src/geometry/types.ts";

/** A drawing written and measured by ezdxf 0.18.1: see ezdxf/README.md. */

function fixture(name: string): string {
  return readFileSync(new URL(`ezdxf/${name}`, import.meta.url), "utf8");
}

const ROWS = parse<Record<string, string>>(fixture("measures.csv"), { columns: true });

function measure(index: number, name: string): number {
  return Number(ROWS[index]?.[name]);
}

const drawing = readDxf("entities.dxf", fixture("entities.dxf"));
const lines =
  drawing.value === null
    ? []
    : (dxfLines(drawing.value, null, [], { file: "parts.csv", line: 2, column: null }).value
        ?.lines ?? []);

describe("a drawing as ezdxf measures it", () => {
  it("has the same entities of all kinds, and no problems", () => {
    expect(drawing.problems).toEqual([]);
    expect(lines).toHaveLength(ROWS.length);
    const kinds = ["ARC", "CIRCLE", "ELLIPSE", "LINE", "LWPOLYLINE", "POLYLINE", "SPLINE"];
    expect(new Set(ROWS.map(({ entity }) => entity))).toEqual(new Set(kinds));
  });

  it("has their lengths and boxes, inserted or not", () => {
    let longest = 0;
    for (const [index, { path }] of lines.entries()) {
      longest = Math.max(longest, Math.abs(pathLength(path) / measure(index, "length") - 1));
      // Splines keep within 0.001 mm of their definition, chords of ezdxf within less.
      const { minX, minY, maxX, maxY } = pathBounds(path);
      for (const [value, name] of [
        [minX, "min_x"],
        [maxX, "max_x"],
        [minY, "min_y"],
        [maxY, "max_y"],
      ] as const)
        expect(Math.abs(value - measure(index, name))).toBeLessThan(0.001);
    }
    expect(longest).toBeLessThan(1e-5);
  });

  it("has their areas where they are closed", () => {
    const closed = [...lines.entries()].filter(([, { path }]) => path.closed);
    expect(closed.length).toBeGreaterThan(8);
    for (const [index, { path }] of closed) {
      const apart = Math.abs(Math.abs(pathArea(path)) - measure(index, "area"));
      expect(apart).toBeLessThan(0.001 * measure(index, "length"));
    }
  });

  it("has their ends where they are open, whichever comes first", () => {
    const open = [...lines.entries()].filter(([, { path }]) => !path.closed);
    expect(open.length).toBeGreaterThan(30);
    for (const [index, { path }] of open) {
      const [a, b] = [path.start, pathEnd(path)];
      const at = (name: "start" | "end", { x, y }: Point): number =>
        Math.hypot(x - measure(index, `${name}_x`), y - measure(index, `${name}_y`));
      const apart = Math.min(
        Math.max(at("start", a), at("end", b)),
        Math.max(at("start", b), at("end", a)),
      );
      expect(apart).toBeLessThan(1e-5);
    }
  });
});

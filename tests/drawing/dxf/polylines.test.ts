import { describe, expect, it } from "vitest";
import { dxf, entity, groups, readDxfText, readPart } from "./dxf-text.ts";

/** DXF reference, LWPOLYLINE: a bulge is the tangent of a quarter of the sweep, counter-clockwise positive. */

/** A chord of 40 mm along x with a bulge, closed over a box of 40 x 30 mm below it. */
function bulged(bulge: number): string {
  return entity(
    "LWPOLYLINE",
    [90, 4, 70, 1, 10, 40, 20, 0, 42, bulge, 10, 0, 20, 0],
    [10, 0, 20, -30, 10, 40, 20, -30],
  );
}

function vertex(x: number, y: number, bulge = 0, flags = 0): string {
  return groups(0, "VERTEX", 8, "0", 10, x, 20, y, 30, 0, 42, bulge, 70, flags);
}

function heavy(bulge: number): string {
  return (
    entity("POLYLINE", 66, 1, 10, 0, 20, 0, 30, 0, 70, 1) +
    vertex(40, 0, bulge) +
    vertex(0, 0) +
    vertex(0, -30) +
    vertex(40, -30) +
    groups(0, "SEQEND", 8, "0")
  );
}

describe("bulges", () => {
  for (const [name, draw] of [
    ["LWPOLYLINE", bulged],
    ["POLYLINE", heavy],
  ] as const)
    it(`of a ${name} rise as the sagitta formula says, and bend to the right side`, () => {
      for (const bulge of [0.1, 0.25, Math.SQRT2 - 1, 0.6, 1, 1.7]) {
        const rise = (bulge * 40) / 2;
        // r = c^2 / 8s + s / 2; the segment's area is r^2 (x - sin x) / 2 over the sweep x.
        const radius = (40 * 40) / (8 * rise) + rise / 2;
        const sweep = 4 * Math.atan(bulge);
        const cap = (radius ** 2 * (sweep - Math.sin(sweep))) / 2;
        const out = readPart(dxf(draw(bulge)));
        // The side runs to the left along the top, counter-clockwise: a positive bulge goes over it.
        expect(out.areaMm2).toBeCloseTo(1200 + cap, 8);
        expect(out.cutLengthMm).toBeCloseTo(100 + radius * sweep, 8);
        if (bulge >= 1) continue;
        const bitten = readPart(dxf(draw(-bulge)));
        expect(bitten.areaMm2).toBeCloseTo(1200 - cap, 8);
        expect(bitten.cutLengthMm).toBeCloseTo(out.cutLengthMm, 8);
      }
    });

  it("of two halves make a circle", () => {
    const ring = entity("LWPOLYLINE", [90, 2, 70, 1, 10, 0, 20, 0, 42, 1, 10, 20, 20, 0, 42, 1]);
    const { areaMm2, outline } = readPart(dxf(ring));
    expect(areaMm2).toBeCloseTo(100 * Math.PI, 9);
    expect(outline.segments.map(({ kind }) => kind)).toEqual(["arc", "arc"]);
  });

  it("of no height are straight, and of sides without length are nothing", () => {
    const text = entity(
      "LWPOLYLINE",
      [90, 4, 70, 1, 10, 0, 20, 0, 42, 1e-12, 10, 20, 20, 0],
      [10, 20, 20, 0, 42, 0.5, 10, 20, 20, 10],
    );
    const flat = readPart(dxf(text.replace("42\n0.5\n", "")));
    expect(flat.outline.segments.every(({ kind }) => kind === "line")).toBe(true);
    expect(flat.areaMm2).toBeCloseTo(100, 9);
  });
});

describe("older polylines", () => {
  it("made to follow a spline are taken along the spline, not along its frame", () => {
    const text =
      entity("POLYLINE", 66, 1, 70, 1 + 4) +
      vertex(0, 0, 0, 16) +
      vertex(90, 0, 0, 16) +
      vertex(0, 0, 0, 8) +
      vertex(30, 0, 0, 8) +
      vertex(30, 20, 0, 8) +
      vertex(0, 20, 0, 8) +
      groups(0, "SEQEND");
    expect(readPart(dxf(text)).areaMm2).toBeCloseTo(600, 9);
  });
});

describe("polylines with a width", () => {
  it("are worked along their middle, with a warning", () => {
    const text = bulged(0).replace("70\n1\n", "70\n1\n43\n2\n");
    const { value, problems } = readDxfText(dxf(text));
    expect(value?.[0]?.areaMm2).toBeCloseTo(1200, 9);
    expect(problems).toMatchObject([{ code: "dxf-width", severity: "warning" }]);
  });
});

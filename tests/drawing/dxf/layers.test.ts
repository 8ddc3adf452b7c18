import { describe, expect, it } from "vitest";
import type { LineRule } from "../../../src/job/types.ts";
import { rule } from "../reading.ts";
import {
  block,
  dxf,
  entity,
  groups,
  layer,
  layerTable,
  line,
  MM,
  problemOf,
  readDxfText,
  readPart,
  rectangle,
} from "./dxf-text.ts";

/** A plate with a hole, all of it at the height z. */
function raised(z: number): string {
  return (
    rectangle(0, 0, 20, 10).replace("70\n1\n", `70\n1\n38\n${z}\n`) +
    entity("CIRCLE", 10, 5, 20, 5, 30, z, 40, 2)
  );
}

/** A copy of block B on a layer. */
function put(on: string): string {
  return entity("INSERT", 8, on, 2, "B", 10, 0, 20, 0);
}

function inUnits(...header: readonly (string | number)[]): string {
  return dxf(rectangle(0, 0, 2, 3), { header: groups(...header) });
}

describe("layers", () => {
  const PLATES = rectangle(0, 0, 10, 20, "Plate") + rectangle(50, 0, 30, 20, "Cap");

  it("are taken alone when the parts list names one, whatever its case", () => {
    expect(readPart(dxf(PLATES), { layer: "Plate" }).areaMm2).toBeCloseTo(200, 9);
    expect(readPart(dxf(PLATES), { layer: "CAP" }).areaMm2).toBeCloseTo(600, 9);
    const tables = layerTable(layer("Plate"), layer("Cap"));
    expect(readPart(dxf(PLATES, { tables }), { layer: "cap" }).place).toMatchObject({
      file: "a.dxf",
      column: "layer Cap",
    });
  });

  it("that are not there are answered with the name that may be meant", () => {
    expect(problemOf(dxf(PLATES), { layer: "Palte" })).toMatchObject({
      code: "dxf-layer-unknown",
      file: "parts.csv",
      column: "drawing",
      mend: 'Write "Plate" if that is meant, or correct the name of the layer',
    });
  });

  it("may be counted by outline as well, where no layer has that name", () => {
    expect(readPart(dxf(PLATES), { layer: "outline-2" }).areaMm2).toBeCloseTo(600, 9);
    expect(problemOf(dxf(PLATES))).toMatchObject({ code: "outline-several" });
    const named = rectangle(0, 0, 10, 20, "outline-2") + rectangle(50, 0, 30, 20, "Cap");
    expect(readPart(dxf(named), { layer: "outline-2" }).areaMm2).toBeCloseTo(200, 9);
  });

  it("that are off, frozen or not plotted are left out and said so", () => {
    const shown = rectangle(0, 0, 40, 40, "CUT");
    const tables = layerTable(
      layer("CUT"),
      layer("OFF", -3),
      layer("ICE", 3, 1),
      layer("HELP", 3, 0, 0),
    );
    for (const [name, why] of [
      ["OFF", "off"],
      ["ICE", "frozen"],
      ["HELP", "not plotted"],
    ] as const) {
      const text = dxf(shown + rectangle(10, 10, 5, 5, name) + line(0, 0, 9, 9, name), { tables });
      const { value, problems } = readDxfText(text);
      expect(value?.[0]?.holes).toEqual([]);
      expect(problems).toMatchObject([
        {
          code: "dxf-hidden",
          severity: "warning",
          found: `2 entities on layer ${name}, which is ${why}`,
        },
      ]);
      if (why === "not plotted") continue;
      expect(problemOf(text, { layer: name })).toMatchObject({
        code: "dxf-layer-hidden",
        found: `#${name}, a layer that is ${why}`,
      });
    }
    // Measuring points lie on a layer that is never plotted, whatever its flag says.
    const points = dxf(shown + rectangle(1, 1, 5, 5, "Defpoints"), {
      tables: layerTable(layer("CUT"), layer("Defpoints")),
    });
    expect(readDxfText(points).problems).toMatchObject([{ code: "dxf-hidden" }]);
    const helped = dxf(shown + rectangle(10, 10, 5, 5, "HELP"), { tables });
    expect(readPart(helped, { layer: "HELP" }).areaMm2).toBeCloseTo(25, 9);
  });

  it("reach into blocks: layer 0 is that of the INSERT, and a frozen INSERT is not drawn", () => {
    const blocks = block("B", rectangle(10, 10, 5, 5) + rectangle(20, 20, 3, 3, "INNER"));
    const shown = rectangle(0, 0, 40, 40, "CUT");
    const holes = (tables: string): number =>
      readPart(dxf(shown + put("OUTER"), { tables, blocks })).holes.length;
    expect(holes("")).toBe(2);
    expect(holes(layerTable(layer("OUTER", -1)))).toBe(1);
    expect(holes(layerTable(layer("INNER", -1)))).toBe(1);
    expect(holes(layerTable(layer("OUTER", 1, 1)))).toBe(0);
    expect(readPart(dxf(put("OUTER"), { blocks }), { layer: "OUTER" }).areaMm2).toBeCloseTo(25, 9);
    expect(readPart(dxf(put("OUTER"), { blocks }), { layer: "inner" }).areaMm2).toBeCloseTo(9, 9);
  });

  it("decide what is done with a line, as their colours do", () => {
    const tables = layerTable(layer("CUT", 7), layer("FOLD", 1), layer("ODD", 142));
    const lines =
      rectangle(0, 0, 40, 40, "CUT") +
      line(1, 1, 9, 9, "FOLD") +
      entity("LINE", 8, "CUT", 62, 5, 10, 1, 20, 5, 11, 3, 21, 9) +
      entity("LINE", 8, "CUT", 420, 0x123456, 10, 21, 20, 5, 11, 23, 21, 9) +
      line(30, 1, 30, 9, "ODD");
    const scores = (...rules: readonly [LineRule["by"], string][]): number =>
      readPart(dxf(lines, { tables }), {
        rules: [
          ...rules.map(([by, value]) => rule(by, value, "score")),
          // What is left of the lines must not be cut: it is open.
          rule("layer", "FOLD", "score"),
          rule("stroke", "blue", "score"),
          rule("stroke", "#123456", "score"),
          rule("stroke", "colour 142", "score"),
        ],
      }).scores.length;
    expect(scores()).toBe(4);
    const engraved = readPart(dxf(rectangle(0, 0, 40, 40) + rectangle(5, 5, 9, 9, "Engrave")), {
      rules: [rule("layer", "ENGRAVE", "engrave")],
    });
    expect(engraved.engravings).toHaveLength(1);
    expect(engraved.holes).toEqual([]);
    // Classes and ids are SVG's: the line stays a cut.
    const { problems } = readDxfText(dxf(rectangle(0, 0, 40, 40) + line(1, 1, 9, 9, "FOLD")), {
      rules: (["class", "id"] as const).map((by) => rule(by, "FOLD", "score")),
    });
    expect(problems.map(({ code, mend }) => [code, mend])).toEqual([
      ["contour-open", expect.any(String)],
      ["line-rule-idle", 'Write "layer: FOLD" if that is meant, or delete the rule'],
      ["line-rule-idle", 'Write "layer: FOLD" if that is meant, or delete the rule'],
    ]);
  });

  it("have their names read as the format writes letters that are not ASCII", () => {
    const text = dxf(rectangle(0, 0, 10, 10, "D\\U+00E9coupe"));
    expect(readPart(text, { layer: "Découpe" }).areaMm2).toBeCloseTo(100, 9);
  });
});

describe("units", () => {
  it("are those of $INSUNITS", () => {
    // DXF reference, $INSUNITS. Inch and foot: exact, international yard agreement of 1959.
    for (const [code, mm] of [
      [1, 25.4],
      [2, 304.8],
      [4, 1],
      [5, 10],
      [6, 1000],
      [14, 100],
    ] as const) {
      const { value, problems } = readDxfText(inUnits(9, "$INSUNITS", 70, code));
      // 2 x 3 mm is warned of as thin.
      expect(problems.filter(({ code }) => code !== "part-thin")).toEqual([]);
      expect(value?.[0]?.areaMm2).toBeCloseTo(6 * mm * mm, 6);
    }
  });

  it("that are not said are taken as mm, or as inches where $MEASUREMENT says so, with a warning", () => {
    for (const [header, mm] of [
      [[9, "$ACADVER", 1, "AC1009"], 1],
      [[9, "$INSUNITS", 70, 0], 1],
      [[9, "$INSUNITS", 70, 0, 9, "$MEASUREMENT", 70, 1], 1],
      [[9, "$INSUNITS", 70, 0, 9, "$MEASUREMENT", 70, 0], 25.4],
    ] as const) {
      const { value, problems } = readDxfText(inUnits(...header));
      expect(value?.[0]?.areaMm2).toBeCloseTo(6 * mm * mm, 6);
      expect(problems[0]).toMatchObject({ code: "dxf-units-missing", severity: "warning" });
      expect(problems.slice(1).every(({ code }) => code === "part-thin")).toBe(true);
    }
    const { value } = readDxfText(inUnits(9, "$INSUNITS", 70, 4, 9, "$MEASUREMENT", 70, 0));
    expect(value?.[0]?.areaMm2).toBeCloseTo(6, 9);
  });

  it("that nothing is cut in are refused", () => {
    for (const unit of [3, 20, "x", -1])
      expect(problemOf(inUnits(9, "$INSUNITS", 70, unit))).toMatchObject({
        code: "dxf-units",
        column: "$INSUNITS",
        line: 8,
      });
  });

  it("leave the drawing where it is: 0,0 is its own origin, y up", () => {
    const { outline } = readPart(
      dxf(rectangle(-7, 3, 10, 10), { header: MM.replace("70\n4", "70\n5") }),
    );
    expect(outline.start).toEqual({ x: -70, y: 30 });
  });
});

describe("what lies outside of the plane", () => {
  it("is worked as seen from above where it is level, with one warning", () => {
    const { value, problems } = readDxfText(dxf(raised(12.5)));
    expect(value?.[0]?.areaMm2).toBeCloseTo(200 - 4 * Math.PI, 9);
    expect(problems).toMatchObject([
      { code: "dxf-raised", severity: "warning", found: "2 entities at a height (z)" },
    ]);
    expect(readDxfText(dxf(raised(0.00001))).problems).toEqual([]);
  });

  it("is refused where it rises", () => {
    const rising = entity("LINE", 10, 0, 20, 0, 30, 0, 11, 5, 21, 5, 31, 3);
    expect(problemOf(dxf(raised(0) + rising))).toMatchObject({
      code: "dxf-not-flat",
      found: "a line from height (z) 0 to 3",
    });
    const tilted = entity("CIRCLE", 10, 5, 20, 5, 40, 2, 210, 0, 220, 1, 230, 0);
    expect(problemOf(dxf(rectangle(0, 0, 20, 10) + tilted)).code).toBe("dxf-extrusion");
  });
});

import {
  block,
  dxf,
  entity,
  groups,
  layer,
  layerTable,
  line,
  MM,
  rectangle,
} from "../dxf/dxf-text.ts";
import { rule } from "../reading.ts";
import type { Slip } from "./slip.ts";

const PLATE = rectangle(0, 0, 60, 40, "CUT");

const SOUND = dxf(PLATE);

function insertOf(name: string, ...more: readonly (string | number)[]): string {
  return entity("INSERT", 8, "CUT", 2, name, 10, 0, 20, 0, ...more);
}

function slip(name: string, content: Slip["content"], more: Partial<Slip> = {}): Slip {
  return { name, file: "a.dxf", content, ...more };
}

function withUnit(...unit: readonly (string | number)[]): string {
  return dxf(PLATE, { header: groups(9, "$ACADVER", 1, "AC1009", ...unit) });
}

const HIDDEN = layerTable(
  layer("CUT"),
  layer("OFF", -3),
  layer("ICE", 3, 1),
  layer("HELP", 3, 0, 0),
);

const BOMB =
  Array.from({ length: 9 }, (_, depth) =>
    block(`b${depth}`, insertOf(`b${depth + 1}`).repeat(9)),
  ).join("") + block("b9", line(0, 0, 1, 1));

const CHAIN = Array.from({ length: 99 }, (_, depth) =>
  block(`b${depth}`, insertOf(`b${depth + 1}`)),
).join("");

const SPLINE = [71, 3, 40, 0, 40, 0, 40, 0, 40, 0, 40, 1, 40, 1, 40, 1, 40, 1] as const;

const OTHERS = [
  "TEXT",
  "MTEXT",
  "HATCH",
  "DIMENSION",
  "IMAGE",
  "POINT",
  "3DFACE",
  "REGION",
  "MLINE",
  "SOLID",
  "3DSOLID",
  "LEADER",
];

/** Drawings in DXF as they go wrong. */
export const DXF_SLIPS: readonly Slip[] = [
  slip("an empty file", ""),
  slip("a binary DXF", Buffer.from("XXXXXX Binary DXF\r\n\u001a\0\0\0SECTION", "latin1")),
  slip("an SVG under the wrong name", "<svg xmlns='http://www.w3.org/2000/svg'/>\n"),
  slip("plain text", "bird\n60 x 40\n"),
  slip("a file that breaks off in an entity", SOUND.slice(0, SOUND.indexOf("\n40\n") + 1)),
  slip("a file that breaks off between sections", section0()),
  slip("a file without EOF", SOUND.replace("0\nEOF\n", "")),
  slip("a value left out", SOUND.replace("90\n4\n", "90\n")),
  slip("a group code that is none", SOUND.replace("70\n1\n", "7O\n1\n")),
  slip("nothing drawn", dxf("")),
  slip("a number that is none", dxf(PLATE + line("NaN", 0, 5, 5, "CUT"))),
  slip("a decimal comma", dxf(PLATE + entity("CIRCLE", 8, "CUT", 10, "9,5", 20, 9, 40, 2))),
  slip("a centre left out", dxf(PLATE + entity("CIRCLE", 8, "CUT", 10, 9, 40, 2))),
  slip("a negative radius", dxf(PLATE + entity("CIRCLE", 8, "CUT", 10, 9, 20, 9, 40, -2))),
  slip(
    "an ellipse without axis",
    dxf(PLATE + entity("ELLIPSE", 8, "CUT", 10, 9, 20, 9, 11, 0, 21, 0, 40, 0.5)),
  ),
  slip("fewer vertices than are said", dxf(PLATE.replace("90\n4\n", "90\n5\n"))),
  slip("a drawing far off", dxf(rectangle(1e9, 0, 60, 40))),
  slip(
    "a gap in the outline",
    dxf(line(0, 0, 60, 0) + line(60, 0, 60, 40) + line(60, 40, 0, 40) + line(0, 40, 0, 0.7)),
  ),
  slip(
    "an outline that crosses itself",
    dxf(
      entity(
        "LWPOLYLINE",
        90,
        4,
        70,
        1,
        10,
        0,
        20,
        0,
        10,
        60,
        20,
        40,
        10,
        60,
        20,
        0,
        10,
        0,
        20,
        40,
      ),
    ),
  ),
  slip("the same outline twice", dxf(PLATE + PLATE)),
  slip("two pieces as one part", dxf(PLATE + rectangle(80, 0, 20, 20, "CUT"))),
  slip("two pieces on one layer", dxf(PLATE + rectangle(80, 0, 20, 20, "CUT")), {
    cell: "a.dxf#CUT",
  }),
  slip("no unit", withUnit()),
  slip("no unit, and English measures", withUnit(9, "$MEASUREMENT", 70, 0)),
  slip("a unit that nothing is cut in", withUnit(9, "$INSUNITS", 70, 3)),
  slip("a unit that is none", withUnit(9, "$INSUNITS", 70, "mm")),
  slip("a layer a slip away", SOUND, { cell: "a.dxf#CUTT" }),
  slip("a layer that is off", dxf(PLATE + rectangle(5, 5, 9, 9, "OFF"), { tables: HIDDEN }), {
    cell: "a.dxf#OFF",
  }),
  slip(
    "layers that are off, frozen or not plotted",
    dxf(PLATE + rectangle(5, 5, 9, 9, "OFF") + line(1, 1, 2, 2, "ICE") + line(1, 1, 2, 2, "HELP"), {
      tables: HIDDEN,
    }),
  ),
  slip(
    "lines in paper space and invisible ones",
    dxf(
      PLATE +
        entity("LINE", 67, 1, 10, 0, 20, 0, 11, 9, 21, 9) +
        entity("LINE", 60, 1, 10, 0, 20, 0, 11, 9, 21, 9),
    ),
  ),
  slip(
    "everything that is no line",
    dxf(PLATE + OTHERS.map((type) => entity(type, 8, "NOTES")).join("")),
  ),
  slip(
    "a multiline, and a line that may be open for its sake",
    dxf(line(0, 0, 9, 0, "CUT") + entity("MLINE", 8, "CUT")),
  ),
  slip(
    "text on a layer that is engraved, and an open line",
    dxf(line(0, 0, 9, 0, "CUT") + entity("TEXT", 8, "MARK")),
    {
      rules: [rule("layer", "MARK", "engrave")],
    },
  ),
  slip("text on a layer that is engraved", dxf(PLATE + entity("TEXT", 8, "MARK")), {
    rules: [rule("layer", "MARK", "engrave")],
  }),
  slip("a DWG under the name of a DXF", Buffer.from("AC1027\0\0\0\u0000\u0006\u0001", "latin1")),
  slip(
    "a border of A4",
    dxf(rectangle(0, 0, 297, 210, "BORDER") + rectangle(40, 40, 160, 90, "CUT")),
  ),
  slip("a polyline with a width", dxf(PLATE.replace("70\n1\n", "70\n1\n43\n2\n"))),
  slip(
    "a polyline in space",
    dxf(
      PLATE +
        entity("POLYLINE", 8, "CUT", 66, 1, 70, 8) +
        groups(0, "VERTEX", 8, "CUT", 10, 0, 20, 0, 30, 5, 0, "SEQEND"),
    ),
  ),
  slip(
    "a line that rises",
    dxf(PLATE + entity("LINE", 8, "CUT", 10, 0, 20, 0, 30, 0, 11, 9, 21, 9, 31, 4)),
  ),
  slip("a drawing at a height", dxf(PLATE.replace("70\n1\n", "70\n1\n38\n18\n"))),
  slip(
    "a circle seen from the side",
    dxf(PLATE + entity("CIRCLE", 8, "CUT", 10, 9, 20, 9, 40, 2, 210, 1, 220, 0, 230, 0)),
  ),
  slip(
    "a spline by fit points",
    dxf(PLATE + entity("SPLINE", 8, "CUT", 70, 8, 71, 3, 11, 0, 21, 0, 11, 9, 21, 9)),
  ),
  slip(
    "a spline with knots missing",
    dxf(
      PLATE +
        entity(
          "SPLINE",
          8,
          "CUT",
          70,
          8,
          71,
          3,
          40,
          0,
          40,
          1,
          10,
          0,
          20,
          0,
          10,
          1,
          20,
          1,
          10,
          2,
          20,
          0,
          10,
          3,
          20,
          1,
        ),
    ),
  ),
  slip(
    "a spline with too few points",
    dxf(PLATE + entity("SPLINE", 8, "CUT", ...SPLINE, 10, 0, 20, 0, 10, 9, 20, 9)),
  ),
  slip("a copy of a block that is not there", dxf(PLATE + insertOf("bird"))),
  slip(
    "a copy of another file",
    dxf(PLATE + insertOf("bird"), { blocks: block("bird", "").replace("70\n0\n", "70\n4\n") }),
  ),
  slip("a block inside itself", dxf(insertOf("bird"), { blocks: block("bird", insertOf("bird")) })),
  slip("blocks in blocks without number", dxf(insertOf("b0"), { blocks: BOMB })),
  slip("blocks in blocks without end", dxf(insertOf("b0"), { blocks: CHAIN })),
  slip(
    "an array without number",
    dxf(insertOf("b", 70, 30_000, 71, 30_000), { blocks: block("b", line(0, 0, 1, 1)) }),
  ),
  slip(
    "a copy of no size",
    dxf(PLATE + insertOf("b", 41, 0), { blocks: block("b", line(0, 0, 1, 1)) }),
  ),
  slip(
    "a part of a row",
    dxf(PLATE + insertOf("b", 70, 1.5), { blocks: block("b", line(0, 0, 1, 1)) }),
  ),
  slip(
    "a code page that is not known",
    Buffer.from(
      dxf(rectangle(0, 0, 60, 40, "St\xfcck"), {
        header: MM + groups(9, "$DWGCODEPAGE", 3, "dos850"),
      }),
      "latin1",
    ),
  ),
  slip("a mark of the other format", dxf(PLATE + line(5, 5, 9, 9, "Fold")), {
    rules: [rule("class", "Fold", "score")],
  }),
];

function section0(): string {
  return SOUND.slice(0, SOUND.indexOf("0\nSECTION\n2\nENTITIES"));
}

import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/job.ts";
import { text } from "./texts.ts";

const COLUMNS =
  "part,qty,material,thickness,shape,width,height,diameter,bore,corner radius,sides,slot width,slot depth,slot at,slot side,holes";

/** The form of the one part of a list. */
function formOf(shapeCells: string): unknown {
  const { value, problems } = readJob("job", [
    text("parts.csv", [COLUMNS, `a,1,card,1,${shapeCells}`]),
  ]);
  expect(problems).toEqual([]);
  return value?.parts[0]?.form;
}

const LAP = { kind: "half-lap", widthMm: 150, heightMm: 80, slotWidthMm: 2.9 } as const;

describe("the form of a part", () => {
  it.each([
    [
      "rectangle,120,80,,,,,,,,,",
      { kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 0 },
    ],
    [
      "Rectangle,12 cm,8 cm,,,1/4 in,,,,,,",
      { kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 6.35 },
    ],
    [
      "rectangle,120,80,,,12 12 0 0,,,,,,",
      {
        kind: "rectangle",
        widthMm: 120,
        heightMm: 80,
        cornerRadiusMm: { topLeft: 12, topRight: 12, bottomRight: 0, bottomLeft: 0 },
      },
    ],
    [
      "rectangle,120,80,,,1/4 in 5 mm 1 1/2 in 0,,,,,,",
      {
        kind: "rectangle",
        widthMm: 120,
        heightMm: 80,
        cornerRadiusMm: { topLeft: 6.35, topRight: 5, bottomRight: 38.1, bottomLeft: 0 },
      },
    ],
    ["disc,,,60,,,,,,,,", { kind: "disc", diameterMm: 60 }],
    ["ring,,,60,20,,,,,,,", { kind: "ring", diameterMm: 60, boreMm: 20 }],
    ["polygon,,,60,,,6,,,,,", { kind: "polygon", diameterMm: 60, sides: 6 }],
    ["slot,60,12,,,,,,,,,", { kind: "slot", widthMm: 60, heightMm: 12 }],
    // Half the height and 0.1 mm for the round inner corners (common practice, no source).
    ["half-lap,150,80,,,,,2.9,,,,", { ...LAP, slotDepthMm: 40.1, slotAtMm: 75, slotSide: "top" }],
    [
      "half-lap,150,80,,,,,2.9,30,50,bottom,",
      { ...LAP, slotDepthMm: 30, slotAtMm: 50, slotSide: "bottom" },
    ],
    [
      "disc,,,60,,,,,,,,5.5 centre; 3 x 4 circle 40",
      {
        kind: "disc",
        diameterMm: 60,
        holes: [
          { kind: "centre", diameterMm: 5.5 },
          { kind: "circle", diameterMm: 4, count: 3, circleMm: 40 },
        ],
      },
    ],
  ])("is read from its cells: %s", (cells, form) => {
    expect(formOf(cells)).toEqual(form);
  });
});

import { describe, expect, it } from "vitest";
import { holes } from "../../src/job/hole-patterns.ts";

describe("holes in a cell", () => {
  it.each([
    ["5.5 corners 12", [{ kind: "corners", diameterMm: 5.5, insetMm: 12 }]],
    ["5.5mm Corners 1.2 cm", [{ kind: "corners", diameterMm: 5.5, insetMm: 12 }]],
    ["1/4in centre", [{ kind: "centre", diameterMm: 6.35 }]],
    ["6 x 4 circle 60", [{ kind: "circle", count: 6, diameterMm: 4, circleMm: 60 }]],
    ["1 1/4 in center", [{ kind: "centre", diameterMm: 31.75 }]],
    ["4 x 5.5 corners 12", [{ kind: "corners", diameterMm: 5.5, insetMm: 12 }]],
    ["\u00d8 5.5 mm corners 12", [{ kind: "corners", diameterMm: 5.5, insetMm: 12 }]],
    ["1 x 30 centre", [{ kind: "centre", diameterMm: 30 }]],
    ["2 inches centre", [{ kind: "centre", diameterMm: 50.8 }]],
    ["6x4 circle 60", [{ kind: "circle", count: 6, diameterMm: 4, circleMm: 60 }]],
    [
      "3 x 2 x 5 grid 40 30",
      [{ kind: "grid", columns: 3, rows: 2, diameterMm: 5, pitchXMm: 40, pitchYMm: 30 }],
    ],
    [
      "8 at 20 10 60 10 mm",
      [
        {
          kind: "at",
          diameterMm: 8,
          points: [
            { xMm: 20, yMm: 10 },
            { xMm: 60, yMm: 10 },
          ],
        },
      ],
    ],
    [
      " 30 centre ; 4 corners 8; ",
      [
        { kind: "centre", diameterMm: 30 },
        { kind: "corners", diameterMm: 4, insetMm: 8 },
      ],
    ],
    [
      "2 x 8mm at 20 10 60 10",
      [
        {
          kind: "at",
          diameterMm: 8,
          points: [
            { xMm: 20, yMm: 10 },
            { xMm: 60, yMm: 10 },
          ],
        },
      ],
    ],
    [
      "3x2x1/4in grid 40 x 30",
      [{ kind: "grid", columns: 3, rows: 2, diameterMm: 6.35, pitchXMm: 40, pitchYMm: 30 }],
    ],
    [
      "2×3×5 grid 40 30",
      [{ kind: "grid", columns: 2, rows: 3, diameterMm: 5, pitchXMm: 40, pitchYMm: 30 }],
    ],
  ])("are read: %s", (cell, patterns) => {
    expect(holes.read(cell)).toEqual(patterns);
  });

  it.each([
    ["5.5", 'Say in "5.5" where the holes are: at, corners, centre, circle or grid'],
    [
      "5.5 corner 12",
      'Write "corners" if that is meant, or write at, corners, centre, circle or grid after the diameter',
    ],
    [
      "5.5 corners",
      'Write "5.5 corners" as in 5.5 corners 12, the diameter of the four, then how far from the sides',
    ],
    [
      "corners 12",
      'Write "corners 12" as in 5.5 corners 12, the diameter of the four, then how far from the sides',
    ],
    ["0 centre", 'Write "0 centre" as in 30 centre, its diameter'],
    [
      "4 circle 60",
      'Write "4 circle 60" as in 6 x 4 circle 60, how many, their diameter, that of the circle through their middles',
    ],
    [
      "2.5 x 4 circle 60",
      'Write "2.5 x 4 circle 60" as in 6 x 4 circle 60, how many, their diameter, that of the circle through their middles',
    ],
    [
      "3 x 5 grid 40 30",
      'Write "3 x 5 grid 40 30" as in 3 x 2 x 5 grid 40 30, columns, rows, diameter, then from hole to hole across and up',
    ],
    [
      "3 x 2 x 5 grid 40",
      'Write "3 x 2 x 5 grid 40" as in 3 x 2 x 5 grid 40 30, columns, rows, diameter, then from hole to hole across and up',
    ],
    [
      "9000 x 9000 x 5 grid 1 1",
      "Correct the counts, which go up to 10000 holes in all: a digit has slipped",
    ],
    [
      "100 x 100 x 1 grid 2 2; 1 centre",
      "Correct the counts, which go up to 10000 holes in all: a digit has slipped",
    ],
    [
      "3 x 5.5 corners 12",
      'Write "3 x 5.5 corners 12" as in 5.5 corners 12, the diameter of the four, then how far from the sides',
    ],
    [
      "3 x 8 at 20 10 60 10",
      'Write "3 x 8 at 20 10 60 10" as in 8 at 20 10, the diameter, then from the left and from below',
    ],
    [
      "5,5 centre",
      'Write "5,5 centre" as in 30 centre, its diameter, with blanks between the numbers and decimal points',
    ],
    [
      "1/4 centre",
      'Write "1/4 centre" as in 30 centre, its diameter, a fraction with its unit: 1/4 in',
    ],
    ["30000 centre", 'Write "30000 centre" as in 30 centre, its diameter'],
    [
      "8 at 20",
      'Write "8 at 20" as in 8 at 20 10, the diameter, then from the left and from below',
    ],
    [
      "8 at 20 10 30",
      'Write "8 at 20 10 30" as in 8 at 20 10, the diameter, then from the left and from below',
    ],
    [
      "8 at left 10",
      'Write "8 at left 10" as in 8 at 20 10, the diameter, then from the left and from below',
    ],
    ["four 5 corners 10", "Write at, corners, centre, circle or grid after the diameter"],
    [
      "30 centre; 5 corners",
      'Write "5 corners" as in 5.5 corners 12, the diameter of the four, then how far from the sides',
    ],
    [";", "Write a diameter and where the holes are, or leave the cell empty"],
  ])("are refused with what to do: %s", (cell, mend) => {
    expect(holes.read(cell)).toBeNull();
    expect(holes.mend(cell)).toBe(mend);
  });
});

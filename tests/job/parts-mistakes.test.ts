import { describe, expect, it } from "vitest";
import { readJob } from "../../src/job/job.ts";
import type { SourceText } from "../../src/job/types.ts";
import { isError, sentence } from "../../src/problem.ts";
import { parts, PARTS_HEADER, PLATE, spots, text } from "./texts.ts";

/** One bad input for each mistake: what is found, where, and what the person is told to do. */
interface Mistake {
  readonly name: string;
  readonly list: SourceText;
  readonly code: string;
  readonly line: number | null;
  readonly column: string | null;
  readonly says: string;
}

const HERON = text("drawings/heron.svg", "<svg/>");

function bad(
  name: string,
  row: string,
  code: string,
  column: string | null,
  says: string,
): Mistake {
  return { name, list: parts(row), code, line: 3, column, says };
}

function badList(
  name: string,
  lines: readonly string[],
  code: string,
  line: number | null,
  column: string | null,
  says: string,
): Mistake {
  return { name, list: text("parts.csv", lines), code, line, column, says };
}

const MISTAKES: readonly Mistake[] = [
  bad("no name", ",1,mdf,3,,disc,,,9,,,,,,", "empty-cell", "part", "read nothing"),
  bad("no quantity", "a,,mdf,3,,disc,,,9,,,,,,", "empty-cell", "qty", "Fill in qty"),
  bad("quantity 0", "a,0,mdf,3,,disc,,,9,,,,,,", "not-a-whole-number", "qty", "1 or more"),
  bad(
    "quantity -2",
    "a,-2,mdf,3,,disc,,,9,,,,,,",
    "not-a-whole-number",
    "qty",
    "without the minus sign",
  ),
  bad("quantity 1.5", "a,1.5,mdf,3,,disc,,,9,,,,,,", "not-a-whole-number", "qty", "whole number"),
  bad("quantity 1e3", "a,1e3,mdf,3,,disc,,,9,,,,,,", "not-a-whole-number", "qty", '"1e3"'),
  bad(
    "quantity of a slip",
    "a,9000000,mdf,3,,disc,,,9,,,,,,",
    "not-a-whole-number",
    "qty",
    "goes up to 100000",
  ),
  bad("no material", "a,1,,3,,disc,,,9,,,,,,", "empty-cell", "material", "Fill in material"),
  bad("no thickness", "a,1,mdf,,,disc,,,9,,,,,,", "empty-cell", "thickness", "3.2 mm"),
  bad(
    "comma",
    'a,1,mdf,"3,2",,disc,,,9,,,,,,',
    "not-a-length",
    "thickness",
    "Write 3.2, with a decimal point",
  ),
  bad(
    "comma, inch",
    'a,1,mdf,"0,5 in",,disc,,,9,,,,,,',
    "not-a-length",
    "thickness",
    "Write 0.5 in, with a decimal point",
  ),
  bad("thickness 0", "a,1,mdf,0,,disc,,,9,,,,,,", "not-a-length", "thickness", "above 0"),
  bad("thickness < 0", "a,1,mdf,-3,,disc,,,9,,,,,,", "not-a-length", "thickness", '"-3"'),
  bad(
    "thickness NaN",
    "a,1,mdf,NaN,,disc,,,9,,,,,,",
    "not-a-length",
    "thickness",
    "Write a number",
  ),
  bad(
    "unknown unit",
    "a,1,mdf,3 px,,disc,,,9,,,,,,",
    "not-a-length",
    "thickness",
    "mm, cm, m or in",
  ),
  bad("a kilometre", "a,1,mdf,3,,disc,,,1000 m,,,,,,", "not-a-length", "diameter", '"1000 m"'),
  bad("fraction over 0", "a,1,mdf,1/0 in,,disc,,,9,,,,,,", "not-a-length", "thickness", '"1/0 in"'),
  bad("no form", "a,1,mdf,3,,,,,,,,,,,", "no-drawing-or-shape", "drawing", 'what "a" looks like'),
  bad(
    "both forms",
    "a,1,mdf,3,drawings/heron.svg,disc,,,9,,,,,,",
    "drawing-and-shape",
    "shape",
    "Empty one",
  ),
  bad(
    "unknown shape",
    "a,1,mdf,3,,rectangel,9,9,,,,,,,",
    "not-a-choice",
    "shape",
    'Write "rectangle"',
  ),
  bad(
    "strange shape",
    "a,1,mdf,3,,blob,9,9,,,,,,,",
    "not-a-choice",
    "shape",
    "rectangle, disc, ring, polygon, slot or half-lap",
  ),
  bad(
    "rectangle without height",
    "a,1,mdf,3,,rectangle,9,,,,,,,,",
    "size-missing",
    "height",
    "Fill in height",
  ),
  bad("ring without bore", "a,1,mdf,3,,ring,,,9,,,,,,", "size-missing", "bore", "bore of the ring"),
  bad(
    "disc with width",
    "a,1,mdf,3,,disc,5,,9,,,,,,",
    "size-not-used",
    "width",
    "a disc has no width",
  ),
  bad(
    "drawing with size",
    "a,1,mdf,3,drawings/heron.svg,,,,,,2,,,,",
    "size-not-used",
    "corner radius",
    "without a shape",
  ),
  bad(
    "bore = diameter",
    "a,1,mdf,3,,ring,,,9,9,,,,,",
    "size-too-large",
    "bore",
    "less than the diameter of 9 mm",
  ),
  bad(
    "round corners",
    "a,1,mdf,3,,rectangle,30,10,,,5.1,,,,",
    "size-too-large",
    "corner radius",
    "at most 5 mm",
  ),
  bad(
    "no such drawing",
    "a,1,mdf,3,drawings/herno.svg,,,,,,,,,,",
    "drawing-missing",
    "drawing",
    'Write "drawings/heron.svg"',
  ),
  bad(
    "drawing in other case",
    "a,1,mdf,3,Drawings/Heron.svg,,,,,,,,,,",
    "drawing-missing",
    "drawing",
    "heron.svg",
  ),
  bad("a photograph", "a,1,mdf,3,heron.png,,,,,,,,,,", "not-a-drawing", "drawing", "SVG or DXF"),
  bad(
    "outside",
    "a,1,mdf,3,../heron.svg,,,,,,,,,,",
    "drawing-outside",
    "drawing",
    "into the job folder",
  ),
  bad(
    "outside, winding",
    "a,1,mdf,3,drawings/../../heron.svg,,,,,,,,,,",
    "drawing-outside",
    "drawing",
    "inside",
  ),
  bad("absolute", "a,1,mdf,3,/tmp/heron.svg,,,,,,,,,,", "drawing-outside", "drawing", "from there"),
  bad(
    "drive",
    String.raw`a,1,mdf,3,C:\heron.svg,,,,,,,,,,`,
    "drawing-outside",
    "drawing",
    "inside",
  ),
  bad(
    "empty id",
    "a,1,mdf,3,drawings/heron.svg#,,,,,,,,,,",
    "empty-drawing-id",
    "drawing",
    "after the #",
  ),
  bad("turn", "a,1,mdf,3,,disc,,,9,,,quater,,,", "not-a-choice", "turn", 'Write "quarter"'),
  bad("flip", "a,1,mdf,3,,disc,,,9,,,,maybe,,", "not-yes-or-no", "flip", "yes or no"),
  bad("same name", "PLATE,1,mdf,3,,disc,,,9,,,,,,", "part-twice", "part", "line 2 has it already"),
  bad(
    "comma without quotes",
    "a,1,mdf,3,2,,disc,,,9,,,,,,",
    "csv-surplus-cells",
    null,
    "Write 3.2 with a decimal point",
  ),
  bad("quote left open", 'a,1,mdf,3,,disc,,,9,,,,,,"left', "csv-quotes", null, "Close the quote"),
  badList(
    "no column",
    ["part,qty,material,shape,diameter", "a,1,mdf,disc,9"],
    "missing-column",
    1,
    "thickness",
    "Add the column thickness",
  ),
  badList(
    "slip in a column",
    ["part,qty,materal,thickness,shape,diameter", "a,1,mdf,3,disc,9"],
    "missing-column",
    1,
    "material",
    "Rename the column materal to material",
  ),
  badList(
    "another word",
    ["part,quantity,material,thickness,shape,diameter", "a,1,mdf,3,disc,9"],
    "missing-column",
    1,
    "qty",
    "Rename the column quantity to qty",
  ),
  badList(
    "column twice",
    [`${PARTS_HEADER},Note`, PLATE],
    "column-twice",
    1,
    "note",
    "Remove or rename",
  ),
  badList(
    "column twice, differently written",
    [`${PARTS_HEADER},Corner_Radius`, PLATE],
    "column-twice",
    1,
    "corner radius",
    "Remove or rename",
  ),
  badList(
    "header only",
    [PARTS_HEADER, "", ",,"],
    "no-parts",
    null,
    null,
    "Add a row for each part",
  ),
  badList("empty file", ["", ""], "empty-file", null, null, "part, qty, material, thickness"),
];

describe("mistakes in a parts list", () => {
  it.each(MISTAKES)("$name: $code", ({ list, code, line, column, says }) => {
    const { value, problems } = readJob("job", [list, HERON]);
    expect(value).toBeNull();
    const errors = problems.filter(isError);
    expect(spots(errors)).toEqual([[code, line, column]]);
    expect(sentence(errors[0]!)).toContain(says);
  });

  it("covers at least 35 kinds of mistakes, each told apart by code and column", () => {
    const kinds = new Set(MISTAKES.map(({ code, column }) => `${code} ${column}`));
    expect(MISTAKES.length).toBeGreaterThanOrEqual(45);
    expect(kinds.size).toBeGreaterThanOrEqual(30);
  });

  it("accepts the same rows once they are mended", () => {
    const mended = parts(
      "a,1,mdf,3.2,,disc,,,9,,,,,,",
      "b,1,mdf,0.5 in,drawings/heron.svg,,,,,,,,,,",
      "c,1,mdf,3,,ring,,,9,8.9,,any,yes,reed,left",
      "d,1,mdf,3,,rectangle,30,10,,,5,,,,",
    );
    const { value, problems } = readJob("job", [mended, HERON]);
    expect(problems).toEqual([]);
    expect(value?.parts.length).toBe(5);
  });

  it("names every mistake of every file at once", () => {
    const { problems } = readJob("job", [
      parts("a,0,,3,,disc,,,x,,,,,,", "b,1,mdf,3,,ring,,,9,9,,,,,"),
      text("job.yaml", "date: 1.2.2026\npieces: none"),
      text("hardware.csv", "item,qty\n,0"),
      text("lengths.csv", "name,stock,length,qty\npost,larch,-1,1"),
      text("hand-work.csv", "task,part\nsand,plat"),
    ]);
    expect(problems.map(({ file, line, column }) => `${file} ${line} ${column}`)).toEqual([
      "job.yaml 1 date",
      "job.yaml 2 pieces",
      "parts.csv 3 qty",
      "parts.csv 3 material",
      "parts.csv 3 diameter",
      "parts.csv 4 bore",
      "hardware.csv 2 item",
      "hardware.csv 2 qty",
      "lengths.csv 2 length",
      "hand-work.csv 2 part",
    ]);
  });
});

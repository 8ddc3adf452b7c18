import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { dxfLines, readDxf } from "../../src/drawing/dxf/drawing.ts";
import { pathArea, pathBounds, pathLength } from "../../src/geometry/path.ts";
import { dxf, entity, groups, rectangle } from "../drawing/dxf/dxf-text.ts";
import { page } from "../drawing/reading.ts";
import { folder } from "../files/folder.ts";
import { ran, SMALL_FILES } from "./shell.ts";

/** One part, an F with a rounded arm, a hole and a scored line, drawn in both formats. */

const SVG = page(
  `<path id="f" d="M0 0h40v12h-28v12h20v8a4 4 0 0 1-4 4h-16v24h-12z"/>
<circle cx="6" cy="6" r="2"/><path class="fold" d="M3 20v30" stroke="red" fill="none"/>`,
);

const QUARTER = -Math.tan(Math.PI / 8);

const F =
  entity(
    "LWPOLYLINE",
    [8, "Stück", 90, 11, 70, 1, 10, 0, 20, 100, 10, 40, 20, 100, 10, 40, 20, 88, 10, 12, 20, 88],
    [10, 12, 20, 76, 10, 32, 20, 76, 10, 32, 20, 68, 42, QUARTER, 10, 28, 20, 64],
    [10, 12, 20, 64, 10, 12, 20, 40, 10, 0, 20, 40],
  ) +
  entity("CIRCLE", 8, "Stück", 10, 6, 20, 94, 40, 2) +
  entity("LINE", 8, "Fold", 10, 3, 20, 80, 11, 3, 21, 50);

/** As older programs write it: CRLF, and letters in a code page. */
function older(text: string): Uint8Array {
  return Buffer.from(text.replaceAll("\n", "\r\n"), "latin1");
}

const HEADER = groups(9, "$ACADVER", 1, "AC1015", 9, "$DWGCODEPAGE", 3, "ANSI_1252");
const MM = groups(9, "$INSUNITS", 70, 4);

async function job(marks: readonly string[], ...parts: readonly string[]): Promise<string> {
  const columns = "part,qty,material,thickness,drawing,turn";
  return folder({
    ...SMALL_FILES,
    "job/parts.csv": `${[columns, ...parts].join("\n")}\n`,
    "job/hardware.csv": "item,qty,per,part,hole diameter,note\nm5-bolt,2,piece,,,\n",
    "job/job.yaml": `title: F\npieces: 1\nlines:\n${marks.map((mark) => `  - ${mark}: fold\n    do: score\n`).join("")}`,
    "price-tables/feeds.csv": `${SMALL_FILES["price-tables/feeds.csv"] ?? ""}\nown-score,own,birch plywood,4,score,40,60,80,1,0.1,2026-01-01,test\n`,
    "job/drawings/f.svg": SVG,
    "job/drawings/f.dxf": older(dxf(F, { header: HEADER + MM })),
    "job/drawings/two.dxf": older(
      dxf(F + rectangle(60, 0, 30, 20, "Kappe"), { header: HEADER + MM }),
    ),
  });
}

function tables(path: string): string[] {
  return ["--tables", join(path, "price-tables")];
}

describe("a job with DXF drawings", () => {
  it("gives the same part as its twin in SVG: outline, area, length, holes, not mirrored", async () => {
    const path = await job(
      ["class", "layer"],
      "by-svg,1,birch plywood,4,drawings/f.svg,fixed",
      "by-dxf,1,birch plywood,4,drawings/f.dxf,fixed",
    );
    const checked = await ran(["check", join(path, "job"), ...tables(path)]);
    expect([checked.exit, checked.err]).toEqual([0, ""]);
    expect(checked.out).toContain("0 errors, 0 warnings");
    const args = ["quote", join(path, "job"), ...tables(path), "--steps", "1"];
    const { exit, err } = await ran([...args, "--out", join(path, "out")]);
    expect([exit, err]).toEqual([0, ""]);
    const layout = readDxf(
      "out.dxf",
      await readFile(join(path, "out/layouts", await firstLayout(path)), "utf8"),
    );
    if (layout.value === null) throw new RangeError("the layout was not read");
    const cell = { file: "parts.csv", line: 1, column: null };
    const lines = dxfLines(layout.value, null, [], cell).value?.lines ?? [];
    const shapes = lines.map(({ path: line }) => {
      const { minX, minY, maxX, maxY } = pathBounds(line);
      const sizes = [pathLength(line), Math.abs(pathArea(line)), maxX - minX, maxY - minY];
      return sizes.map((mm) => mm.toFixed(4)).join(" ");
    });
    // Each kind of line twice, once from each drawing: outline, hole, fold.
    expect(shapes).toHaveLength(6);
    expect(new Set(shapes).size).toBe(3);
    // The fold runs 3 mm from the left edge and the hole lies 6 mm below the top: not mirrored.
    const boxes = lines.map(({ path: line }) => pathBounds(line));
    const outlines = boxes.filter(({ minX, maxX }) => maxX - minX > 30);
    const inside = outlines.map((outline) =>
      boxes
        .filter((box) => box !== outline && box.minX > outline.minX && box.maxX < outline.maxX)
        .map((box) => [box.minX - outline.minX, outline.maxY - box.maxY].map(Math.round).join(" "))
        .toSorted(),
    );
    expect(inside).toEqual([
      ["3 20", "4 4"],
      ["3 20", "4 4"],
    ]);
  });

  it("takes one layer, or one outline by its number, of a drawing of several pieces", async () => {
    const path = await job(
      ["layer"],
      "cap,1,birch plywood,4,drawings/two.dxf#kappe,any",
      "letter,1,birch plywood,4,drawings/two.dxf#outline-1,any",
      "body,1,birch plywood,4,drawings/two.dxf#Stück,any",
    );
    const { exit, out, err } = await ran(["check", join(path, "job"), ...tables(path)]);
    expect([exit, err]).toEqual([0, ""]);
    expect(out).toContain("0 errors, 0 warnings");
  });

  it("says where the drawing is wrong", async () => {
    const path = await job(
      ["layer"],
      "cap,1,birch plywood,4,drawings/two.dxf#Kapppe,any",
      "both,1,birch plywood,4,drawings/two.dxf,any",
    );
    const { exit, out, err } = await ran(["check", join(path, "job"), ...tables(path)]);
    expect(exit).toBe(3);
    const said = out + err;
    expect(said).toContain(
      'parts.csv, line 2, drawing: read "#Kapppe", expected a layer of the drawing: Stück, Fold or Kappe. Write "Kappe" if that is meant, or correct the name of the layer.',
    );
    expect(said).toContain("Write drawings/two.dxf#outline-1 to drawings/two.dxf#outline-2");
    expect(said).toContain("a layer of its own");
  });
});

async function firstLayout(path: string): Promise<string> {
  const names = await readdir(join(path, "out/layouts"));
  const name = names.find((each) => each.endsWith(".dxf"));
  if (name === undefined) throw new RangeError("no layout was written");
  return name;
}

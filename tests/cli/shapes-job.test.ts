import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { folder } from "../files/folder.ts";
import { ran, SMALL_FILES } from "./shell.ts";

/** A stand without any drawing: plates for bolts, nuts to grip, a handle, and two crossed feet. */

const ROWS = [
  "part,qty,material,thickness,shape,width,height,diameter,sides,slot width,slot side,holes",
  "base,2,birch plywood,4,rectangle,160,120,,,,,4 x 5.5 corners 12; 30 centre",
  "nut,3,birch plywood,4,polygon,,,60,6,,,1/4 in centre",
  "handle,1,birch plywood,4,slot,120,30,,,,,",
  "foot-top,1,birch plywood,4,half-lap,150,80,,,4,top,",
  "foot-bottom,1,birch plywood,4,half-lap,150,80,,,4,bottom,",
];
const COPIES = 8;

/** By closed formulas: a plate less its circles, 3/2 sqrt 3 r^2, a b + pi r^2, a plate less its slot. */
const AREA_MM2 =
  2 * (160 * 120 - 4 * Math.PI * 2.75 ** 2 - Math.PI * 15 ** 2) +
  3 * (1.5 * Math.sqrt(3) * 30 ** 2 - Math.PI * 3.175 ** 2) +
  (90 * 30 + Math.PI * 15 ** 2) +
  2 * (150 * 80 - 4 * 40.1);

async function stand(list: string): Promise<{ list: string; path: string; tables: string[] }> {
  const tables = Object.entries(SMALL_FILES).filter(([name]) => !name.startsWith("job/"));
  const path = await folder({ ...Object.fromEntries(tables), [list]: `${ROWS.join("\n")}\n` });
  return { list: join(path, list), path, tables: ["--tables", join(path, "price-tables")] };
}

describe("a lone parts list of shapes", () => {
  it("is checked without a fault", async () => {
    const { list, tables } = await stand("stand.csv");
    const { exit, out, err } = await ran(["check", list, ...tables]);
    expect([exit, err]).toEqual([0, ""]);
    expect(out).toContain("0 errors");
  });

  it("is nested whole, and covers as much of its sheet as closed formulas say", async () => {
    const { list, tables } = await stand("stand.csv");
    const { exit, out } = await ran(["nest", list, ...tables, "--json", "--steps", "1"]);
    expect(exit).toBe(0);
    const nest: unknown = JSON.parse(out);
    expect(nest).toMatchObject({
      sheets: [{ sheet: "ply-4", widthMm: 600, heightMm: 400 }],
      unplaced: [],
    });
    expect(out.match(/"part": /g)).toHaveLength(COPIES);
    const utilisation = Number(/"utilisation": ([\d.]+)/.exec(out)?.[1]);
    expect(utilisation).toBeCloseTo(AREA_MM2 / (600 * 400), 9);
  });

  it("is quoted, and laid out with arcs", async () => {
    const { list, path, tables } = await stand("stand.csv");
    const out = join(path, "out");
    const { exit, err } = await ran(["quote", list, ...tables, "--steps", "1", "--out", out]);
    expect([exit, err]).toEqual([0, ""]);
    expect(await readFile(join(out, "quote.csv"), "utf8")).toMatch(/,total,/);
    const layouts = await readdir(join(out, "layouts"));
    const svg = layouts.find((name) => name.endsWith(".svg") && !name.endsWith("-left.svg")) ?? "";
    const drawn = await readFile(join(out, "layouts", svg), "utf8");
    // Four bolt holes in each of two plates; a centre hole each; both ends of the handle.
    expect(new Set(drawn.match(/id="base-\d-cut-\d"[^>]*A2\.75 2\.75 /g)).size).toBe(8);
    expect(drawn.match(/id="base-\d-cut-\d"[^>]*A15 15 /g)).toHaveLength(2);
    expect(drawn.match(/id="handle-1-cut-1"[^>]*A15 15 /g)).toHaveLength(1);
  });
});

describe("the same list in a job folder", () => {
  it("has a bolt for every hole of its size", async () => {
    const { path, tables } = await stand("job/parts.csv");
    const hardware = "item,qty,per,part,hole diameter\nm5-bolt,1,hole,base,5.5\n";
    const more = await folder({
      "job/parts.csv": ROWS.join("\n"),
      "job/hardware.csv": hardware,
    });
    const out = join(path, "out");
    const args = ["quote", join(more, "job"), ...tables, "--steps", "1", "--out", out];
    expect(await ran(args)).toMatchObject({ exit: 0, err: "" });
    const shopping = await readFile(join(out, "shopping.csv"), "utf8");
    // Four in each of two plates; 5 % of 8 more is one bolt.
    expect(shopping).toContain("8 needed and 5 % spare: 9");
  });
});

import { mkdir, readFile, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { parseCommand } from "../src/cli/parse.ts";
import * as tableColumns from "../src/job/table-columns.ts";
import { OFFCUT_COLUMNS } from "../src/job/offcuts.ts";
import { PART_COLUMNS } from "../src/job/part-columns.ts";
import { ran } from "./cli/shell.ts";
import { folder } from "./files/folder.ts";

/** What a first reader does with the README, done. */

const README = await readFile(new URL("../README.md", import.meta.url), "utf8");
const WALK = README.slice(README.indexOf("## Your own job"), README.indexOf("### From another"));

/** Texts of the blocks fenced with a language. */
function blocks(text: string, language: string): readonly string[] {
  return [...text.matchAll(/^```(\w*)\n(.*?)^```$/gms)]
    .filter(([, name]) => name === language)
    .map(([, , block = ""]) => block);
}

describe("the README", () => {
  it("leads to a price of one's own job, and to a cheaper one by one row", async () => {
    const [parts = "", row = ""] = blocks(WALK, "csv");
    const [job = "", price = ""] = blocks(WALK, "yaml");
    const path = await folder({ "my-job/parts.csv": parts, "my-job/job.yaml": job });
    const args = ["quote", `${path}/my-job`, "--json"];
    const first = await ran(args);
    expect([first.exit, first.err]).toEqual([0, ""]);
    expect(JSON.parse(first.out)).toMatchObject({ pieces: 6, pieceName: "stand" });
    const dearer = await costOf(path, "sheet.mdf_6.cost");
    await writeFile(`${path}/my-job/job.yaml`, job + price);
    await mkdir(`${path}/my-job/tables`);
    await writeFile(`${path}/my-job/tables/sheets.csv`, row);
    expect((await ran(args)).exit).toBe(0);
    expect(await costOf(path, "sheet.mdf_6.cost")).toBeLessThan(dearer);
    expect(await costOf(path, "quote.tax")).toBe(0);
  });

  it("shows command lines that the program takes", async () => {
    const lines = [...README.matchAll(/npx tallywright ([^`#\n]+)/g)].map(([, words = ""]) =>
      words.trim().replace("my-job", "demo-data/marsh-birds").split(/\s+/),
    );
    expect(lines.length).toBeGreaterThan(7);
    for (const words of lines.filter(([first]) => first !== "works"))
      expect((await parseCommand(words)).kind).toBe("command");
  });

  it("names every column that is read", () => {
    const columns = [PART_COLUMNS, OFFCUT_COLUMNS, ...Object.values(tableColumns)].flatMap(
      (group) => Object.values(group).map(({ name }) => name),
    );
    expect(columns.length).toBeGreaterThan(60);
    expect(columns.filter((column) => !README.includes(`\`${column}\``))).toEqual([]);
  });
});

async function costOf(path: string, figure: string): Promise<number> {
  const { out } = await ran(["explain", `${path}/my-job`, figure]);
  return Number(/ = (\d[\d.]*) /.exec(out)?.[1]);
}

import { chmod, mkdir, stat, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { writeCsv } from "../../src/csv.ts";
import { writeOutputs } from "../../src/files/write.ts";
import { contents, folder } from "./folder.ts";

const FIRST = [
  { name: "quote.csv", content: "one" },
  { name: "layouts/01-card.svg", content: "a" },
  { name: "layouts/02-card.svg", content: "b" },
];

describe("writing results", () => {
  it("makes the folders and reports every file", async () => {
    const dir = join(await folder(), "deep", "out");
    const report = await writeOutputs(dir, [
      ...FIRST,
      { name: "x.bin", content: new Uint8Array([0x41]) },
    ]);
    expect(report).toEqual({
      written: ["quote.csv", "layouts/01-card.svg", "layouts/02-card.svg", "x.bin"],
      unchanged: [],
      moved: [],
      problems: [],
    });
    expect(await contents(dir)).toEqual({
      "quote.csv": "one",
      "layouts/01-card.svg": "a",
      "layouts/02-card.svg": "b",
      "x.bin": "A",
    });
  });

  it("does not touch a file that is there with the same bytes", async () => {
    const dir = await folder();
    await writeOutputs(dir, FIRST);
    const before = await stat(join(dir, "quote.csv"));
    const report = await writeOutputs(dir, FIRST);
    expect(report.unchanged).toEqual(FIRST.map(({ name }) => name));
    expect([report.written, report.moved, report.problems]).toEqual([[], [], []]);
    const after = await stat(join(dir, "quote.csv"));
    expect([after.mtimeMs, after.ino]).toEqual([before.mtimeMs, before.ino]);
  });

  it("keeps what was there in a numbered folder for each run, stale layouts too", async () => {
    const dir = await folder({
      "notes.txt": "mine",
      "layouts/sketch.svg": "mine",
      "quote.csv": "hand",
    });
    await writeOutputs(dir, FIRST);
    const second = await writeOutputs(dir, [
      { name: "quote.csv", content: "two" },
      { name: "layouts/01-card.svg", content: "a" },
      { name: "layouts/02-mdf.svg", content: "c" },
    ]);
    expect(second).toEqual({
      written: ["quote.csv", "layouts/02-mdf.svg"],
      unchanged: ["layouts/01-card.svg"],
      moved: [
        { from: "quote.csv", to: "earlier/002/quote.csv" },
        { from: "layouts/02-card.svg", to: "earlier/002/layouts/02-card.svg" },
      ],
      problems: [],
    });
    expect(await contents(dir)).toEqual({
      "notes.txt": "mine",
      "layouts/sketch.svg": "mine",
      "layouts/01-card.svg": "a",
      "layouts/02-mdf.svg": "c",
      "quote.csv": "two",
      "earlier/001/quote.csv": "hand",
      "earlier/002/quote.csv": "one",
      "earlier/002/layouts/02-card.svg": "b",
    });
  });

  it("leaves the layouts alone in a run that writes none", async () => {
    const dir = await folder();
    await writeOutputs(dir, FIRST);
    const report = await writeOutputs(dir, [{ name: "nest.json", content: "{}" }]);
    expect(report.moved).toEqual([]);
    expect(Object.keys(await contents(dir))).toContain("layouts/02-card.svg");
  });

  it("goes on from the highest number, whatever else is in the folder", async () => {
    const dir = await folder({ "quote.csv": "0", "earlier/041/x": "x", "earlier/old/x": "x" });
    const report = await writeOutputs(dir, [{ name: "quote.csv", content: "1" }]);
    expect(report.moved).toEqual([{ from: "quote.csv", to: "earlier/042/quote.csv" }]);
  });

  it("loses nothing over many runs, two at a time into one folder", async () => {
    const dir = await folder();
    const texts = Array.from({ length: 12 }, (_, run) => `run ${run}`);
    for (let run = 0; run < texts.length; run += 2) {
      const pair = texts.slice(run, run + 2);
      const reports = await Promise.all(
        pair.map((content, index) => writeOutputs(dir, [{ name: `${index}.csv`, content }])),
      );
      expect(reports.flatMap(({ problems }) => problems)).toEqual([]);
    }
    const kept = Object.values(await contents(dir));
    expect(kept.toSorted()).toEqual(texts.toSorted());
  });

  it("replaces a link and leaves alone what it leads to", async () => {
    const other = await folder({ "quote.csv": "theirs" });
    const dir = await folder();
    await symlink(join(other, "quote.csv"), join(dir, "quote.csv"));
    await writeOutputs(dir, [{ name: "quote.csv", content: "ours" }]);
    expect((await contents(other))["quote.csv"]).toBe("theirs");
    expect((await contents(dir))["quote.csv"]).toBe("ours");
  });

  it("says what stands in the way and writes the rest", async () => {
    const dir = await folder({ "quote.csv/x": "x" });
    const report = await writeOutputs(dir, [...FIRST]);
    expect(report.problems.map(({ code, file }) => [code, file])).toEqual([
      ["system-eisdir", join(dir, "quote.csv")],
    ]);
    expect(report.written).toEqual(["layouts/01-card.svg", "layouts/02-card.svg"]);
    expect(Object.keys(await contents(dir)).some((name) => name.includes(".writing"))).toBe(false);
  });

  it("says when the folder is a file", async () => {
    const dir = await folder({ out: "x" });
    const report = await writeOutputs(join(dir, "out"), FIRST);
    expect(report.written).toEqual([]);
    expect(report.problems.map(({ code }) => code)).toEqual(["system-eexist"]);
    const below = await writeOutputs(join(dir, "out", "deeper"), FIRST);
    expect(below.problems.map(({ code }) => code)).toEqual(["system-enotdir"]);
  });

  it("puts nothing in place when it can not write everything aside", async () => {
    const dir = await folder({ "quote.csv": "old" });
    const tooLong = { name: `${"x".repeat(300)}.csv`, content: "x" };
    const report = await writeOutputs(dir, [{ name: "quote.csv", content: "new" }, tooLong]);
    expect(report.problems.map(({ code }) => code)).toEqual(["system-enametoolong"]);
    expect([report.written, report.moved]).toEqual([[], []]);
    expect(await contents(dir)).toEqual({ "quote.csv": "old" });
  });

  it.skipIf(process.getuid?.() === 0)("says when it has no right to write", async () => {
    const dir = await folder();
    await mkdir(join(dir, "out"));
    await chmod(join(dir, "out"), 0o500);
    const report = await writeOutputs(join(dir, "out"), FIRST);
    expect(report.problems.map(({ code }) => code)).toEqual(["system-eacces"]);
    await chmod(join(dir, "out"), 0o700);
  });

  it.each(["../quote.csv", "/quote.csv", "a//b", "a/./b", "", "a\\b", "c:x", "earlier/001/x"])(
    "takes the name %j for a fault of ours",
    async (name) => {
      const dir = await folder();
      await expect(writeOutputs(dir, [{ name, content: "" }])).rejects.toThrow(RangeError);
      expect(await contents(dir)).toEqual({});
    },
  );

  it("does not take two names that some disks hold for one", async () => {
    const files = ["a.csv", "A.csv"].map((name) => ({ name, content: "" }));
    await expect(writeOutputs(await folder(), files)).rejects.toThrow(/two output files/);
  });

  // Oracle: csv-parse, a reader of RFC 4180 that shares no code with ours.
  it("brings a CSV to the disk as an independent reader reads it", async () => {
    const dir = await folder();
    const rows = [
      ["1", 'a "quoted" name', "two\nlines", "1234.50"],
      ["2", "comma, semicolon;", "Ø 5 mm", "-3"],
    ];
    const header = ["line", "name", "note", "amount"];
    await writeOutputs(dir, [{ name: "costing.csv", content: writeCsv(header, rows) }]);
    const read: unknown = parse((await contents(dir))["costing.csv"] ?? "");
    expect(read).toEqual([header, ...rows]);
    await writeFile(join(dir, "costing.csv"), "edited");
    const report = await writeOutputs(dir, [
      { name: "costing.csv", content: writeCsv(header, rows) },
    ]);
    expect(report.moved.length).toBe(1);
    expect((await contents(dir))["earlier/001/costing.csv"]).toBe("edited");
  });
});

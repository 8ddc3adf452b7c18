import { chmod, mkdir, readdir, stat, symlink, utimes, writeFile } from "node:fs/promises";
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
      earlier: null,
      problems: [],
    });
    expect(await contents(dir)).toEqual({
      "quote.csv": "one",
      "layouts/01-card.svg": "a",
      "layouts/02-card.svg": "b",
      "x.bin": "A",
    });
    expect((await readdir(dir)).toSorted()).toEqual(["layouts", "quote.csv", "x.bin"]);
  });

  it("does not touch a file that is there with the same bytes", async () => {
    const dir = await folder();
    await writeOutputs(dir, FIRST);
    const before = await stat(join(dir, "quote.csv"));
    const report = await writeOutputs(dir, FIRST);
    expect(report.unchanged).toEqual(FIRST.map(({ name }) => name));
    expect([report.written, report.earlier, report.problems]).toEqual([[], null, []]);
    const after = await stat(join(dir, "quote.csv"));
    expect([after.mtimeMs, after.ino]).toEqual([before.mtimeMs, before.ino]);
  });

  it("keeps the whole set that was there, with its times and the layouts no longer needed", async () => {
    const dir = await folder({ "notes.txt": "mine", "layouts/sketch.svg": "mine" });
    await writeOutputs(dir, FIRST);
    const lastWeek = new Date("2026-11-13T09:00:00Z");
    await utimes(join(dir, "quote.csv"), lastWeek, lastWeek);
    const second = await writeOutputs(dir, [
      { name: "quote.csv", content: "two" },
      { name: "layouts/01-card.svg", content: "a" },
      { name: "layouts/02-mdf.svg", content: "c" },
    ]);
    expect(second).toEqual({
      written: ["layouts/02-mdf.svg", "quote.csv"],
      unchanged: ["layouts/01-card.svg"],
      earlier: {
        folder: "earlier/001",
        files: ["layouts/01-card.svg", "layouts/02-card.svg", "quote.csv"],
        replaced: ["quote.csv", "layouts/02-card.svg"],
      },
      problems: [],
    });
    expect(await contents(dir)).toEqual({
      "notes.txt": "mine",
      "layouts/sketch.svg": "mine",
      "layouts/01-card.svg": "a",
      "layouts/02-mdf.svg": "c",
      "quote.csv": "two",
      "earlier/001/quote.csv": "one",
      "earlier/001/layouts/01-card.svg": "a",
      "earlier/001/layouts/02-card.svg": "b",
    });
    expect((await stat(join(dir, "earlier/001/quote.csv"))).mtime).toEqual(lastWeek);
    // What is edited in place must not change what is kept.
    await writeFile(join(dir, "layouts/01-card.svg"), "edited");
    expect((await contents(dir))["earlier/001/layouts/01-card.svg"]).toBe("a");
  });

  it("gives each earlier set its own number, an edited one too", async () => {
    const dir = await folder({ "quote.csv": "hand" });
    await writeOutputs(dir, FIRST);
    await writeOutputs(dir, [{ name: "quote.csv", content: "two" }, ...FIRST.slice(1)]);
    expect(await contents(dir)).toMatchObject({
      "earlier/001/quote.csv": "hand",
      "earlier/002/quote.csv": "one",
      "earlier/002/layouts/01-card.svg": "a",
      "quote.csv": "two",
    });
  });

  it("moves nothing when files only come to those that are there", async () => {
    const dir = await folder();
    await writeOutputs(dir, FIRST);
    const report = await writeOutputs(dir, [...FIRST, { name: "new.csv", content: "n" }]);
    expect(report).toMatchObject({ written: ["new.csv"], earlier: null, problems: [] });
    expect(Object.keys(await contents(dir)).some((name) => name.startsWith("earlier"))).toBe(false);
  });

  it("leaves the layouts alone in a run that writes none", async () => {
    const dir = await folder();
    await writeOutputs(dir, FIRST);
    const report = await writeOutputs(dir, [{ name: "nest.json", content: "{}" }]);
    expect(report.earlier).toBeNull();
    expect(Object.keys(await contents(dir))).toContain("layouts/02-card.svg");
  });

  it("goes on from the highest number, whatever else is in the folder", async () => {
    const dir = await folder({ "quote.csv": "0", "earlier/041/x": "x", "earlier/old/x": "x" });
    const report = await writeOutputs(dir, [{ name: "quote.csv", content: "1" }]);
    expect(report.earlier?.folder).toBe("earlier/042");
  });

  it("mixes and loses nothing over many runs, three at a time into one folder", async () => {
    const dir = await folder();
    const sets = Array.from({ length: 12 }, (_, run) =>
      ["quote.csv", "costing.csv", "layouts/01-a.svg"].map((name) => ({
        name,
        content: `run ${run} ${name}`,
      })),
    );
    for (let run = 0; run < sets.length; run += 3) {
      const reports = await Promise.all(
        sets.slice(run, run + 3).map(async (files) => writeOutputs(dir, files)),
      );
      expect(reports.flatMap(({ problems }) => problems)).toEqual([]);
    }
    const kept = await contents(dir);
    const folders = [
      "",
      ...(await readdir(join(dir, "earlier"))).map((name) => `earlier/${name}/`),
    ];
    const found = folders.map((at) => sets[0]?.map(({ name }) => kept[`${at}${name}`]));
    const wanted = sets.map((files) => files.map(({ content }) => content));
    expect(found.map(String).toSorted()).toEqual(wanted.map(String).toSorted());
    expect(Object.keys(kept)).toHaveLength(36);
  });

  it("replaces a link and leaves alone what it leads to", async () => {
    const other = await folder({ "quote.csv": "theirs" });
    const dir = await folder();
    await symlink(join(other, "quote.csv"), join(dir, "quote.csv"));
    await writeOutputs(dir, [{ name: "quote.csv", content: "ours" }]);
    expect((await contents(other))["quote.csv"]).toBe("theirs");
    expect((await contents(dir))["quote.csv"]).toBe("ours");
  });

  it("keeps what a link leads to in the earlier set, and nothing for one that leads nowhere", async () => {
    const other = await folder({ "theirs.csv": "theirs" });
    const dir = await folder();
    await symlink(join(other, "theirs.csv"), join(dir, "quote.csv"));
    await symlink(join(other, "gone.csv"), join(dir, "costing.csv"));
    const files = ["quote.csv", "costing.csv"].map((name) => ({ name, content: "ours" }));
    expect((await writeOutputs(dir, files)).problems).toEqual([]);
    expect(await contents(dir)).toEqual({
      "quote.csv": "ours",
      "costing.csv": "ours",
      "earlier/001/quote.csv": "theirs",
    });
  });

  it("says what stands in the way and writes none", async () => {
    const dir = await folder({ "quote.csv/x": "x", "layouts/01-card.svg": "old" });
    const report = await writeOutputs(dir, [...FIRST]);
    expect(report.problems.map(({ code, file }) => [code, file])).toEqual([
      ["system-eisdir", join(dir, "quote.csv")],
    ]);
    expect(report.written).toEqual([]);
    expect(await contents(dir)).toEqual({ "quote.csv/x": "x", "layouts/01-card.svg": "old" });
    const other = await folder({ earlier: "a file", "quote.csv": "old" });
    const second = await writeOutputs(other, FIRST);
    expect(second.problems.map(({ code }) => code)).toEqual(["system-eexist"]);
    expect(await contents(other)).toEqual({ earlier: "a file", "quote.csv": "old" });
  });

  it.skipIf(process.platform !== "linux")(
    "says at once that a place takes no folders, where the recursive mkdir of Node.js 20 hangs",
    async () => {
      for (const dir of ["/proc/out", "/proc/deep/deeper/out"]) {
        const { problems } = await writeOutputs(dir, FIRST);
        expect(problems.map(({ code, file }) => [code, file])).toEqual([["system-enotsup", dir]]);
      }
    },
  );

  it("says what is wrong with a path", async () => {
    const dir = await folder();
    await symlink("circle", join(dir, "circle"));
    await symlink("nowhere", join(dir, "gone"));
    const long = join(dir, "a".repeat(5000));
    for (const [path, code] of [
      [join(dir, "circle"), "system-eloop"],
      [join(dir, "circle", "x"), "system-eloop"],
      [join(dir, "gone"), "system-enoent"],
      [long, "system-enametoolong"],
    ] as const) {
      const { problems } = await writeOutputs(path, FIRST);
      expect(problems.map((one) => one.code)).toEqual([code]);
      expect(problems[0]?.file.length).toBeLessThan(260);
    }
    expect((await readdir(dir)).toSorted()).toEqual(["circle", "gone"]);
  });

  it("puts nothing in place when it can not write everything aside", async () => {
    const dir = await folder({ "quote.csv": "old" });
    const tooLong = { name: `${"x".repeat(300)}.csv`, content: "x" };
    const report = await writeOutputs(dir, [{ name: "quote.csv", content: "new" }, tooLong]);
    expect(report.problems.map(({ code }) => code)).toEqual(["system-enametoolong"]);
    expect([report.written, report.earlier]).toEqual([[], null]);
    expect(await contents(dir)).toEqual({ "quote.csv": "old" });
    expect(await readdir(dir)).toEqual(["quote.csv"]);
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
    expect(report.earlier?.replaced).toEqual(["costing.csv"]);
    expect((await contents(dir))["earlier/001/costing.csv"]).toBe("edited");
  });
});

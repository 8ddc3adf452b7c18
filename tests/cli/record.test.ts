import { readFile, stat, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { addToLog } from "../../src/files/shop-log.ts";
import { contents, folder } from "../files/folder.ts";
import { rowsOf } from "../helpers/rows.ts";
import { ran, SMALL_FILES } from "./shell.ts";

/** Fills in the form of the small job: minutes for its plywood. */
async function fillIn(path: string, took: string): Promise<void> {
  const form = `${path}/job/took.csv`;
  const lines = (await readFile(form, "utf8")).split("\r\n");
  const filled = lines.map((line) =>
    line.startsWith("machine,birch") ? line.split(",").with(5, took).join(",") : line,
  );
  await writeFile(form, filled.join("\r\n"));
}

describe("record", () => {
  it("gives a form, takes it filled in, and keeps a log in the folder of the jobs", async () => {
    const path = await folder(SMALL_FILES);
    const [job, tables] = [`${path}/job`, ["--tables", `${path}/price-tables`]];
    const given = await ran(["record", job, ...tables]);
    expect([given.exit, given.err]).toEqual([0, ""]);
    const rows = rowsOf(await readFile(`${job}/took.csv`, "utf8"));
    expect(rows.map((row) => [row["what"], row["item"], row["operation"]])).toEqual([
      ["machine", "birch plywood 4 mm", "cut"],
      ["machine", "card 1 mm", "cut"],
      ["sheets", "ply-4", ""],
      ["sheets", "card-roll", ""],
      ["paint", "primer", ""],
      ["paint", "green", ""],
      ["hand work", "assemble", ""],
      ["hand work", "spray", ""],
    ]);

    // What the form says is what the costing says.
    const costing = await ran([
      "explain",
      job,
      "machine.birch_plywood_4.running-minutes",
      ...tables,
    ]);
    expect(costing.out).toMatch(
      new RegExp(` = ${Number(rows[0]!["estimated"]).toFixed(2)}\\d* min`),
    );

    await fillIn(path, "20");
    const taken = await ran(["record", job, "--done", "2026-11-20"]);
    expect([taken.exit, taken.err]).toEqual([0, ""]);
    expect(taken.out).toContain(`1 row added to ${path}/shop-log.csv`);
    const again = await ran(["record", job, "--done", "2026-11-20"]);
    expect(again.out).toContain("Nothing new");
    const log = rowsOf((await readFile(`${path}/shop-log.csv`, "utf8")).replaceAll("\n", "\r\n"));
    expect(log.map((row) => [row["done"], row["job"], row["took"]])).toEqual([
      ["2026-11-20", "job", "20"],
    ]);

    const told = await ran(["log", job, ...tables]);
    expect([told.exit, told.err]).toEqual([0, ""]);
    expect(told.out).toContain("2026-11-20  job  birch plywood 4 mm, cut");
    expect(told.out).toMatch(/own, cut +\d\.\d\d +too few to tell +1 run/);
    expect(told.out).toMatch(/\nown-ply-4,own,birch plywood,4,cut,[\d.,]+,1,0\.2,yes,2026-11-20,/);

    // The form and the log are no files of the estimate.
    const checked = await ran(["check", job, ...tables]);
    expect([checked.exit, checked.err]).toEqual([0, ""]);
  });

  it("has rows proposed that a job takes as its tables/feeds.csv, and then none", async () => {
    const path = await folder(SMALL_FILES);
    const [job, tables] = [`${path}/job`, ["--tables", `${path}/price-tables`]];
    await ran(["record", job, ...tables]);
    await fillIn(path, "20");
    await ran(["record", job, "--done", "2026-11-20"]);
    const { out } = await ran(["log", job, ...tables]);
    const proposed = out.slice(out.indexOf("\nid,machine") + 1);
    const feeds = `${path}/price-tables/feeds.csv`;
    const before = await readFile(feeds, "utf8");
    const withMine = { ...SMALL_FILES, "job/tables/feeds.csv": proposed };
    const mended = await folder(withMine);
    expect(await readFile(feeds, "utf8")).toBe(before);
    const theirs = ["--tables", `${mended}/price-tables`];
    const figure = "machine.birch_plywood_4.running-minutes";
    const run = await ran(["explain", `${mended}/job`, figure, ...theirs]);
    expect(run.err).toBe("");
    // The feed is printed to a hundredth of a mm/s, and stops and starts change a little with it.
    const minutes = Number(/ = (\d[\d.]*) min/.exec(run.out)?.[1]);
    expect(Math.abs(minutes - 20)).toBeLessThan(0.02);
    const log = `${path}/shop-log.csv`;
    const after = await ran(["log", `${mended}/job`, "--log", log, ...theirs]);
    expect(after.out).not.toContain("feeds.csv");
  });

  it("says what is wrong with the day, the form, the log and the folder", async () => {
    const path = await folder({ ...SMALL_FILES, "lone.csv": SMALL_FILES["job/parts.csv"]! });
    const [job, tables] = [`${path}/job`, ["--tables", `${path}/price-tables`]];
    const day = await ran(["record", job, "--done", "20.11.2026"]);
    expect([day.exit, day.err]).toEqual([
      2,
      'error: --done takes the day on which the job was made, such as 2026-11-25, not "20.11.2026"; write 2026-11-20 if that is meant\nTry tallywright --help.\n',
    ]);
    const ahead = await ran(["record", job, "--done", "2026-11-27"]);
    expect([ahead.exit, ahead.err]).toEqual([
      2,
      expect.stringContaining("2026-11-27 is still to come: today is 2026-11-26"),
    ]);
    const early = await ran(["record", job, "--done", "2026-11-20"]);
    expect(early.exit).toBe(3);
    expect(early.err).toContain(`Get it by tallywright record ${job}`);
    expect((await ran(["log", job, ...tables])).err).toContain(
      "expected the log of what jobs took",
    );
    expect((await ran(["record", `${path}/lone.csv`, ...tables])).err).toContain(
      "expected the folder of a job, where the form can lie",
    );
    const lone = await ran(["record", `${path}/lone.csv`, "--done", "2026-11-20"]);
    expect([lone.exit, lone.err]).toEqual([
      3,
      expect.stringContaining("expected the folder of a job, where the form can lie"),
    ]);
    await ran(["record", job, ...tables]);
    const unfilled = await ran(["record", job, "--done", "2026-11-20", "--json"]);
    expect(unfilled.exit).toBe(3);
    expect(JSON.parse(unfilled.out)).toMatchObject({ problems: [{ code: "nothing-taken" }] });
    const twice = await ran(["record", job, ...tables]);
    expect([twice.exit, twice.err]).toEqual([3, expect.stringContaining("record it with --done")]);
    expect(Object.keys(await contents(path))).not.toContain("shop-log.csv");
  });
});

describe("jobs in one log", () => {
  it("are told apart by their way from it where their folders have one name", async () => {
    const path = await folder(
      Object.fromEntries(
        Object.entries(SMALL_FILES).flatMap(([name, content]) =>
          name.startsWith("job/")
            ? [
                [name, content],
                [`other/${name}`, content],
              ]
            : [[name, content]],
        ),
      ),
    );
    const tables = ["--tables", `${path}/price-tables`];
    const log = `${path}/shop-log.csv`;
    for (const [at, took] of [
      [path, "20"],
      [`${path}/other`, "21"],
    ] as const) {
      await ran(["record", `${at}/job`, ...tables]);
      await fillIn(at, took);
      const done = await ran(["record", `${at}/job`, "--done", "2026-11-20", "--log", log]);
      expect([done.exit, done.err]).toEqual([0, ""]);
    }
    const rows = rowsOf((await readFile(log, "utf8")).replaceAll("\n", "\r\n"));
    expect(rows.map((row) => [row["job"], row["took"]])).toEqual([
      ["job", "20"],
      ["other/job", "21"],
    ]);
  });
});

describe("the log on disk", () => {
  it("loses no row to another run that adds at the same time", async () => {
    const path = `${await folder()}/jobs/shop-log.csv`;
    const added = await Promise.all(
      Array.from({ length: 8 }, async (_, index) =>
        addToLog(path, (log) => ({
          value: { text: `${log?.text ?? ""}row ${index}\n`, added: 1 },
          problems: [],
        })),
      ),
    );
    expect(added.map(({ value }) => value)).toEqual(Array.from({ length: 8 }, () => 1));
    const lines = (await readFile(path, "utf8")).trim().split("\n");
    expect(lines.toSorted()).toEqual(Array.from({ length: 8 }, (_, index) => `row ${index}`));
  });

  it("stays untouched where nothing is added, or something is wrong", async () => {
    const path = await folder({ "shop-log.csv": "as it was" });
    const log = `${path}/shop-log.csv`;
    const { mtimeMs, ino } = await stat(log);
    await addToLog(log, (before) => ({
      value: { text: `${before?.text} more`, added: 0 },
      problems: [],
    }));
    await addToLog(log, () => ({ value: null, problems: [] }));
    expect(await contents(path)).toEqual({ "shop-log.csv": "as it was" });
    expect(await stat(log)).toMatchObject({ mtimeMs, ino });
  });
});

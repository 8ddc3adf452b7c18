import { describe, expect, it } from "vitest";
import { readIntake } from "../../src/job/intake.ts";
import { readJob } from "../../src/job/job.ts";
import { checkReferences, spelledAsTables } from "../../src/job/references.ts";
import type { Need } from "../../src/job/references.ts";
import { readTables } from "../../src/job/tables.ts";
import type { Job, SourceText, Tables } from "../../src/job/types.ts";
import { sentence } from "../../src/problem.ts";
import { parts, spots, tables, text } from "./texts.ts";

function jobOf(...texts: readonly SourceText[]): Job {
  const { value, problems } = readJob("j", texts);
  if (value === null) throw new Error(problems.map(sentence).join("\n"));
  return value;
}

function tablesWithout(...files: readonly string[]): Tables {
  const kept = tables().filter(({ name }) => !files.some((file) => name.endsWith(`/${file}`)));
  const { value, problems } = readTables(kept, [], null);
  if (value === null) throw new Error(problems.map(sentence).join("\n"));
  return value;
}

function row(material: string, thickness: string, finish = ""): SourceText {
  return parts(`a,1,${material},${thickness},,disc,,,9,,,,,${finish},`);
}

describe("names that the tables must have", () => {
  it.each<[string, readonly SourceText[], Need, string, number, string, string]>([
    [
      "material",
      [row("birch plywod", "4")],
      "nest",
      "unknown-material",
      3,
      "material",
      'Write "birch plywood"',
    ],
    [
      "material, far",
      [row("slate", "4")],
      "nest",
      "unknown-material",
      3,
      "material",
      "birch plywood or card",
    ],
    [
      "thickness",
      [row("birch plywood", "5")],
      "nest",
      "unknown-thickness",
      3,
      "thickness",
      "4 mm or 6 mm",
    ],
    [
      "machine",
      [parts(), text("job.yaml", "title: x\nmachine: owm")],
      "time",
      "unknown-machine",
      2,
      "machine",
      '"own"',
    ],
    ["finish", [row("card", "1", "reeds")], "quote", "unknown-finish", 3, "finish", 'Write "reed"'],
    [
      "hardware",
      [parts(), text("hardware.csv", "item,qty\nm6-bolt,1")],
      "quote",
      "unknown-item",
      2,
      "item",
      '"m5-bolt"',
    ],
    [
      "stock",
      [parts(), text("lengths.csv", "name,stock,length,qty\na,lark,9,1")],
      "quote",
      "unknown-stock",
      2,
      "stock",
      '"larch"',
    ],
    [
      "finish of a length",
      [parts(), text("lengths.csv", "name,stock,length,qty,finish\na,larch,9,1,red")],
      "quote",
      "unknown-finish",
      2,
      "finish",
      "empty cell for bare",
    ],
    [
      "task",
      [parts(), text("hand-work.csv", "task\nasemble")],
      "quote",
      "unknown-task",
      2,
      "task",
      '"assemble"',
    ],
  ])("%s", (_, texts, need, code, line, column, says) => {
    const problems = checkReferences(jobOf(...texts), tablesWithout(), need);
    expect(spots(problems)).toEqual([[code, line, column]]);
    expect(sentence(problems[0]!)).toContain(says);
  });

  it("are not asked for by commands that do not use them", () => {
    const job = jobOf(row("card", "1", "gold"), text("job.yaml", "machine: none"));
    expect(checkReferences(job, tablesWithout(), "nest")).toEqual([]);
    expect(spots(checkReferences(job, tablesWithout(), "time"))).toEqual([
      ["unknown-machine", 1, "machine"],
    ]);
  });

  it.each<[string, Need, string, string]>([
    ["sheets.csv", "nest", "empty-table", "sheets.csv"],
    ["machines.csv", "time", "empty-table", "machines.csv"],
    ["rates.csv", "quote", "unknown-rate", "price-tables/tasks.csv"],
    ["paints.csv", "quote", "unknown-paint", "price-tables/finishes.csv"],
  ])("come with a table: without %s", (file, need, code, at) => {
    const job = jobOf(row("card", "1", "reed"), text("hand-work.csv", "task\nassemble"));
    const problems = checkReferences(job, tablesWithout(file), need);
    expect(problems.map((problem) => [problem.code, problem.file])).toContainEqual([code, at]);
    expect(new Set(problems.map((problem) => problem.code))).toEqual(new Set([code]));
  });

  it("include a machine and a currency", () => {
    const problems = checkReferences(jobOf(parts()), tablesWithout("settings.csv"), "quote");
    expect(spots(problems)).toEqual([
      ["no-machine", null, "machine"],
      ["no-currency", null, "currency"],
    ]);
  });
});

function mends(thickness: string): readonly string[] {
  const job = jobOf(row("birch plywood", thickness));
  return checkReferences(job, tablesWithout(), "nest").map(({ mend }) => mend);
}

describe("a thickness that is none stocked", () => {
  it("is asked whether it was measured when it is near one", () => {
    expect(mends("3.9")).toEqual([
      "Write 4 here, and 3.9 as measured under `measured:` in job.yaml, if that is its thickness by the caliper; else choose one of these, or add the sheet to sheets.csv",
    ]);
    expect(mends("5")).toEqual(["Choose one of these, or add the sheet to sheets.csv"]);
  });
});

describe("names as the tables have them", () => {
  it("replace other spellings, and thicknesses within 0.001 mm", () => {
    const job = jobOf(
      parts(
        "a,1,BIRCH  Plywood,4.0009 mm,,disc,,,9,,,,,Reed,",
        "b,1,birch plywood,4.0011,,disc,,,9,,,,,,",
      ),
      text("hardware.csv", "item,qty\nM5-Bolt,1"),
      text("lengths.csv", "name,stock,length,qty,finish\np,Larch,9,1,REED"),
      text("hand-work.csv", "task\nAssemble"),
      text("job.yaml", "machine: OWN"),
    );
    const spelled = spelledAsTables(job, tablesWithout());
    expect(spelled.parts[1]).toMatchObject({
      material: "birch plywood",
      thicknessMm: 4,
      finish: "reed",
    });
    expect(spelled.parts[2]?.thicknessMm).toBe(4.0011);
    expect(spelled).toMatchObject({
      machine: "own",
      hardware: [{ item: "m5-bolt" }],
      lengths: [{ stock: "larch", finish: "reed" }],
      handWork: [{ task: "assemble" }],
    });
    const thickness = checkReferences(job, tablesWithout(), "nest");
    expect(spots(thickness)).toEqual([["unknown-thickness", 4, "thickness"]]);
  });
});

describe("the intake of a command", () => {
  const sheet = "tiny,card,2,sheet,60,40,1.25,1,1,,2026-06-01,shelf";

  it("reads a job with its own table rows on its own date", () => {
    const [, base] = tables();
    const own = text("tables/sheets.csv", `${base?.text.split("\n")[0]}\n${sheet}`);
    const job = [parts("a,1,Card,2,,disc,,,9,,,,,,"), own, text("job.yaml", "date: 2026-07-01")];
    const read = readIntake({ jobName: "j", job, tables: tables() }, "quote");
    expect(read.problems).toEqual([]);
    expect(read.value?.job.parts[1]?.material).toBe("card");
    expect(read.value?.tables.sheets.map(({ id }) => id)).toContain("tiny");
    const early = [job[0]!, own, text("job.yaml", "date: 2026-05-01")];
    const none = readIntake({ jobName: "j", job: early, tables: tables() }, "quote");
    expect(spots(none.problems)).toEqual([
      ["not-yet-valid", 2, "valid_from"],
      ["unknown-thickness", 3, "thickness"],
    ]);
  });

  it("tells mistakes of the list and names that the tables lack together", () => {
    const job = [parts("a,0,card,1,,disc,,,9,,,,,,", "b,1,cart,1,,disc,,,9,,,,,,")];
    const { value, problems } = readIntake({ jobName: "j", job, tables: tables() }, "nest");
    expect(value).toBeNull();
    expect(spots(problems)).toEqual([
      ["not-a-whole-number", 3, "qty"],
      ["unknown-material", 4, "material"],
    ]);
  });

  it("does not blame the job for a table with mistakes", () => {
    const broken = tables({ "sheets.csv": ["x,cart,1,sheet,1,1,,0,0,,2026-01-01,t"] });
    const job = [parts("b,1,cart,1,,disc,,,9,,,,,,")];
    const { problems } = readIntake({ jobName: "j", job, tables: broken }, "nest");
    expect(spots(problems)).toEqual([["empty-cell", 5, "price"]]);
  });
});

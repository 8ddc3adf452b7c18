import { describe, expect, it } from "vitest";
import { checkJob } from "../../src/estimate.ts";
import { isError } from "../../src/problem.ts";
import { readWorked, TABLES, toolBoard } from "../worked/tool-board.ts";
import { planted, PLANTS, told } from "./planted.ts";

function errors(...changed: Parameters<typeof toolBoard>): readonly string[] {
  return checkJob(toolBoard(...changed))
    .filter(isError)
    .map(told);
}

describe("slips in a job and its tables", () => {
  it("are planted in every file", () => {
    const { job, tables } = toolBoard();
    const files = new Set(PLANTS.map(({ file }) => file));
    expect(files.size).toBe(job.length + tables.length);
    expect(errors()).toEqual([]);
  });

  it.each(PLANTS)("$said is said alone, with nothing that only follows from it", (plant) => {
    const found = checkJob(planted([plant]))
      .filter(isError)
      .map(told);
    expect(found).toEqual([plant.said]);
  });

  it("are all said in one run, each once", () => {
    const found = checkJob(planted(PLANTS)).filter(isError).map(told);
    expect(found.toSorted()).toEqual(PLANTS.map(({ said }) => said).toSorted());
  });
});

const LISTS = ["parts.csv", "hardware.csv", "lengths.csv", "hand-work.csv"];
const CSVS = [...LISTS.map((name) => `job/${name}`), ...TABLES.map((name) => `tables/${name}`)];

describe("a file that can not be read in part or at all", () => {
  it("is said once for a column that is missing, whatever needs its rows", () => {
    let judged = 0;
    for (const file of CSVS) {
      const [head = "", ...rows] = readWorked(file).split("\n");
      for (const column of head.split(",")) {
        const renamed = head.replace(new RegExp(`\\b${column}\\b`), "zzz");
        const found = errors({ [file]: [renamed, ...rows].join("\n") });
        if (!found.some((one) => one.startsWith("missing-column"))) continue;
        expect([file, column, found]).toEqual([file, column, [found[0]]]);
        judged++;
      }
    }
    expect(judged).toBeGreaterThan(60);
  });

  it.each(CSVS)("is said once where a quote in %s does not close", (file) => {
    const [head = "", first = "", ...rows] = readWorked(file).split("\n");
    const found = errors({ [file]: [head, `"${first}`, ...rows].join("\n") });
    expect(found.map((one) => one.split(" ")[0])).toEqual(["csv-quotes"]);
  });

  it.each(CSVS)(
    "is said once where %s has a title, another separator or a row too long",
    (file) => {
      const text = readWorked(file);
      const changed: readonly (readonly [string, string])[] = [
        ["header-not-first", `Spring list\n${text}`],
        ["unknown-separator", text.replaceAll(",", "|")],
        ["csv-surplus-cells", text.replace(/\n(.*)\n/, "\n$1,more,cells\n")],
      ];
      for (const [code, lines] of changed)
        expect(errors({ [file]: lines }).map((one) => one.split(" ")[0])).toEqual([code]);
    },
  );

  it.each(CSVS)("is said once where a row of %s has no name", (file) => {
    const [head = "", first = "", ...rows] = readWorked(file).split("\n");
    // Hand work is all blank but for its name; a row of blanks is passed over.
    const unnamed = first.replace(/^[^,]*/, "").replace(/^,,,,$/, ",,1,,");
    const found = errors({ [file]: [head, unnamed, ...rows].join("\n") });
    expect(found.map((one) => one.split(" ")[0])).toEqual(["empty-cell"]);
  });

  it.each(CSVS)("is said once where %s is empty", (file) => {
    expect(errors({ [file]: "" }).map((one) => one.split(" ")[0])).toEqual(["empty-file"]);
  });

  it.each(["", "reference", "price.margin_percent"])(
    "is said once where job.yaml is broken",
    (at) => {
      const text = readWorked("job/job.yaml");
      const broken = {
        "": `${text}\nprice: [`,
        reference: text.replace("reference: TB-1", "reference: a: b"),
        "price.margin_percent": `${text}\nprice:\n  margin_percent: 100 %\n`,
      }[at];
      expect(errors({ "job/job.yaml": broken ?? "" })).toHaveLength(1);
    },
  );
});

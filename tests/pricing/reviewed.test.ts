import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { slug } from "../../src/pricing/ledger.ts";
import { estimated, run, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Mistakes that once went through in silence or ended as a fault of ours; our own invented cases. */

const ROW = "part,qty,material,thickness,shape,width,height,finish";

/** The tool board's tables with another parts list, and no lists beside it. */
function job(parts: string, texts: Readonly<Record<string, string>> = {}): EstimateInput {
  const { tables, ...rest } = toolBoard({});
  const own = Object.entries(texts).map(([name, text]) => sourceText(name, text));
  return { ...rest, tables, job: [sourceText("parts.csv", `${ROW}\n${parts}`), ...own] };
}

function without(input: EstimateInput, file: string): EstimateInput {
  const tables = input.tables.filter(({ name }) => !name.endsWith(file));
  if (tables.length === input.tables.length) throw new RangeError(`no table ${file}`);
  return { ...input, tables };
}

function codes(input: EstimateInput): readonly string[] {
  return checkJob(input).map(({ code }) => code);
}

/** A material, thickness and finish of the tool board's tables. */
const [MATERIAL, THICKNESS] = (() => {
  const sheets = toolBoard({}).tables.find(({ name }) => name.endsWith("sheets.csv"))?.text ?? "";
  const [, material = "", thickness = ""] = sheets.split(/\r?\n/)[1]?.split(",") ?? [];
  return [material, thickness];
})();
const PLATE = `plate,1,${MATERIAL},${THICKNESS},rectangle,40,30,`;

describe("hand work that a job does not list", () => {
  it("is refused without rates or without tasks, never priced at nothing", () => {
    const [head] = (
      toolBoard({}).tables.find(({ name }) => name.endsWith("tasks.csv"))?.text ?? ""
    ).split("\n");
    const task =
      "tidy,Tidying,order,1,2,3,bench,always,,Making and assembly,2026-01-01,invented for the test";
    const usual = job(PLATE, { "tables/tasks.csv": `${head}\n${task}\n` });
    const hours = estimated(usual).figures.filter(({ id }) => id === "work.tidy.cost");
    expect(hours.map(({ value }) => Number(value) > 0)).toEqual([true]);
    expect(run(without(usual, "rates.csv")).problems.map(({ code }) => code)).toContain(
      "unknown-rate",
    );
    expect(codes(without(job(PLATE), "tasks.csv"))).toContain("no-tasks");
  });

  it("names the part of a task that no part counts for", () => {
    const tasks = toolBoard({}).tables.find(({ name }) => name.endsWith("tasks.csv"))?.text ?? "";
    const order = tasks.split(/\r?\n/).find((line) => line.split(",").includes("order"));
    const task = order?.split(",")[0] ?? "";
    const list = { "hand-work.csv": `task,part\n${task},plate\n` };
    expect(codes(job(PLATE, list))).toContain("part-not-used");
  });
});

describe("names", () => {
  it("that figures are called by do not meet", () => {
    const parts = ["each", "area", "coats", "holes", "copies", "a _b", "a_ b"].map((name) =>
      PLATE.replace("plate", name),
    );
    expect(estimated(job(parts.join("\n"))).parts).toHaveLength(parts.length);
  });

  it("have slugs of their own", () => {
    const names = ["a _b", "a_ b", "a__b", "a.b", "a,b", "a b", "a-b", "~20~", " ", "+", "a+b"];
    expect(new Set(names.map(slug)).size).toBe(names.length);
  });

  it("spelt two ways in the tables are a problem", () => {
    const row = `own,${MATERIAL.toUpperCase()},${THICKNESS},sheet,300,300,1,5,3,,2026-01-01,here`;
    const head =
      "id,material,thickness_mm,form,width_mm,height_mm,price,margin_mm,gap_mm,on_hand,valid_from,source";
    expect(codes(job(PLATE, { "tables/sheets.csv": `${head}\n${row}\n` }))).toContain(
      "spelt-two-ways",
    );
  });

  it("of columns may be words that every object knows", () => {
    const input = job(PLATE);
    const parts = sourceText("parts.csv", `${ROW},constructor\n${PLATE},x`);
    expect(codes({ ...input, job: [parts] })).not.toContain("unknown");
    expect(run({ ...input, job: [parts] }).value).not.toBeNull();
  });
});

describe("a part that may lie face down", () => {
  it("is warned of when it carries marks", () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">' +
      '<rect width="40" height="30" fill="none" stroke="#000"/>' +
      '<line class="s" x1="5" y1="5" x2="20" y2="5" stroke="#000"/></svg>';
    const list = `part,qty,material,thickness,drawing,flip\np,1,${MATERIAL},${THICKNESS},p.svg,yes`;
    const texts = [
      sourceText("parts.csv", list),
      sourceText("p.svg", svg),
      sourceText("job.yaml", "lines:\n  - class: s\n    do: score\n"),
    ];
    expect(codes({ ...job(PLATE), job: texts })).toContain("marks-flipped");
    const unflipped = list.replace(",yes", ",no");
    const rest = [sourceText("parts.csv", unflipped), ...texts.slice(1)];
    expect(codes({ ...job(PLATE), job: rest })).not.toContain("marks-flipped");
  });
});

function refusals(list: string): readonly string[] {
  return codes({ ...job(PLATE), job: [sourceText("parts.csv", list)] });
}

describe("a material that must never meet a laser", () => {
  it("is refused alone, and whatever else is wrong with its row or the list", () => {
    const alone = `${ROW}\nsign,1,PVC,3,rectangle,40,30,`;
    expect(refusals(alone)).toEqual(["never-laser"]);
    for (const list of [
      alone.replace("rectangle", "heart"),
      alone.replace("sign,1", "sign,0"),
      alone.replace("40,30", '"4,0",30'),
      alone.replace("qty", "quantity"),
    ]) {
      expect(refusals(list)).toContain("never-laser");
      expect(refusals(list).length).toBeGreaterThan(1);
    }
  });
});

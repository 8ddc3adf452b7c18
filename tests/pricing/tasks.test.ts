import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { tasksOf } from "../../src/pricing/tasks.ts";
import { readInput } from "../../src/stages/read.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Which hand work is counted when a job lists some of its own. All cases are invented. */

const PARTS = [
  "part,qty,material,thickness,shape,width,height,finish",
  "sign,2,acrylic cast,3,rectangle,60,40,signal-red",
  "back,1,acrylic cast,3,rectangle,60,40,oiled",
  "foot,1,acrylic cast,3,rectangle,60,40,",
].join("\n");

/** The tool board's tasks, of which some are usual. */
const USUAL = readWorked("tables/tasks.csv")
  .replace(/^(deburr|pack|drawing)(.*),no,/gm, "$1$2,always,")
  .replace(/^(spray|scuff)(,.*),no,/gm, "$1$2,painted,");

function job(handWork: readonly string[] | null, tasks = USUAL, parts = PARTS): EstimateInput {
  const { tables, ...rest } = toolBoard({ "tables/tasks.csv": tasks });
  const list = ["task,part,qty,minutes", ...(handWork ?? [])].join("\n");
  const own = handWork === null ? [] : [sourceText("hand-work.csv", list)];
  return { ...rest, tables, job: [sourceText("parts.csv", parts), ...own] };
}

/** `deburr: sign back foot`, in the order in which they are counted. */
function doings(...input: Parameters<typeof job>): readonly string[] {
  return tasksOf(readInput(job(...input), "quote").read).map(({ task, parts, use }) =>
    [`${task.id}${use === null ? "" : "*"}:`, ...parts.map(({ name }) => name)].join(" "),
  );
}

function codes(...input: Parameters<typeof job>): readonly string[] {
  return checkJob(job(...input)).map(({ code }) => code);
}

/** Direct cost of the job with such a list. */
function net(list: readonly string[] | null): number {
  return Number(estimated(job(list)).figures.find(({ id }) => id === "cost.direct")?.value);
}

const ALL = "sign back foot";
const EVERY = [
  `drawing: ${ALL}`,
  `deburr: ${ALL}`,
  `scuff: ${ALL}`,
  `spray: ${ALL}`,
  `pack: ${ALL}`,
];

function less(...tasks: readonly string[]): readonly string[] {
  return EVERY.filter((one) => !tasks.some((task) => one.startsWith(`${task}:`)));
}

describe("tasks of a job", () => {
  it("are the usual ones where it lists none", () => {
    expect(doings(null)).toEqual(EVERY);
    expect(doings([])).toEqual(EVERY);
  });

  it("stay where it lists some of its own", () => {
    expect(doings(["saw", "drill,sign"])).toEqual([`saw*: ${ALL}`, "drill*: sign", ...EVERY]);
  });

  it("of one part are taken out of a row for all, also by 0 times", () => {
    expect(doings(["deburr", "deburr,back,2"])).toEqual([
      "deburr*: sign foot",
      "deburr*: back",
      ...less("deburr"),
    ]);
    expect(doings(["deburr", "deburr,back,0"])).toEqual(["deburr*: sign foot", ...less("deburr")]);
  });

  it("are not both left out and counted", () => {
    expect(codes(["pack,,0", "pack,,1"])).toContain("task-contradicted");
    expect(codes(["deburr,back,0", "deburr,back,2"])).toContain("task-contradicted");
    expect(codes(["pack,,0"])).not.toContain("task-contradicted");
  });

  it("are usual with lengths to saw only where there are lengths", () => {
    const sawing = USUAL.replace(/^(saw,.*),no,/m, "$1,lengths,");
    const { tables, job: texts, ...rest } = job(null, sawing);
    const lengths = sourceText("lengths.csv", "name,stock,length,qty\nrail,oak-strip,300,1");
    const ids = (list: EstimateInput["job"]): readonly string[] =>
      tasksOf(readInput({ ...rest, tables, job: list }, "quote").read).map(({ task }) => task.id);
    expect(ids(texts)).not.toContain("saw");
    expect(ids([...texts, lengths])).toContain("saw");
  });

  it("are as listed where it lists a usual one", () => {
    expect(doings(["pack,,,20", "spray,,2"])).toEqual([
      `pack*: ${ALL}`,
      `spray*: ${ALL}`,
      ...less("pack", "spray"),
    ]);
  });

  it("stay for the parts that the list does not name", () => {
    expect(doings(["deburr,foot,1,5"])).toEqual([
      "deburr*: foot",
      "drawing: sign back foot",
      "deburr: sign back",
      ...less("drawing", "deburr"),
    ]);
    // Foot has no finish: nothing is left to scuff.
    expect(doings(["scuff,sign", "scuff,back"])).toEqual([
      "scuff*: sign",
      "scuff*: back",
      ...less("scuff"),
    ]);
  });

  it("are left out by 0 times alone, for all parts or for some", () => {
    expect(doings(["pack,,0"])).toEqual(less("pack"));
    expect(doings(["deburr,foot,0"])).toContain("deburr: sign back");
    expect(codes(["pack,,0", "deburr,foot,0"])).toEqual([]);
  });

  it("are painted ones only where a part has a finish", () => {
    const bare = PARTS.replaceAll(/signal-red|oiled/g, "");
    expect(doings(null, USUAL, bare)).toEqual(less("scuff", "spray"));
  });

  it("never cost less for a list that only adds to them", () => {
    const usual = net(null);
    expect(net(["saw", "drill,sign"])).toBeGreaterThanOrEqual(usual);
    expect(net(["assemble"])).toBeGreaterThan(usual);
    // Told again for each part, what it costs is the same.
    expect(net(["deburr,sign", "deburr,back"])).toBeCloseTo(usual, 9);
    expect(net(["deburr,sign,0"])).toBeLessThan(usual);
  });

  it("count the other parts apart, by name", () => {
    const { figures } = estimated(job(["deburr,foot,1,5"]));
    const of = (id: string) => figures.find((figure) => figure.id === id);
    // One foot at 5 min; two signs and a back at 1.5 min of the table.
    expect(Number(of("work.deburr_foot.time")?.value)).toBe(5);
    expect(Number(of("work.deburr.time")?.value)).toBe(4.5);
    expect(of("work.deburr.time")?.label).toBe("Deburring (other parts)");
  });
});

describe("paint that nobody puts on", () => {
  const NONE = readWorked("tables/tasks.csv");

  it("is warned of, with the parts that it is bought for", () => {
    const found = checkJob(job(["assemble"], NONE)).find(({ code }) => code === "unsprayed");
    expect(found).toMatchObject({
      severity: "warning",
      file: "parts.csv",
      line: 2,
      column: "finish",
      found: "signal-red on sign, oiled on back",
    });
  });

  it("is not warned of where a task goes by the area of each", () => {
    for (const list of [["spray"], ["scuff"], ["spray,sign", "scuff,back"]])
      expect(codes(list, NONE)).toEqual([]);
    expect(codes(["spray,back", "assemble"], NONE)).toEqual(["unsprayed"]);
    expect(codes(["spray,,0", "assemble"], NONE)).toEqual(["unsprayed"]);
    expect(codes(["assemble"], NONE, PARTS.replaceAll(/signal-red|oiled/g, ""))).toEqual([]);
  });
});

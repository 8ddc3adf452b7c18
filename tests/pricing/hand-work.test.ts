import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { summary } from "../../src/exports/summary.ts";
import { tookForm } from "../../src/exports/took-form.ts";
import { rowsOf } from "../helpers/rows.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Set-up, learning and what hand work is counted by. All jobs are invented. */

const PARTS = [
  "part,qty,material,thickness,shape,width,height,slot width",
  "plate,1,acrylic cast,3,half-lap,60,40,3",
  "foot,2,acrylic cast,3,rectangle,50,20,",
].join("\n");

const TASKS =
  "id,description,basis,minutes,minutes_low,minutes_high,setup_minutes,learning_percent,rate,section,valid_from,source,supplies_each";

interface Case {
  readonly tasks: readonly string[];
  readonly handWork: readonly string[];
  readonly pieces?: number;
  readonly settings?: string;
  /** Of every task, each unit. */
  readonly supplies?: string;
}

function job({ tasks, handWork, pieces = 1, settings = "", supplies = "" }: Case): EstimateInput {
  const rows = tasks.map((row) => `${row},2026-01-01,invented,${supplies}`);
  const table = [TASKS, ...rows].join("\n");
  const { tables, ...rest } = toolBoard({
    "tables/tasks.csv": table,
    "tables/settings.csv": `${readWorked("tables/settings.csv")}${settings}`,
  });
  const fits = [
    "id,material,clearance_low_mm,clearance_high_mm,over_mm,over_per_mm,under_mm,under_per_mm,valid_from,source",
    "a,acrylic cast,0,0.1,0.4,0.1,0.4,0.1,2026-01-01,ISO 7823-1",
  ].join("\n");
  return {
    ...rest,
    tables: [...tables, sourceText("tables/fits.csv", fits)],
    job: [
      sourceText("parts.csv", PARTS),
      sourceText("job.yaml", `pieces: ${pieces}\n`),
      sourceText("hand-work.csv", ["task,part,qty,minutes", ...handWork].join("\n")),
    ],
  };
}

function valueOf(input: EstimateInput): (id: string) => number {
  const { figures } = estimated(input);
  return (id) => Number(figures.find((figure) => figure.id === id)?.value ?? Number.NaN);
}

function codes(input: EstimateInput): readonly string[] {
  return checkJob(input).map(({ code }) => code);
}

function model(word: string): string {
  return `learning_model,${word},2026-01-01,invented\n`;
}

describe("set-up", () => {
  const tasks = ["jig,Bending on a jig,piece,4,,,30,,bench,Making and assembly"];

  // Derived: unit = setup / n + run.
  it.each([
    [1, 34],
    [2, 19],
    [5, 10],
    [10, 7],
  ])("is spread over %s pieces: %s min for each", (pieces, each) => {
    const of = valueOf(job({ tasks, handWork: ["jig"], pieces }));
    expect(of("work.jig.each")).toBe(each);
    expect(of("work.jig.run")).toBe(4 * pieces);
    expect(of("work.jig.time")).toBe(30 + 4 * pieces);
  });

  it("comes once for the order, however many rows the task has and however often it is done", () => {
    const part = ["jig,Bending on a jig,part,4,,,30,,bench,Making and assembly"];
    const of = valueOf(job({ tasks: part, handWork: ["jig,plate,3", "jig,foot"] }));
    expect(of("work.jig_plate.time")).toBe(30 + 3 * 4);
    expect(of("work.jig_foot.time")).toBe(2 * 4);
  });
});

describe("learning over repeated pieces", () => {
  const tasks = ["fold,Folding,piece,50,,,,80,bench,Making and assembly"];

  // Teaching page (L1) and project management text (L2): four pieces of 50 min at 80 %.
  it("has the average piece by the model that is named", () => {
    const unit = valueOf(job({ tasks, handWork: ["fold"], pieces: 4, settings: model("unit") }));
    expect(unit("work.fold.time")).toBeCloseTo(50 + 40 + 50 * 3 ** Math.log2(0.8) + 32, 9);
    const average = valueOf(
      job({ tasks, handWork: ["fold"], pieces: 4, settings: model("cumulative average") }),
    );
    expect(average("work.fold.time")).toBeCloseTo(4 * 32, 9);
    expect(average("task.fold.average")).toBeCloseTo(0.64, 9);
  });

  it("leaves one piece, the set-up and the machine as they are", () => {
    const settings = model("unit");
    expect(valueOf(job({ tasks, handWork: ["fold"], settings }))("work.fold.time")).toBe(50);
    const setUp = ["fold,Folding,piece,50,,,30,80,bench,Making and assembly"];
    const of = valueOf(job({ tasks: setUp, handWork: ["fold"], pieces: 2, settings }));
    expect(of("work.fold.time")).toBeCloseTo(30 + 50 + 40, 9);
    const plain = valueOf(job({ tasks: setUp, handWork: [], pieces: 2, settings }));
    expect(of("machine.minutes")).toBe(plain("machine.minutes"));
  });

  it("goes by pieces also where parts, edges or holes are counted", () => {
    const part = ["ease,Easing,part,10,,,,80,bench,Making and assembly"];
    const of = valueOf(
      job({ tasks: part, handWork: ["ease"], pieces: 2, settings: model("unit") }),
    );
    expect(of("work.ease.count")).toBe(6);
    expect(of("work.ease.time")).toBeCloseTo(30 + 24, 9);
  });

  it("is refused without a model, for what is not repeated, and of a rate that is none", () => {
    expect(codes(job({ tasks, handWork: ["fold"] }))).toContain("no-learning-model");
    expect(codes(job({ tasks, handWork: ["fold"], settings: model("unit") }))).not.toContain(
      "no-learning-model",
    );
    expect(codes(job({ tasks, handWork: ["fold"], settings: model("wright") }))).toContain(
      "not-a-choice",
    );
    const order = ["draw,Drawing,order,50,,,,90,bench,Making and assembly"];
    expect(codes(job({ tasks: order, handWork: ["draw"], settings: model("unit") }))).toContain(
      "learning-not-used",
    );
    const strange = ["fold,Folding,piece,50,,,,0.8,bench,Making and assembly"];
    expect(codes(job({ tasks: strange, handWork: ["fold"] }))).toContain("not-a-number");
  });

  it("goes by the job's own word before that of the tables", () => {
    const input = job({ tasks, handWork: ["fold"], pieces: 4, settings: model("unit") });
    const texts = input.job.map((one) =>
      one.name === "job.yaml"
        ? sourceText("job.yaml", "pieces: 4\nprice:\n  learning_model: Cumulative Average\n")
        : one,
    );
    const figure = estimated({ ...input, job: texts }).figures.find(
      ({ id }) => id === "task.fold.learned",
    );
    expect(Number(figure?.value)).toBeCloseTo(2.56, 9);
    expect(figure?.origin).toMatchObject({
      because:
        "cumulative average model (Wright 1936): average of n = T1 n^b; job.yaml, line 3, price.learning_model",
    });
  });
});

describe("what hand work is counted by", () => {
  const tasks = [
    "ease,Easing edges,edge m,6,,,,,bench,Making and assembly",
    "join,Fitting a slot,slot,5,,,,,bench,Making and assembly",
  ];

  it("has metres of cut edge and slots that a sheet stands in", () => {
    const of = valueOf(job({ tasks, handWork: ["ease", "join"], pieces: 2 }));
    // Plate: 2 x (60 + 40) and both sides of a slot 20.1 deep; two feet of 2 x (50 + 20).
    expect(of("work.ease.count")).toBeCloseTo(2 * (0.2 + 2 * 0.0201 + 2 * 0.14), 9);
    expect(of("part.plate.slots")).toBe(1);
    expect(of("work.join.count")).toBe(2);
    expect(of("work.join.time")).toBe(10);
  });

  it("warns of slots where there are none", () => {
    expect(codes(job({ tasks, handWork: ["join,foot"] }))).toContain("no-work");
    expect(codes(job({ tasks, handWork: ["join,plate"] }))).not.toContain("no-work");
  });

  it("carries the spread of a table's minutes, in the same proportion for a job's own", () => {
    const spread = ["glue,Gluing,piece,5,3,9,,,bench,Making and assembly"];
    const found = (handWork: string) =>
      estimated(job({ tasks: spread, handWork: [handWork] })).figures.find(({ id }) =>
        id.endsWith("glue.minutes"),
      );
    expect(found("glue")?.spread).toEqual({ low: "3", high: "9" });
    expect(found("glue,,,8")?.spread).toEqual({ low: "4.8", high: "14.4" });
  });
});

describe("what hand work uses up", () => {
  // Two trial rounds in card at 45 min and 3.20 of card each.
  it("is paid for every unit, as often as it is done", () => {
    const tasks = ["card-trial,Trial in card,order,45,,,,,bench,Design and preparation"];
    const input = job({ tasks, handWork: ["card-trial,,2"], supplies: "3.20" });
    const of = valueOf(input);
    expect(of("work.card-trial.times")).toBe(2);
    expect(of("work.card-trial.time")).toBe(90);
    expect(of("work.card-trial.supplies")).toBe(6.4);
    const hours = of("work.card-trial.cost");
    expect(of("cost.design_and_preparation")).toBeCloseTo(hours + 6.4, 9);
    expect(summary(estimated(input))).toMatch(/^ {2}Used up by it +in 1 task +6\.40$/m);
  });

  it("goes by the count, whatever is learned or set up", () => {
    const tasks = ["sand,Sanding edges,edge m,2,,,10,80,bench,Finishing"];
    const settings = model("unit");
    const of = valueOf(job({ tasks, handWork: ["sand"], pieces: 2, settings, supplies: "0.50" }));
    expect(of("work.sand.supplies")).toBeCloseTo(0.5 * of("work.sand.count"), 12);
  });

  it.each([
    ["", "6", "2"],
    ["10", "16", ""],
  ])("is no part of the minutes in the form of what it took, set-up %s", (setup, minutes, each) => {
    const tasks = [`sand,Sanding,part,2,,,${setup},,bench,Finishing`];
    const input = job({ tasks, handWork: ["sand"], supplies: "0.50" });
    const row = rowsOf(tookForm(estimated(input))).find(({ item }) => item === "sand");
    // With a set-up the whole tells nothing of the table's minutes for one.
    expect(row).toMatchObject({ estimated: minutes, each_min: each });
  });
});

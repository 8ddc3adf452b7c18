import { describe, expect, it } from "vitest";
import type { ComparedChoice, EstimateInput, SheetsReport } from "../../src/estimate-data.ts";
import { timeJob } from "../../src/estimate.ts";
import { sheetsJson } from "../../src/exports/sheets-json.ts";
import { sheetsText } from "../../src/exports/sheets-text.ts";
import { drain } from "../helpers/drain.ts";
import { compared, SMALL, withTexts } from "../helpers/job.ts";

/** Plates of 250 x 180 mm: a sheet of 600 x 400 mm takes four, for 12.50 (derived). */
function plates(copies: number, offcuts: readonly string[] = []): EstimateInput {
  return withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,shape,width,height",
      `plate,${copies},birch plywood,4,rectangle,250,180`,
    ],
    "job.yaml": "price: {markup_percent: 25, delivery: 1}",
    "hardware.csv": "item,qty,per,part",
    "offcuts.csv": ["id,material,thickness,width,height,qty", ...offcuts],
  });
}

const SHELF = ["shelf-1,birch plywood,4,270,200,1"];

function cells(report: SheetsReport): readonly (readonly string[])[] {
  return sheetsText(report)
    .split("\n")
    .map((line) => line.trim().split(/\s{2,}/));
}

describe("the choices of sheets in one table", () => {
  it("have a row each, with what they take, cost, waste and leave", () => {
    const [title, head, row, ...bound] = cells(compared(plates(4)));
    expect(title).toEqual(["birch plywood 4 mm"]);
    expect(head?.slice(0, 3)).toEqual(["choice", "pcs", "EUR"]);
    expect(head?.slice(-5)).toEqual(["time", "used", "waste", "left whole", "gap"]);
    // Used 4 x 250 x 180 of 600 x 400; left 84 x 390; wasted 0.24 - 0.18 - 0.03276 m2.
    expect(row?.slice(0, 3)).toEqual(["> ply-4", "1", "12.50"]);
    expect(row?.slice(-4)).toEqual(["75 %", "0.03", "84 x 390", "0 %"]);
    expect(bound.slice(0, 2).flat().join(" ")).toBe(
      "No choice of these sheets can cost less than 12.50: the one marked is proved to be the cheapest.",
    );
  });

  it("name a mix with offcuts by what it is of, before each size for itself", () => {
    const said = cells(compared(plates(5, SHELF)));
    expect(said[2]?.slice(0, 3)).toEqual(["> with offcuts", "2", "12.50"]);
    expect(said.slice(3, 5)).toEqual([["1 x ply-4"], ["1 x shelf-1, offcut"]]);
    expect(said[5]?.slice(0, 3)).toEqual(["ply-4", "2", "25.00"]);
    expect(said.filter(([mark]) => mark?.startsWith(">"))).toHaveLength(1);
  });

  it("say what may help where the bound is far below, with more steps than were made", () => {
    const report = compared(plates(5));
    // Four plates cover 0.18 of 0.24 m2: five could do with two sheets only; the bound may not know.
    const [stock] = report.compared;
    const far = { ...stock!, costBound: "10", choices: stock!.choices.map(gapOf(150)) };
    const text = sheetsText({ ...report, compared: [far] }).replaceAll(/\s+/g, " ");
    expect(text).toContain("No choice of these sheets can cost less than 10.00.");
    expect(text).toContain(`as with --steps ${10 * report.steps};`);
    const near = { ...far, choices: stock!.choices.map(gapOf(4)) };
    expect(sheetsText({ ...report, compared: [near] })).not.toContain("--steps");
  });

  it("say it where some part has no place, and nothing of time or gap then", () => {
    const report = compared(plates(5));
    const [stock] = report.compared;
    const cut: ComparedChoice = {
      ...stock!.choices[0]!,
      complete: false,
      machineS: null,
      gapPercent: null,
    };
    const said = cells({ ...report, compared: [{ ...stock!, choices: [cut] }] });
    expect(said[2]?.filter((cell) => cell === "-")).toHaveLength(2);
    expect(said[3]).toEqual(["does not take every part"]);
  });

  it("fit 80 columns, whatever they are called", () => {
    let told = 0;
    for (const name of ["p", "ply-of-the-usual-kind", "p".repeat(26), "p".repeat(60)]) {
      const report = compared(plates(5, SHELF));
      const [stock] = report.compared;
      const choices = stock!.choices.map((choice) => ({
        ...choice,
        cost: "123456.5",
        used: choice.used.map((used) => ({ ...used, sheet: name })),
      }));
      const lines = sheetsText({ ...report, compared: [{ ...stock!, choices }] }).split("\n");
      expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
      expect(lines.some((line) => line.includes(name))).toBe(true);
      told += lines.filter((line) => line.includes("123456.50")).length;
    }
    expect(told).toBe(8);
  });
});

function gapOf(gapPercent: number): (choice: ComparedChoice) => ComparedChoice {
  return (choice) => ({ ...choice, gapPercent });
}

describe("the comparison of sheets", () => {
  it("has the time that `time` has for the sheets taken, with laying down and set-up", () => {
    const report = compared(plates(5));
    const timed = drain(timeJob(plates(5))).value!;
    const running = timed.stocks[0]!.times.reduce((sum, { runningS }) => sum + runningS, 0);
    const chosen = report.compared[0]!.choices.find((one) => one.chosen)!;
    expect(report.machine?.id).toBe(timed.machine.id);
    // Set-up 5 minutes, and 2 for each of two sheets.
    expect(chosen.machineS).toBeCloseTo(running + 60 * (5 + 2 * 2), 9);
  });

  it("does without the time where there is no feed, or no machine is named", () => {
    const thick = withTexts(plates(2), {
      "parts.csv": [
        "part,qty,material,thickness,shape,width,height",
        "plate,2,birch plywood,6,rectangle,250,180",
      ],
    });
    const noFeed = compared(thick);
    expect(noFeed.compared[0]?.choices).toMatchObject([{ machineS: null, chosen: true }]);
    expect(sheetsText(noFeed).replaceAll(/\s+/g, " ")).toContain("and time says why");
    const settings = SMALL.tables.find(({ name }) => name.endsWith("settings.csv"))!;
    const unnamed = settings.text.replace(/^machine,.*\n/m, "");
    const noMachine = compared(withTexts(plates(2), { [settings.name]: unnamed }));
    expect(noMachine.machine).toBeNull();
    expect(noMachine.compared[0]?.choices).toMatchObject([{ machineS: null, chosen: true }]);
    expect(sheetsText(noMachine).replaceAll(/\s+/g, " ")).toContain(
      "Time: name a machine in job.yaml for it.",
    );
  });

  it("shares every sheet out among parts, what is left whole, and waste", () => {
    const report = compared(plates(5, SHELF));
    let judged = 0;
    for (const { sheets, utilisation, wasteMm2, leftover, used } of report.compared[0]!.choices) {
      const area = used.reduce((sum, one) => sum + one.count * one.widthMm * one.heightMm!, 0);
      const whole = leftover === null ? 0 : leftover.widthMm * leftover.heightMm;
      expect(utilisation * area + wasteMm2 + whole).toBeCloseTo(area, 6);
      expect(utilisation * area).toBeCloseTo(5 * 250 * 180, 6);
      expect(used.reduce((sum, { count }) => sum + count, 0)).toBe(sheets);
      expect(wasteMm2).toBeGreaterThan(0);
      judged++;
    }
    expect(judged).toBe(2);
  });

  it("measures the gap from the bound", () => {
    for (const { costBound, choices } of compared(plates(5, SHELF)).compared)
      for (const { cost, gapPercent } of choices)
        expect(gapPercent).toBeCloseTo(100 * (Number(cost) / Number(costBound) - 1), 9);
  });

  it("only adds to what the JSON had", () => {
    const json = sheetsJson(compared(plates(5, SHELF)));
    expect(Object.keys(json)).toEqual(["version", "choices", "figures", "machine", "compared"]);
    expect(json.choices[0]).toMatchObject({ material: "birch plywood", bySize: [{}], mix: {} });
  });
});

import { describe, expect, it } from "vitest";
import { timeJob } from "../../src/estimate.ts";
import type { EstimateInput, TimeReport } from "../../src/estimate-data.ts";
import { timeText } from "../../src/exports/time-text.ts";
import { drain } from "../helpers/drain.ts";
import { SMALL, withTexts } from "../helpers/job.ts";
import { TABLES } from "../job/texts.ts";

const HEADER = "part,qty,material,thickness,drawing,shape,width,height,diameter";

/** Plates of which one fills a sheet, so that every sheet is the same, and a disc on the last. */
const PLAIN: EstimateInput = { ...SMALL, job: SMALL.job.slice(0, 2) };
const MANY = withTexts(PLAIN, {
  "parts.csv": [
    HEADER,
    "plate,10,birch plywood,4 mm,,rectangle,560,360,",
    "disc,1,birch plywood,4 mm,,disc,,,150",
  ],
});

function timed(input: EstimateInput): TimeReport {
  const { value, problems } = drain(timeJob(input));
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

/** `1:02:09` or `4:07` in seconds. */
function secondsOf(clock: string): number {
  return clock.split(":").reduce((sum, part) => 60 * sum + Number(part), 0);
}

describe("the machine's time in words", () => {
  const report = timed(MANY);
  const text = timeText(report);
  const lines = text.split("\n");

  it("goes into 80 columns", () => {
    expect(lines.filter((line) => line.length > 80)).toEqual([]);
    const both = timeText(timed(SMALL)).split("\n");
    expect(both.filter((line) => line.length > 80)).toEqual([]);
  });

  it("has sheets that are alike once", () => {
    const sheets = lines.filter((line) => /^ {2}sheets? \d/.test(line));
    expect(report.stocks[0]!.times).toHaveLength(31);
    expect(sheets).toHaveLength(2);
    expect(sheets[0]).toMatch(/^ {2}sheets 1 to 30 of 31, ply-4, each \d+:\d\d min; /);
    expect(sheets[1]).toMatch(/^ {2}sheet 31 of 31, ply-4: /);
  });

  it("has for each operation what it is made of, which adds up to the sheet", () => {
    const [cut, travel, handling] = ["cut", "travel", "handling"].map((name) =>
      lines
        .find((line) => line.trim().startsWith(`${name} `))!
        .trim()
        .split(/ {2,}/),
    );
    const [one] = report.stocks[0]!.times;
    const { lengthMm, contours } = one!.operations[0]!;
    expect(cut!.slice(0, 3)).toEqual(["cut", (lengthMm / 1000).toFixed(2), String(contours)]);
    const [atFeed, slower, starts, all] = cut!.slice(3).map(secondsOf);
    expect(Math.abs(atFeed! + slower! + starts! - all!)).toBeLessThanOrEqual(1);
    const running = all! + secondsOf(travel![2]!);
    expect(Math.abs(running - one!.runningS)).toBeLessThanOrEqual(1);
    // load_minutes of the machine is 2.
    expect(handling).toEqual(["handling", "2:00"]);
  });

  it("tells handling apart from running, for each sheet and each set-up", () => {
    // 31 sheets at 2 min and one set-up of 5 min.
    expect(lines[0]).toMatch(/^birch plywood 4 mm: .* running, 1:07:00 h handling$/);
    const flowing = text.replaceAll("\n", " ");
    expect(flowing).toContain(
      "Handling: each sheet loading 2:00 min; each material and thickness set-up 5:00 min.",
    );
    const [head = "", own = ""] = TABLES["machines.csv"]!;
    const more = withTexts(MANY, {
      "price-tables/machines.csv": [
        `${head},focus_minutes,origin_minutes,unload_minutes`,
        `${own},3,0.5,1`,
      ],
    });
    const told = timeText(timed(more)).replaceAll("\n", " ");
    expect(told).toContain(
      "each sheet loading 2:00 min, origin 0:30 min, unloading 1:00 min; each material and thickness set-up 5:00 min, focusing 3:00 min.",
    );
    // 31 x 3.5 + 8 min.
    expect(told).toContain("running, 1:56:30 h handling");
  });
});

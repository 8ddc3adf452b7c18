import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob, estimate, nestJob, timeJob } from "../../src/estimate.ts";
import { drain } from "../helpers/drain.ts";
import { readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Parts that no sheet takes, known before anything is nested. */

const SIZES = readWorked("tables/sheets.csv").replace(/^acrylic.*\n/gm, "");

/** Rows of part, quantity, width, height and turn, on acrylic sheets of these sizes. */
function job(rows: readonly string[], sizes: readonly string[]): EstimateInput {
  const sheets = sizes.map(
    (size) => `s-${size},acrylic cast,3,sheet,${size.replace("x", ",")},2.40,5,3,,2026-01-01,test`,
  );
  const { tables, ...rest } = toolBoard({
    "tables/sheets.csv": `${SIZES.trimEnd()}\n${sheets.join("\n")}\n`,
  });
  const parts = rows.map((row) => {
    const [name, qty, width, height, turn] = row.split(",");
    return `${name},${qty},acrylic cast,3,rectangle,${width},${height},${turn}`;
  });
  const list = ["part,qty,material,thickness,shape,width,height,turn", ...parts].join("\n");
  return { ...rest, tables, job: [sourceText("parts.csv", list)] };
}

/** Names of the parts complained of. */
function named(input: EstimateInput): readonly string[] {
  return checkJob(input)
    .filter(({ code }) => code === "does-not-fit")
    .map(({ found }) => found.split(",")[0] ?? "");
}

const UNPLACED = (input: EstimateInput): readonly string[] =>
  drain(nestJob(input)).value!.stocks.flatMap(({ unplaced }) => unplaced.map(({ part }) => part));

describe("a part larger than every sheet", () => {
  const input = job(["a,1,60,40,any", "door,2,400,300,any"], ["150x100", "300x200"]);

  it("is said by check, quote and time alike, before the nest begins", () => {
    const said = checkJob(input);
    expect(said.map(({ code }) => code)).toEqual(["does-not-fit"]);
    expect(said[0]).toMatchObject({ severity: "error", line: 3, column: "part" });
    expect(said[0]?.found).toBe("door, 2 copies without a place");
    expect(said[0]?.expected).toContain("larger than 150 x 100 mm, 300 x 200 mm less the margin");
    for (const begin of [estimate, timeJob]) {
      const first = begin(input).next();
      expect(first).toEqual({ done: true, value: { value: null, problems: said } });
    }
    expect(UNPLACED(input)).toEqual(["door"]);
  });

  it.each([
    // Margins of 5 mm leave 290 x 190 mm.
    ["fits to the mm", "290,190,fixed", []],
    ["is over by a mm", "291,190,fixed", ["door"]],
    ["may not be turned", "190,290,fixed", ["door"]],
    ["may only be turned about", "190,290,half", ["door"]],
    ["may be turned a quarter", "190,290,quarter", []],
    ["lies aslant", "320,10,any", []],
    ["would lie aslant", "320,10,quarter", ["door"]],
    ["is longer than the diagonal", "350,10,any", ["door"]],
  ])("or not: one that %s", (_, size, expected) => {
    const one = job(["a,1,60,40,any", `door,1,${size}`], ["150x100", "300x200"]);
    expect(named(one)).toEqual(expected);
    expect(UNPLACED(one)).toEqual(expected);
  });

  it("is said where only a sheet beyond the bed would take it", () => {
    // The bed is 700 x 500 mm.
    const two = job(["door,1,640,300,any", "gate,1,650,310,any"], ["1000x600", "600x300"]);
    expect(named(two)).toEqual(["door", "gate"]);
  });
});

describe("parts that go on some size each, but no size takes all", () => {
  it("are laid on several sizes", () => {
    const input = job(["rail,2,600,40,fixed", "plate,3,280,280,fixed"], ["640x80", "320x320"]);
    expect(named(input)).toEqual([]);
    const [stock] = drain(nestJob(input)).value!.stocks;
    expect(stock?.unplaced).toEqual([]);
    expect(stock?.used.map(({ widthMm, count }) => [widthMm, count])).toEqual([
      [640, 2],
      [320, 3],
    ]);
  });
});

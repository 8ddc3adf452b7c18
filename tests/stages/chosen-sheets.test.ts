import { describe, expect, it } from "vitest";
import type { EstimateInput, NestReport } from "../../src/estimate-data.ts";
import { nestJob } from "../../src/estimate.ts";
import { sentence } from "../../src/problem.ts";
import { drain } from "../helpers/drain.ts";
import { parts, tables, text } from "../job/texts.ts";

/** Three sizes of one board and one of another: the cheapest is found unless the job names some. */
const TABLES = tables({
  "sheets.csv": [
    "board-small,board,3,sheet,300,200,3,5,3,,2026-01-01,test",
    "board-wide,board,3,sheet,600,200,5,5,3,,2026-01-01,test",
    "board-large,board,3,sheet,600,400,9,5,3,,2026-01-01,test",
    "felt-3,felt,3,sheet,600,400,7,5,3,,2026-01-01,test",
  ],
});

function input(...sheets: readonly string[]): EstimateInput {
  const list = parts("a,8,board,3,,rectangle,130,90,,,,fixed,,,");
  const chosen = sheets.length === 0 ? [] : ["sheets:", ...sheets.map((id) => `  - ${id}`)];
  const job = [list, text("job.yaml", ["title: Trays", ...chosen])];
  return { jobName: "trays", job, tables: TABLES, seed: 1, steps: 1 };
}

function nested(...sheets: readonly string[]): NestReport {
  const { value, problems } = drain(nestJob(input(...sheets)));
  if (value === null) throw new Error(problems.map(sentence).join("\n"));
  return value;
}

function taken({ stocks }: NestReport): readonly string[] {
  const boards = stocks.filter(({ material }) => material === "board");
  return boards.flatMap(({ sheets }) => sheets.map(({ sheet }) => sheet));
}

function said(...sheets: readonly string[]): readonly string[] {
  return drain(nestJob(input(...sheets))).problems.map(sentence);
}

describe("sizes that the job names", () => {
  it("are the only ones taken of their material and thickness", () => {
    // Four to a small sheet of 3, eight to a wide one of 5.
    expect(new Set(taken(nested()))).toEqual(new Set(["board-wide"]));
    expect(taken(nested("board-small"))).toEqual(["board-small", "board-small"]);
    expect(taken(nested("Board-Large"))).toEqual(["board-large"]);
    expect(new Set(taken(nested("board-large", "board-wide")))).toEqual(new Set(["board-wide"]));
  });

  it("leave what they do not speak of as it was, and are warned of where no part is cut from them", () => {
    expect(new Set(taken(nested("felt-3")))).toEqual(new Set(["board-wide"]));
    expect(said("felt-3")).toEqual([
      'job.yaml, line 3, sheets.1: read "felt-3, a sheet of felt 3 mm", expected a size of a material and thickness that a part has. Remove it, or correct the parts list.',
    ]);
  });

  it("must be sold", () => {
    expect(said("board-smal", "slate")).toEqual([
      expect.stringContaining('line 3, sheets.1: read "board-smal"'),
      expect.stringContaining('line 4, sheets.2: read "slate"'),
    ]);
    expect(said("board-smal").join("")).toContain('Write "board-small" if that is meant');
  });
});

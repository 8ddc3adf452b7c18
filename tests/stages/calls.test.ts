import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob, estimate } from "../../src/estimate.ts";
import type { Problem } from "../../src/problem.ts";
import { isError } from "../../src/problem.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, readWorked, toolBoard } from "../worked/tool-board.ts";

/** What a job's lists call for and its parts do not have: known without a nest. */

function changed(file: string, from: string, to: string): EstimateInput {
  const before = readWorked(file);
  const after = from === "" ? `${before.trimEnd()}\n${to}\n` : before.replace(from, to);
  if (after === before) throw new RangeError(`nothing changed in ${file}`);
  return toolBoard({ [file]: after });
}

const CALLS: readonly (readonly [string, EstimateInput, Partial<Problem>])[] = [
  [
    "a hole that is nowhere in the part",
    changed("job/hardware.csv", "m5-bolt,1,hole,name-plate,5.5", "m5-bolt,1,hole,name-plate,6.5"),
    {
      code: "no-such-hole",
      severity: "error",
      line: 2,
      column: "hole diameter",
      found: "6.5 mm",
      expected: "the diameter of a hole in name-plate, which has round holes of 5.5 mm, 8 mm",
    },
  ],
  [
    "a hole in a part without holes",
    changed("job/hardware.csv", "m5-bolt,1,hole,name-plate,5.5", "m5-bolt,1,hole,label,"),
    {
      code: "no-such-hole",
      found: "",
      expected: "the diameter of a hole in label, which has no round holes",
    },
  ],
  [
    "a bolt too thick for its hole",
    changed("tables/hardware.csv", "fixing,M5,4,3.10", "fixing,M6,4,3.10"),
    {
      code: "hole-too-small",
      severity: "warning",
      file: "hardware.csv",
      line: 2,
      found: "a hole of 5.5 mm in name-plate for M6",
      // ISO 273: clearance holes for M6.
      expected: "6.6 mm or so (ISO 273: 6.4 fine, 6.6 medium, 7 coarse)",
    },
  ],
  [
    "holes to drill in a part without holes",
    changed("job/hand-work.csv", "drill,name-plate", "drill,label"),
    { code: "no-work", severity: "warning", line: 8, column: "task", expected: "round holes" },
  ],
  [
    "a bare part to spray",
    changed("job/hand-work.csv", "", "spray,ring,,,"),
    { code: "no-work", line: 12, expected: "a part with a finish" },
  ],
  [
    "lengths to saw where there are none",
    toolBoard({ "job/lengths.csv": "name,stock,length,qty,note" }),
    { code: "no-work", line: 9, expected: "rows in lengths.csv" },
  ],
  [
    "paint on a length",
    toolBoard({
      "job/lengths.csv": readWorked("job/lengths.csv")
        .replace("qty,note", "qty,finish")
        .replace("1,\n", "1,oiled\n"),
    }),
    { code: "finish-not-counted", severity: "warning", line: 2, column: "finish" },
  ],
];

describe("what the lists call for", () => {
  it("is all there in the hand-worked job", () => {
    expect(checkJob(toolBoard())).toEqual([]);
    expect(estimated(toolBoard()).warnings).toEqual([]);
  });

  it.each(CALLS)("and is missing, %s, is said by check and by quote alike", (_, input, problem) => {
    const said = checkJob(input);
    expect(said).toEqual([expect.objectContaining(problem)]);
    expect(drain(estimate(input)).problems).toEqual(said);
    // An error is said before the nest begins.
    expect(estimate(input).next().done).toBe(said.some(isError));
  });
});

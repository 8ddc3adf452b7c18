import { describe, expect, it } from "vitest";
import { timeJob } from "../../src/estimate.ts";
import type { Problem } from "../../src/problem.ts";
import { drain } from "../helpers/drain.ts";
import { SMALL, withTexts } from "../helpers/job.ts";

/**
 * A plate of 580 x 380 mm on a sheet of 600 x 400 that fills the bed, 5 mm from its edges, with an
 * engraved band from 10 mm on. By physics, v^2 / 2a, the beam runs out so far at 1000 mm/s2.
 */
function warnings(feedMmS: number): readonly Problem[] {
  const drawing = [
    '<svg xmlns="http://www.w3.org/2000/svg" width="580mm" height="380mm" viewBox="0 0 580 380">',
    '<rect width="580" height="380"/><rect class="engraved" x="10" y="100" width="560" height="2"/>',
    "</svg>",
  ];
  const [machine, material] = ["own", "birch plywood"];
  const input = withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,drawing,turn",
      "plate,1,birch plywood,4,plate.svg,fixed",
    ],
    "plate.svg": drawing,
    "job.yaml": ["lines:", "  - class: engraved", "    do: engrave"],
    "hardware.csv": ["item,qty,per,part"],
    "tables/feeds.csv": [
      "id,machine,material,thickness_mm,operation,feed_mm_s,passes,pierce_s,valid_from,source",
      `own-ply-4-engrave,${machine},${material},4,engrave,${feedMmS},1,0,2026-01-01,test`,
    ],
  });
  return drain(timeJob(input)).problems.filter(({ code }) => code === "engraving-beyond-bed");
}

describe("engraving near the edge of the bed", () => {
  it("is told where the beam has no room to turn", () => {
    // 200^2 / 2000 = 20 mm, 15 mm from the sheet's left edge and 25 mm from its right one.
    const [warning, ...others] = warnings(200);
    expect(others).toEqual([]);
    expect(warning?.found).toBe("200 mm/s, at which the beam turns 5 mm beyond the bed on ply-4");
    expect(warning).toMatchObject({ severity: "warning", column: "feed_mm_s" });
  });

  it("is not where it has", () => {
    // 150^2 / 2000 = 11.25 mm.
    expect(warnings(150)).toEqual([]);
  });
});

import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { cutListCsv } from "../../src/exports/cut-list-csv.ts";
import { makersSheet } from "../../src/exports/makers-sheet.ts";
import { summary } from "../../src/exports/summary.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Copies made on top because some will be spoilt. The job is the hand-worked one, changed. */

/** @param cells of the column `spare`, from the first part on. */
function board(cells: readonly string[], spoilage = "", pieces = 2): EstimateInput {
  const rows = readWorked("job/parts.csv").trimEnd().split("\n");
  const parts = rows.map(
    (row, index) => `${row},${index === 0 ? "spare" : (cells[index - 1] ?? "")}`,
  );
  const input = toolBoard({ "job/parts.csv": parts.join("\n") });
  const yaml = `${readWorked("job/job.yaml").replace(/^pieces: \d+$/m, `pieces: ${pieces}`)}\n`;
  const price = spoilage === "" ? "" : `price:\n  spoilage_percent: ${spoilage}\n`;
  const job = input.job.map((one) =>
    one.name === "job.yaml" ? sourceText("job.yaml", yaml + price) : one,
  );
  return { ...input, job };
}

function figuresOf(input: EstimateInput): (id: string) => number {
  const { figures } = estimated(input);
  return (id) => Number(figures.find((figure) => figure.id === id)?.value ?? Number.NaN);
}

describe("spare copies", () => {
  // Derived: 5 and 50 % of 2 boards and 4 rings, rounded up.
  it.each([
    ["5", 3, 5],
    ["50", 3, 6],
    ["100", 4, 8],
  ])("are %s %% of each part's, rounded up to whole ones", (percent, boards, rings) => {
    const of = figuresOf(board([], percent));
    expect([of("part.board.copies"), of("part.board.made")]).toEqual([2, boards]);
    expect([of("part.ring.copies"), of("part.ring.made")]).toEqual([4, rings]);
  });

  it("are as many as a part's own cell says, for the order, before what the settings say", () => {
    const of = figuresOf(board(["1", "0", "3", "30 %"], "5"));
    expect([of("part.board.copies"), of("part.board.made")]).toEqual([2, 3]);
    expect(of("part.name-plate.copies")).toBe(2);
    expect(of("part.name-plate.made")).toBeNaN();
    expect(of("part.label.made")).toBe(5);
    expect(of("part.ring.made")).toBe(6);
  });

  it("are on the sheets, in the machine's time, the paint and work by the part, and nowhere else", () => {
    const [plain, spare] = [estimated(board([])), estimated(board(["", "1", "", ""]))];
    const placed = (name: string, { stocks }: typeof plain): number =>
      stocks
        .flatMap(({ sheets }) => sheets.flatMap(({ placements }) => placements))
        .filter(({ part }) => part === name).length;
    expect([placed("name-plate", plain), placed("name-plate", spare)]).toEqual([2, 3]);
    const [before, after] = [figuresOf(board([])), figuresOf(board(["", "1", "", ""]))];
    const more = (id: string): number => after(id) / before(id);
    expect(more("sheet.acrylic_cast_3.count")).toBe(9 / 8);
    expect(more("machine.acrylic_cast_3.running")).toBeGreaterThan(1);
    expect(more("part.name-plate.area-both-edges")).toBe(1.5);
    expect(after("work.deburr.count") - before("work.deburr.count")).toBe(1);
    expect(more("part.name-plate.all-holes")).toBe(1.5);
    for (const id of [
      "hardware.m5-bolt.need",
      "work.assemble.time",
      "part.board.copies",
      "job.pieces",
    ])
      expect(more(id)).toBe(1);
    expect(after("quote.net")).toBeGreaterThanOrEqual(before("quote.net"));
  });

  it("say so to the maker, and nothing to the customer", () => {
    const estimate = estimated(board(["", "1", "2", ""]));
    expect(summary(estimate)).toContain("2 x tool board, and 3 spare parts\n");
    const bench = makersSheet(estimate);
    expect(bench).toContain("2 x tool board, and 3 spare parts");
    expect(bench).toMatch(/4 x label: 2 of them spare; /);
    expect(cutListCsv(estimate)).toMatch(/,name-plate,3,1 to 3,/);
    expect(JSON.stringify(estimate.quote)).not.toMatch(/spare/i);
    const source = estimate.figures.find(({ id }) => id === "sheet.acrylic_cast_3.count")?.origin;
    expect(JSON.stringify(source)).toContain('"parts.csv"');
  });

  it("have the setting among what the sheets depend on", () => {
    const count = estimated(board([], "5")).figures.find(
      ({ id }) => id === "sheet.acrylic_cast_3.count",
    );
    expect(JSON.stringify(count?.origin)).toContain("price.spoilage_percent");
  });

  it("are none where the settings say 0", () => {
    const { figures } = estimated(board([], "0"));
    expect(figures).toEqual(estimated(board([])).figures);
  });
});

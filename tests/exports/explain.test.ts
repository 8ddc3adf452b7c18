import { describe, expect, it } from "vitest";
import { explainFigure, explanation } from "../../src/exports/explain.ts";
import { estimated, SMALL } from "../helpers/job.ts";

const ESTIMATE = estimated(SMALL);
const BY_ID = new Map(ESTIMATE.figures.map((figure) => [figure.id, figure]));

/** The figure that a line is about, and how deep it stands. */
function told(line: string): { id: string; depth: number } {
  const id = /\[([^\]]+)\]/.exec(line)?.[1] ?? "";
  return { id, depth: line.search(/\S/) / 2 };
}

function inputsOf(id: string): readonly string[] {
  const origin = BY_ID.get(id)?.origin;
  return origin?.kind === "derived" ? origin.inputs : [];
}

describe("explainFigure", () => {
  it.each(["quote.net", "quote.total", "machine.cost", "cost.direct"])(
    "unfolds %s down to file, line and column",
    (id) => {
      const lines = explainFigure(ESTIMATE, id);
      const leaves = lines.filter((line) => line.includes("<- "));
      expect(told(lines[0] ?? "")).toEqual({ id, depth: 0 });
      expect(leaves.length).toBeGreaterThan(5);
      for (const leaf of leaves) expect(leaf).toMatch(/\.(csv|yaml), line \d+/);
      const cells = leaves.filter((leaf) => /<- \S+, line \d+, [a-z_.]+/.test(leaf));
      expect(cells.length).toBeGreaterThanOrEqual(5);
      for (const line of lines) expect(/ {2}<- | {2}= |\(see above\)$/.test(line)).toBe(true);
    },
  );

  it("unfolds no figure twice, and refers only to what stands above", () => {
    const lines = explainFigure(ESTIMATE, "quote.net");
    const unfolded = new Set<string>();
    let again = 0;
    for (const line of lines) {
      const { id } = told(line);
      const repeated = line.endsWith("(see above)");
      if (repeated) again += 1;
      if (inputsOf(id).length === 0) continue;
      expect(unfolded.has(id)).toBe(repeated);
      unfolded.add(id);
    }
    expect(again).toBeGreaterThan(5);
    expect(unfolded.size).toBeGreaterThan(50);
  });

  it("puts the inputs of a figure, in their order and each once, one step below it", () => {
    const lines = explainFigure(ESTIMATE, "quote.net").map((line) => ({ ...told(line), line }));
    let checked = 0;
    for (const [index, { id, depth, line }] of lines.entries()) {
      if (line.endsWith("(see above)")) continue;
      const rest = lines.slice(index + 1);
      const end = rest.findIndex((one) => one.depth <= depth);
      const below = rest.slice(0, end < 0 ? rest.length : end);
      const direct = below.filter((one) => one.depth === depth + 1).map((one) => one.id);
      expect(direct).toEqual([...new Set(inputsOf(id))]);
      checked += 1;
    }
    expect(checked).toBeGreaterThan(100);
  });

  it("can explain every figure there is", () => {
    for (const id of BY_ID.keys()) expect(explainFigure(ESTIMATE, id).length).toBeGreaterThan(0);
    expect(() => explainFigure(ESTIMATE, "no.such-figure")).toThrow(RangeError);
  });
});

describe("explanation", () => {
  it("has what the tree shows, each once, inputs before what uses them", () => {
    for (const id of ["quote.net", "machine.cost", "part.disc.copies", "job.pieces"]) {
      const found = explanation(ESTIMATE, id).map((figure) => figure.id);
      const shown = new Set(explainFigure(ESTIMATE, id).map((line) => told(line).id));
      expect(new Set(found)).toEqual(shown);
      expect(found).toHaveLength(shown.size);
      expect(found.at(-1)).toBe(id);
      for (const [index, one] of found.entries())
        for (const input of inputsOf(one)) expect(found.indexOf(input)).toBeLessThan(index);
    }
  });
});

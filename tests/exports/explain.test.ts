import { describe, expect, it } from "vitest";
import { explainFigure, explanation, figureList } from "../../src/exports/explain.ts";
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
      const lines = explainFigure(ESTIMATE, id, Infinity);
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
    const lines = explainFigure(ESTIMATE, "quote.net", Infinity);
    const unfolded = new Set<string>();
    let again = 0;
    for (const line of lines) {
      const { id } = told(line);
      const repeated = line.endsWith("(see above)");
      if (repeated) again += 1;
      expect(unfolded.has(id)).toBe(repeated);
      unfolded.add(id);
    }
    expect(again).toBeGreaterThan(5);
    expect(unfolded.size).toBeGreaterThan(50);
  });

  it("puts the inputs of a figure, in their order and each once, one step below it", () => {
    const lines = explainFigure(ESTIMATE, "quote.net", Infinity).map((line) => ({
      ...told(line),
      line,
    }));
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

  it("can explain every figure there is, in a screen or two", () => {
    let cut = 0;
    for (const id of BY_ID.keys()) {
      const lines = explainFigure(ESTIMATE, id);
      expect(told(lines[0] ?? "")).toEqual({ id, depth: 0 });
      // One step is always shown, however many inputs it has.
      expect(lines.length).toBeLessThanOrEqual(Math.max(42, new Set(inputsOf(id)).size + 3));
      if (lines.some((line) => / {2}\(\+\d+ below\)$/.test(line))) cut += 1;
    }
    expect(cut).toBeGreaterThan(20);
    expect(() => explainFigure(ESTIMATE, "no.such-figure")).toThrow(RangeError);
  });

  it("leads on where it is cut off: by ids that have as many figures below as it says", () => {
    const reached = new Set<string>();
    const below: (readonly [string, number])[] = [];
    const ask = (id: string): void => {
      for (const line of explainFigure(ESTIMATE, id)) {
        const shown = told(line).id;
        const more = / {2}\(\+(\d+) below\)$/.exec(line)?.[1];
        const isNew = shown !== "" && !reached.has(shown);
        if (isNew) reached.add(shown);
        if (more === undefined) continue;
        below.push([shown, Number(more)]);
        if (isNew) ask(shown);
      }
    };
    ask("quote.total");
    expect(reached).toEqual(new Set(explanation(ESTIMATE, "quote.total").map(({ id }) => id)));
    expect(below.length).toBeGreaterThan(20);
    for (const [id, more] of below) expect(explanation(ESTIMATE, id).length - 1).toBe(more);
  });

  it("shows a small tree whole", () => {
    const lines = explainFigure(ESTIMATE, "part.disc.copies");
    expect(lines).toEqual(explainFigure(ESTIMATE, "part.disc.copies", Infinity));
    expect(lines.length).toBe(3);
  });
});

describe("figureList", () => {
  const lines = figureList(ESTIMATE);

  it("has every group, counts what it has, and names costing.csv for the rest", () => {
    const groups = new Set([...BY_ID.keys()].map((id) => id.split(".")[0]));
    const heads = lines.flatMap((line) => /^(\S+): (\d+) figures?$/.exec(line)?.slice(1) ?? []);
    expect(new Set(heads.filter((_, index) => index % 2 === 0))).toEqual(groups);
    const counts = heads.filter((_, index) => index % 2 === 1).map(Number);
    expect(counts.reduce((sum, count) => sum + count)).toBe(BY_ID.size);
    expect(lines.at(-1)).toBe(
      `${BY_ID.size} figures in all; costing.csv has them all, with formula and source.`,
    );
  });

  it("begins with the price, and shows ids that can be asked for, with their values", () => {
    expect(lines[1]).toMatch(/^ {2}quote\.total +\d+(\.\d+)? EUR {2}total with tax$/);
    const ids = lines.flatMap((line) => /^ {2}(\S+\.\S+) /.exec(line)?.[1] ?? []);
    expect(ids.length).toBeGreaterThan(80);
    for (const id of ids) expect(BY_ID.has(id)).toBe(true);
  });
});

describe("explanation", () => {
  it("has what the tree shows, each once, inputs before what uses them", () => {
    for (const id of ["quote.net", "machine.cost", "part.disc.copies", "job.pieces"]) {
      const found = explanation(ESTIMATE, id).map((figure) => figure.id);
      const shown = new Set(explainFigure(ESTIMATE, id, Infinity).map((line) => told(line).id));
      expect(new Set(found)).toEqual(shown);
      expect(found).toHaveLength(shown.size);
      expect(found.at(-1)).toBe(id);
      for (const [index, one] of found.entries())
        for (const input of inputsOf(one)) expect(found.indexOf(input)).toBeLessThan(index);
    }
  });
});

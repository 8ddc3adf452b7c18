import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { allowed, figuresOnPaper } from "./paper.ts";
import { estimated, sourceText } from "./tool-board.ts";

/**
 * The rules of price that the tool board does without, every figure against paper,
 * `wall-notice/worked.md`: spare copies, joints, glue, thinner, soaking, learning, weights, a tariff, drying,
 * markups by kind, rush, discount, two rates of tax, stages.
 */

const FOLDER = "tests/worked/wall-notice/";

const PAPER = figuresOnPaper(readFileSync(`${FOLDER}worked.md`, "utf8"));

const { figures, quote, shopping, stocks, terms, leadTime } = estimated({
  jobName: "wall-notice",
  job: textsOf("job"),
  tables: textsOf("tables").map(({ name, text }) => sourceText(`tables/${name}`, text)),
  seed: 1,
  steps: 1,
});

function textsOf(folder: string) {
  const names = readdirSync(FOLDER + folder).toSorted();
  return names.map((name) => sourceText(name, readFileSync(`${FOLDER}${folder}/${name}`, "utf8")));
}

describe("the hand-worked wall notices", () => {
  it("have no figure that is not on paper, and all that are", () => {
    const [got, paper] = [figures, PAPER].map((list) => new Set(list.map(({ id }) => id)));
    expect(figures.filter(({ id }) => !paper?.has(id)).map(({ id }) => id)).toEqual([]);
    expect(PAPER.filter(({ id }) => !got?.has(id)).map(({ id }) => id)).toEqual([]);
    expect(paper?.size).toBe(PAPER.length);
    expect(PAPER.length).toBeGreaterThan(400);
  });

  it.each(PAPER)("have $id as on paper", (paper) => {
    const got = new Amount(figures.find(({ id }) => id === paper.id)?.value ?? NaN);
    expect(got.minus(paper.value).abs().toNumber()).toBeLessThanOrEqual(allowed(paper));
  });

  it("lie one part to a sheet, in its corner, as the paper has it", () => {
    const placed = stocks.map(({ sheets }) => sheets.map(({ placements }) => placements.length));
    expect(placed).toEqual([
      [1, 1, 1, 1, 1],
      [1, 1, 1, 1],
    ]);
    const all = stocks.flatMap(({ sheets }) => sheets.flatMap(({ placements }) => placements));
    for (const { xMm, yMm, turnDeg } of all) {
      expect(turnDeg).toBe(0);
      expect(xMm).toBeCloseTo(5.05, 9);
      expect(yMm).toBeCloseTo(5.05, 9);
    }
  });

  it("say to the customer what the paper adds up to", () => {
    const rows = quote.map(({ line, description, quantity, amount }) =>
      [line, description, quantity, amount].join(" | "),
    );
    expect(rows).toEqual([
      "1 | Design and preparation | 1 | 45.05",
      "2 | Acrylic cast 3 mm | 1 | 20.21",
      "3 | Birch plywood 6 mm | 1 | 9.24",
      "4 | Laser cutting | 1 | 16.77",
      "5 | Finishing | 1 | 32.04",
      "6 | Wall hanger | 4 | 12.48",
      "7 | Fixings | 1 | 11.26",
      "8 | Making and assembly | 1 | 24.32",
      "9 | Packing and delivery | 1 | 45.92",
      "10 | Rush 4 % | 1 | 8.69",
      "11 | Discount 5 % | 1 | -11.30",
      "12 | Rounding | 1 | 0.32",
      " | Net total | 1 | 215.00",
      " | Tax 20 % | 1 | 33.91",
      " | Tax 10 % | 1 | 4.54",
      " | Total with tax | 1 | 253.45",
    ]);
  });

  it("name stages, last day and lead time as the paper does", () => {
    const stages = terms.stages.map(({ name, due, amount }) => `${name} ${due} ${amount}`);
    expect(stages).toEqual(["Deposit on order 76.04", "Balance on completion 177.41"]);
    expect(terms.validUntil).toBe("2026-07-01");
    expect(leadTime?.workingDays).toBe(4);
  });

  it("list to buy what the paper counts", () => {
    expect(shopping.map(({ item, quantity, amount }) => `${quantity} ${item} ${amount}`)).toEqual([
      "5 acrylic-3-220x120 14.00",
      "4 ply-6-120x120 6.40",
      "2 rubbing-pad 2.20",
      "2 sealer 5.20",
      "1 sage-green 5.30",
      "1 spirit 1.90",
      "4 hanger 9.40",
      "2 silicone 4.40",
      "1 m5x20-bolt 1.70",
      "1 m5-locknut 0.90",
      "1 m5-washer 0.80",
    ]);
  });
});

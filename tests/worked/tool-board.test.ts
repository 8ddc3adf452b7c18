import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { allowed, figuresOnPaper } from "./paper.ts";
import { estimated, readWorked, toolBoard } from "./tool-board.ts";

/**
 * Every figure of a small complete job against paper, `tool-board/worked.md`: closed formulas,
 * motion-control texts and the rules of the trade, worked out before the program ran.
 */

const PAPER = figuresOnPaper(readWorked("worked.md"));

const { figures, quote, shopping, stocks, bars } = estimated(toolBoard());

describe("the hand-worked tool board", () => {
  it("has exactly the figures that are on paper", () => {
    expect(PAPER.length).toBeGreaterThan(300);
    const [got, wanted] = [figures, PAPER].map((list) => list.map(({ id }) => id).sort());
    expect(got).toEqual(wanted);
  });

  it.each(PAPER)("has $id as on paper", (paper) => {
    const got = new Amount(figures.find(({ id }) => id === paper.id)?.value ?? NaN);
    expect(got.minus(paper.value).abs().toNumber()).toBeLessThanOrEqual(allowed(paper));
  });

  it("has money and counts on paper to the last digit, but for what areas make of them", () => {
    const money = figures.filter(({ unit }) => unit === "currency" || unit === "pcs");
    const exact = new Set(PAPER.filter((one) => one.exact).map(({ id }) => id));
    const about = money.filter(({ id }) => !exact.has(id)).map(({ id }) => id);
    expect(about).toEqual([
      "paint.hard-oil.used",
      "paint.primer.used",
      "paint.red.used",
      "paint.clear-lacquer.used",
      "work.scuff.cost",
      "work.spray.cost",
      "cost.finishing",
      "cost.direct",
      "cost.overhead",
      "cost.with-overhead",
      "cost.contingency",
      "cost.total",
      "price.exact",
      "quote.line-7.cost",
      "quote.line-7.amount-exact",
      "price.profit",
    ]);
  });

  it("lays one part on a sheet, in its corner, as the paper has it", () => {
    const placed = stocks.map(({ sheets }) => sheets.map(({ placements }) => placements.length));
    expect(placed).toEqual([
      [1, 1],
      [1, 1, 1, 1, 1, 1, 1, 1],
    ]);
    const all = stocks.flatMap(({ sheets }) => sheets.flatMap(({ placements }) => placements));
    for (const { xMm, yMm, turnDeg } of all) {
      expect(turnDeg).toBe(0);
      expect(xMm).toBeCloseTo(5.05, 9);
      expect(yMm).toBeCloseTo(5.05, 9);
    }
    const sawn = bars.flatMap((one) =>
      one.bars.map(({ pieces }) => pieces.map(({ lengthMm }) => lengthMm)),
    );
    const used = sawn.map((lengths) => lengths.reduce((a, b) => a + b) + 3 * (lengths.length - 1));
    expect(sawn.flat().sort((a, b) => a - b)).toEqual([230, 230, 230, 230, 480, 480]);
    expect(Math.max(...used)).toBeLessThanOrEqual(990);
  });

  it("says to the customer what the paper adds up to", () => {
    const rows = quote.map(({ line, description, quantity, amount }) =>
      [line, description, quantity, amount].join(" | "),
    );
    expect(rows).toEqual([
      "1 | Design and preparation | 1 | 62.37",
      "2 | Birch plywood 9 mm | 1 | 41.03",
      "3 | Acrylic cast 3 mm | 1 | 26.61",
      "4 | Oak strip 20 x 10 | 1 | 11.64",
      "5 | Preparing the material | 1 | 20.79",
      "6 | Laser cutting and engraving | 1 | 79.70",
      "7 | Finishing | 1 | 102.14",
      "8 | Fixings | 1 | 24.95",
      "9 | Hook rail | 2 | 32.58",
      "10 | Making and assembly | 1 | 59.60",
      "11 | Packing and delivery | 1 | 33.26",
      "12 | Rounding | 1 | 0.33",
      " | Net total | 1 | 495.00",
      " | Tax 19 % | 1 | 94.05",
      " | Total with tax | 1 | 589.05",
    ]);
  });

  it("lists to buy what the paper counts", () => {
    expect(shopping.map(({ item, quantity, amount }) => `${quantity} ${item} ${amount}`)).toEqual([
      "2 ply-9-600x400 29.60",
      "8 acrylic-3-150x100 19.20",
      "3 hard-oil 12.30",
      "3 primer 9.60",
      "3 red 10.80",
      "2 clear-lacquer 6.80",
      "2 m5-bolt 6.20",
      "1 m5-washer 1.90",
      "2 wood-screw 4.50",
      "2 hook-rail 23.50",
      "1 wood-glue 5.40",
      "2 oak-strip 8.40",
    ]);
  });
});

import { describe, expect, it } from "vitest";
import type { PriceRange } from "../../src/estimate-data.ts";
import { priceRows, questionAt, rowCount } from "../../src/tui/rows.ts";
import { initialState } from "../../src/tui/state.ts";
import { pricePanel } from "../../src/tui/views/price.ts";
import { fixtureEstimate } from "./fixture.ts";

const RANGE: PriceRange = {
  draws: 10_000,
  likelyCost: "48.00",
  contingency: "4.80",
  cost: { p10: "45.10", p50: "49.20", p90: "53.30" },
  profit: { p10: "2.70", p50: "6.80", p90: "10.90" },
  lossChance: 0.034,
  drivers: [
    {
      label: "machine, minutes in all",
      figures: ["machine.minutes"],
      place: { file: "feeds.csv", line: 4, column: null },
      costs: ["45.00", "52.00"],
      swing: "7.00",
      share: 0.9,
    },
  ],
};

describe("the range on screen", () => {
  const [without, estimate] = [fixtureEstimate(), { ...fixtureEstimate(), range: RANGE }];
  const state = {
    ...initialState({ columns: 80, rows: 24 }, null),
    estimate,
    panel: "price" as const,
  };
  const last = rowCount(estimate, "price") - 1;

  it("stands below the costs, and nowhere while it is not known", () => {
    expect(priceRows(without).some(({ kind }) => kind === "range")).toBe(false);
    expect(last + 1).toBe(priceRows(without).length + 4);
    const cursors = { ...state.cursors, price: last };
    const shown = pricePanel({ ...state, cursors }, 78, 16).map((line) =>
      line.map(({ text }) => text).join(""),
    );
    expect(shown.join("\n")).toMatch(/1 in 10 below +45\.10/);
    expect(shown.join("\n")).toMatch(/1 in 10 above +53\.30/);
    expect(shown.join("\n")).toMatch(/▸ chance that it is more than the net total +3 %/);
  });

  it("has the rows that swing it most for a reason", () => {
    const question = questionAt({ ...state, cursors: { ...state.cursors, price: last } });
    expect(question?.figures).toEqual(["machine.minutes"]);
  });
});

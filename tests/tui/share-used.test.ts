import { expect, it } from "vitest";
import { shareUsed } from "../../src/tui/rows.ts";
import { readyState } from "./steps.ts";

it("the share used of a sheet goes by what the beam cuts, as that of its size does", () => {
  const { estimate } = readyState();
  const sheet = estimate?.stocks[0]?.sheets[0];
  if (!estimate || !sheet) throw new Error("the fixture has a sheet");
  const parts = estimate.parts.map((part) => ({
    ...part,
    cut: { ...part.cut, areaMm2: part.cut.areaMm2 * 1.01 },
  }));
  expect(shareUsed({ ...estimate, parts }, sheet)).toBeCloseTo(1.01 * shareUsed(estimate, sheet));
});

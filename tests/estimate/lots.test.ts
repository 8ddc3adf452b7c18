import { describe, expect, it } from "vitest";
import { estimate, lotsJob } from "../../src/estimate.ts";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { lotsText } from "../../src/exports/lots-text.ts";
import type { LotsReport } from "../../src/stages/lots.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";
import { toolBoard } from "../worked/tool-board.ts";

function lots(input: EstimateInput, pieces: readonly number[]): LotsReport {
  const { value, problems } = drain(lotsJob(input, pieces));
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

describe("prices by the number of pieces", () => {
  it("are those that quote names for each number", () => {
    const report = lots({ ...SMALL, steps: 2 }, [1, 5]);
    expect(report.lots.map(({ pieces, own }) => [pieces, own])).toEqual([
      [1, false],
      [3, true],
      [5, false],
    ]);
    for (const { pieces, price } of report.lots) {
      const alone = estimated({ ...SMALL, steps: 2, pieces });
      const line = (kind: string) => alone.quote.find((one) => one.kind === kind)?.amount;
      expect([price?.net, price?.total]).toEqual([line("subtotal"), line("total")]);
    }
  });

  it("rise with the number, and fall for each piece, where sheets are cut from a rectangle or two", () => {
    const { lots: all } = lots(SMALL, [1, 2, 5, 10, 25]);
    const prices = all.map(({ pieces, price }) => ({ pieces, ...price! }));
    expect(prices.length).toBe(6);
    for (const [index, more] of prices.slice(1).entries()) {
      const fewer = prices[index]!;
      expect(Number(more.direct)).toBeGreaterThan(Number(fewer.direct));
      expect(Number(more.net)).toBeGreaterThanOrEqual(Number(fewer.net));
      expect(more.sheets).toBeGreaterThanOrEqual(fewer.sheets);
      expect(more.cans).toBeGreaterThanOrEqual(fewer.cans);
      expect(Number(more.handHours)).toBeGreaterThanOrEqual(Number(fewer.handHours));
      expect(Number(more.direct) / more.pieces).toBeLessThan(Number(fewer.direct) / fewer.pieces);
    }
  });

  it("come with all that the direct cost is the sum of", () => {
    for (const { price } of lots(SMALL, [2]).lots) {
      const sum = price!.sections.reduce((all, { cost }) => all + Number(cost), 0);
      expect(Math.abs(sum - Number(price!.direct))).toBeLessThan(0.05);
    }
  });

  it("tell what comes once, the same for all: tasks by the order and delivery at least", () => {
    const board = toolBoard();
    const { figures } = estimated(board);
    const value = (id: string): number => Number(figures.find((one) => one.id === id)?.value ?? 0);
    const { lots: all } = lots(board, [3, 7]);
    const onces = new Set(all.map(({ price }) => price?.once));
    const byOrder = figures.filter(
      ({ id }) => /^work\..*\.cost$/.test(id) && value(id) > 0 && isOnce(figures, id),
    );
    const least = byOrder.reduce((sum, { id }) => sum + value(id), value("delivery.cost"));
    expect(least).toBeGreaterThan(0);
    for (const once of onces) expect(Number(once)).toBeGreaterThanOrEqual(least - 0.005);
    expect(onces.size).toBe(1);
  });

  it("are judged for each number: what can not be made does not stop the others", () => {
    const sheets = SMALL.tables.find(({ name }) => name.endsWith("sheets.csv"))!.text;
    const few = sheets.replaceAll(/^((?:[^,\n]*,){9}),/gm, "$12,");
    expect(few).not.toBe(sheets);
    const input = withTexts(SMALL, { "price-tables/sheets.csv": few.split("\n") });
    const report = lots(input, [1, 500]);
    expect(report.lots.map(({ price }) => price === null)).toEqual([false, false, true]);
    expect(lotsText(report)).toMatch(/^500 can not be made: parts\.csv, line \d/m);
  });

  it("finished early are those of the rounds that were made", () => {
    const work = lotsJob({ ...SMALL, steps: 50 }, [1]);
    const early = drain(work, ({ best }) => best !== null).value!;
    expect(early.steps).toBeLessThan(50);
    expect(early.lots).toEqual(lots({ ...SMALL, steps: early.steps }, [1]).lots);
  });

  it("nest once what is the same for several", () => {
    expect(turnsOf(lotsJob(SMALL, [3]))).toBe(turnsOf(estimate(SMALL)));
  });
});

/** A task that is counted by nothing. */
function isOnce(figures: ReturnType<typeof estimated>["figures"], cost: string): boolean {
  const time = figures.find(({ id }) => id === cost.replace(/cost$/, "time"));
  return time?.origin.kind === "derived" && time.origin.inputs.length === 1;
}

function turnsOf(work: ReturnType<typeof lotsJob> | ReturnType<typeof estimate>): number {
  let turns = 0;
  drain<unknown, unknown>(work, () => {
    turns += 1;
    return false;
  });
  return turns;
}

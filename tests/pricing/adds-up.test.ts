import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { costingWorkbook } from "../../src/exports/costing-workbook.ts";
import {
  HAS_LIBRE_OFFICE,
  OFFICE_TIMEOUT_MS,
  recalculated,
  WHERE_THERE,
} from "../helpers/libre-office.ts";
import { estimated } from "../worked/tool-board.ts";
import { sumFaults, withOneChanged, workbookFaults } from "./adds-up.ts";
import { richJob } from "./rich-job.ts";

/** A few of the jobs that `npm run bench:jobs` does a thousand of. */
const ESTIMATES = fc.sample(richJob, { numRuns: 20, seed: 20261126 }).map(estimated);

/** 9 less a digit is never the digit. */
function withLastDigitOff(amount: string): string {
  return `${amount.slice(0, -1)}${9 - Number(amount.at(-1))}`;
}

describe("jobs by lot", () => {
  it("add up in lines, taxes, totals and stages", () => {
    expect(ESTIMATES.flatMap(sumFaults)).toEqual([]);
    const taxes = ESTIMATES.map(({ quote }) => quote.filter(({ kind }) => kind === "tax").length);
    expect(taxes.filter((count) => count > 1).length).toBeGreaterThan(4);
    expect(ESTIMATES.filter(({ terms }) => terms.stages.length > 1).length).toBeGreaterThan(4);
    const discounted = ESTIMATES.filter(({ quote }) =>
      quote.some(({ amount }) => amount.startsWith("-")),
    );
    expect(discounted.length).toBeGreaterThan(4);
  });

  it("are found out where they do not", () => {
    const [estimate] = ESTIMATES;
    const off = (kind: string): number =>
      sumFaults({
        ...estimate!,
        quote: estimate!.quote.map((row) =>
          row.kind === kind ? { ...row, amount: withLastDigitOff(row.amount) } : row,
        ),
      }).length;
    expect(["line", "subtotal", "tax", "total"].filter((kind) => off(kind) === 0)).toEqual([]);
  });

  it.skipIf(!HAS_LIBRE_OFFICE)(
    `come to the same in a workbook, as they are and with a changed rate${WHERE_THERE}`,
    async () => {
      const changed = ESTIMATES.map((estimate, index) =>
        withOneChanged(estimate, index / ESTIMATES.length),
      );
      const books = [...ESTIMATES, ...changed.map(({ estimate }) => estimate)];
      const opened = await recalculated(books.map((one) => costingWorkbook(one)));
      const faults = ESTIMATES.flatMap((estimate, index) => [
        ...workbookFaults(estimate, opened[index] ?? {}),
        ...workbookFaults(estimate, opened[ESTIMATES.length + index] ?? {}, changed[index]),
      ]);
      expect(faults).toEqual([]);
      for (const { Quote: rows = [] } of opened) {
        const sums = rows.filter((row) => row[8] !== "line").map((row) => row[2]);
        expect(new Set(sums).size).toBe(sums.length);
      }
      expect(new Set(changed.map(({ id }) => id)).size).toBeGreaterThan(6);
      // One that was never worked out anew would keep its old figures.
      const stale = ESTIMATES.flatMap((estimate, index) =>
        workbookFaults(estimate, opened[index] ?? {}, changed[index]),
      );
      expect(stale.length).toBeGreaterThan(ESTIMATES.length);
    },
    OFFICE_TIMEOUT_MS,
  );
});

import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { Amount } from "../../src/money.ts";
import { estimated, readWorked, run, toolBoard } from "../worked/tool-board.ts";

/** Markups of kinds of cost on a whole job, and what contradicts them. */

const SETTINGS = readWorked("tables/settings.csv").trim();
const JOB = readWorked("job/job.yaml").trim();

/** @param tables rows added to settings.csv; without its markup where it is to have none. */
function board(tables: readonly string[], job: readonly string[] = [], withMarkup = true) {
  const rows = SETTINGS.split("\n").filter(
    (row) => withMarkup || !row.startsWith("markup_percent"),
  );
  const added = tables.map((row) => `${row},2026-01-01,test`);
  return toolBoard({
    "tables/settings.csv": [...rows, ...added].join("\n"),
    "job/job.yaml": [JOB, ...(job.length > 0 ? ["price:", ...job] : [])].join("\n"),
  });
}

function valueOf({ figures }: Estimate, id: string): Amount {
  return new Amount(figures.find((figure) => figure.id === id)?.value ?? NaN);
}

function codes(input: ReturnType<typeof toolBoard>): readonly string[] {
  return run(input).problems.map(({ code, column }) => `${code} ${column ?? ""}`);
}

describe("a job with markups of kinds of cost", () => {
  const estimate = estimated(
    board(["markup_materials_percent,40", "markup_labour_percent,60", "markup_machine_percent,5"]),
  );

  it("raises paint and the work of painting, one line of the quote, each by its own", () => {
    const { figures, quote } = estimate;
    const raised = valueOf(estimate, "cost.total").div(valueOf(estimate, "cost.direct"));
    const inFinishing = (what: RegExp): Amount =>
      figures
        .filter(({ id }) => what.test(id))
        .reduce((sum, { value }) => sum.plus(value), new Amount(0));
    const paint = inFinishing(/^paint\.[^.]+\.cost$/);
    const work = inFinishing(/^work\.(scuff|spray)[^.]*\.cost$/);
    expect(paint.plus(work).toFixed(6)).toBe(valueOf(estimate, "cost.finishing").toFixed(6));
    const price = paint.times("1.4").plus(work.times("1.6")).times(raised).toFixed(2);
    expect(quote.find(({ section }) => section === "Finishing")?.amount).toBe(price);
  });

  it("has lines that come to the exact price, to half a cent each", () => {
    const lines = estimate.quote.filter(
      ({ kind, section }) => kind === "line" && section !== "Total",
    );
    const sum = lines.reduce((total, { amount }) => total.plus(amount), new Amount(0));
    const pieces = lines.reduce((total, { quantity }) => total + Number(quantity), 0);
    const off = sum.minus(valueOf(estimate, "price.exact")).abs().toNumber();
    expect(off).toBeLessThanOrEqual(pieces * 0.005);
  });
});

describe("markups that contradict", () => {
  it.each([
    [
      "a margin beside it",
      ["markup_labour_percent,60", "margin_percent,20"],
      [],
      "markup-and-margin value",
    ],
    [
      "no markup for the others",
      ["markup_labour_percent,60"],
      [],
      "missing-setting markup_percent",
    ],
    [
      "the tables' margin alone",
      ["margin_percent,20"],
      ["  markup_labour_percent: 60"],
      "missing-setting markup_percent",
    ],
  ])("are refused with %s", (_, tables, job, code) => {
    expect(codes(board(tables, job, false))).toEqual([code]);
  });

  it("are set aside by a job that says a margin, and the tables' margin by a job's markups", () => {
    const own = ["markup_labour_percent,60"];
    const margin = estimated(board(own, ["  margin_percent: 20"]));
    expect(margin.figures.some(({ id }) => id.startsWith("markup."))).toBe(false);
    const job = ["  markup_percent: 10", "  markup_labour_percent: 60"];
    const markups = estimated(board(["margin_percent,20"], job, false));
    expect(markups.figures.some(({ id }) => id === "rule.margin")).toBe(false);
    expect(valueOf(markups, "rule.markup-labour").toString()).toBe("60");
  });
});

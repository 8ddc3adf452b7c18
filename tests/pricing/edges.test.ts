import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import type { Checked, Problem } from "../../src/problem.ts";
import { estimated, readWorked, run, TABLES, toolBoard } from "../worked/tool-board.ts";
import { withPrices } from "../helpers/prices.ts";

/** What a price must not pass over in silence, and quotes at the edges of what there is. */

function of(code: string, { problems }: Checked<unknown>): readonly Problem[] {
  return problems.filter((problem) => problem.code === code);
}

describe("a job priced with nothing but zeros", () => {
  it("is refused, not divided by", () => {
    const free = TABLES.filter((table) => /sheets|paints|hardw|lengths|rates|machin/.test(table));
    const changed = Object.fromEntries(
      free.map((table) => [
        `tables/${table}`,
        withPrices(readWorked(`tables/${table}`), () => "0"),
      ]),
    );
    const settings = readWorked("tables/settings.csv").replace("delivery,18.00", "delivery,0");
    const result = run(toolBoard({ ...changed, "tables/settings.csv": settings }));
    expect(result.value).toBeNull();
    expect(of("nothing-to-charge", result)).toHaveLength(1);
  });
});

describe("the step that a total is rounded to", () => {
  // Minor units: ISO 4217.
  it.each([
    ["EUR", "0.333"],
    ["EUR", "0.001"],
    ["JPY", "0.5"],
    ["BHD", "0.0005"],
  ])("is refused in %s where %s can not be paid", (currency, step) => {
    const result = run(rounding(currency, step));
    expect(result.value).toBeNull();
    expect(of("price-too-fine", result)).toMatchObject([{ file: "tables/settings.csv", line: 8 }]);
  });

  it.each([
    ["EUR", "0.05", "494.70"],
    ["EUR", "0", "494.67"],
    ["JPY", "1", /^\d+$/],
    ["BHD", "0.005", /^\d+\.\d{2}[05]$/],
  ])("in %s may be %s", (currency, step, net) => {
    const { quote } = estimated(rounding(currency, step));
    const amount = quote.find(({ kind }) => kind === "subtotal")?.amount ?? "";
    expect(amount).toMatch(net);
  });
});

describe("work and paint that come to nothing", () => {
  it("are told where the job lists them", () => {
    const parts = readWorked("job/parts.csv").replaceAll(/oiled|signal-red/g, "");
    const result = run(toolBoard({ "job/parts.csv": parts }));
    expect(result.value === null).toBe(false);
    expect(of("no-work", result).map(({ found, line }) => `${found} ${line}`)).toEqual([
      "scuff, counted by m2 5",
      "spray, counted by coat m2 6",
    ]);
  });

  it("are not told where there is work", () => {
    expect(run(toolBoard()).problems).toEqual([]);
  });

  it("are told for a finish on lengths, which no figure counts", () => {
    const lengths = "name,stock,length,qty,finish\nrail,oak-strip,480,1,oiled";
    const result = run(toolBoard({ "job/lengths.csv": lengths }));
    expect(of("finish-not-counted", result)).toMatchObject([
      { file: "lengths.csv", line: 2, column: "finish", severity: "warning" },
    ]);
  });
});

describe("dust of thirds and binary lengths", () => {
  it("does not take a minute's share from an hourly rate", () => {
    const work = estimated(toolBoard()).figures.find(({ id }) => id === "work.assemble.cost");
    // 2 x 25 minutes at 30 an hour.
    expect(work?.value).toBe("25");
  });

  it("buys no further can for it", () => {
    // 5 plates of 0.1 x 0.1 m, front only, 2 coats: 0.1 m2, of which a can covers 0.025.
    const changed = {
      "job/parts.csv":
        "part,qty,material,thickness,shape,width,height,finish\nplate,5,acrylic cast,3,rectangle,100,100,oiled",
      "job/job.yaml": "pieces: 1",
      "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
      "job/hand-work.csv": "task\nassemble",
      "tables/sheets.csv": readWorked("tables/sheets.csv").replace("150,100,2.40", "650,450,2.40"),
    };
    // 50 ml at 20 % and 300 um are 0.0333... m2, less 25 %: a third that never ends.
    const paints = readWorked("tables/paints.csv").replace("50,,,,20,25,25", "50,,,,20,300,25");
    const { figures } = estimated(toolBoard({ ...changed, "tables/paints.csv": paints }));
    const cans = figures.find(({ id }) => id === "paint.hard-oil.cans");
    expect(cans?.value).toBe("4");
  });
});

function rounding(currency: string, step: string): EstimateInput {
  const digits = currency === "JPY" ? 0 : 2;
  const settings = readWorked("tables/settings.csv")
    .replace("currency,EUR", `currency,${currency}`)
    .replace("round_total_to,5", `round_total_to,${step}`)
    .replace("delivery,18.00", "delivery,18");
  const payable = TABLES.map((table) => [
    `tables/${table}`,
    withPrices(readWorked(`tables/${table}`), (price) => price.toFixed(digits)),
  ]);
  return toolBoard({ ...Object.fromEntries(payable), "tables/settings.csv": settings });
}

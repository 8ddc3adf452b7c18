import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { recordOf } from "../../src/pricing/figure-record.ts";
import { checkJob } from "../../src/estimate.ts";
import { explanation } from "../../src/exports/explain.ts";
import type { MachineRow } from "../../src/job/types.ts";
import { Amount, currencyOf } from "../../src/money.ts";
import type { Currency } from "../../src/money.ts";
import { addBill } from "../../src/pricing/machine-bill.ts";
import { newLedger } from "../../src/pricing/ledger.ts";
import type { Ledger } from "../../src/pricing/ledger.ts";
import { machineId } from "../../src/pricing/stock-figures.ts";
import type { PricedStock } from "../../src/pricing/types.ts";
import { sentence } from "../../src/problem.ts";
import { nestGroups } from "../../src/stages/nest.ts";
import { readyToRun } from "../../src/stages/ready.ts";
import { timeGroups } from "../../src/stages/report.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";
import { TABLES } from "../job/texts.ts";
import { machine as anyMachine, ROW } from "../machine/samples.ts";

const { read, groups, machine: own } = readyToRun(SMALL, "quote").value!;
const NESTED = drain(nestGroups(groups, read.job.pieces, SMALL, null));
/** The plywood and the card of the small job, of which nothing is priced by length. */
const STOCKS: readonly PricedStock[] = timeGroups(NESTED, read, own).value!.map(
  ({ nested: { group }, nest, times }) => {
    const { material, thicknessMm } = group;
    return { material, thicknessMm, used: [], nest, times, feeds: [], leftover: null };
  },
);
const POUND: Currency = currencyOf("GBP") ?? { code: "GBP", minorDigits: 2 };

/** What a machine charges for so many minutes of it, with nothing by length. */
function bill(
  minutes: number,
  row: Partial<MachineRow>,
  days: number | null = null,
  stocks: readonly PricedStock[] = [],
): Ledger {
  const ledger = newLedger();
  for (const stock of stocks)
    ledger.sheet.given(machineId(stock, "sheets"), "sheets", "pcs", stock.nest.sheets.length, {
      kind: "measured",
      place: ROW.place,
      what: "said by the test",
    });
  ledger.sheet.given("machine.minutes", "minutes", "min", minutes, {
    kind: "measured",
    place: ROW.place,
    what: "said by the test",
  });
  const place = { file: "job.yaml", line: 1, column: "machine_days" };
  const job = { ...read.job, machineDays: days === null ? null : { days, place } };
  const machine = anyMachine(row);
  addBill(ledger, { ...read, job, machine, currency: POUND, stocks, bars: [] });
  return ledger;
}

function charged(minutes: number, row: Partial<MachineRow>, days: number | null = null): number {
  return bill(minutes, row, days).sheet.value("machine.cost").toNumber();
}

/**
 * A bureau's price page: 1 pound a minute, at least 10 minutes, 50 pounds an hour for jobs of more
 * than an hour, billed by the hour; no set-up charge.
 */
const BUREAU = {
  kind: "service",
  rate: new Amount(1),
  ratePer: "minute",
  minimumMinutes: 10,
  billingStepMinutes: 1,
  aboveHourRate: new Amount(50),
  aboveHourStepMinutes: 60,
} as const satisfies Partial<MachineRow>;

describe("a service by the minute", () => {
  // B1, bureau price and engraving page.
  it("B1: 10 for 7 min and for 70.47 s; for 75 min 100 in whole hours, 62.50 as measured", () => {
    expect(charged(7, BUREAU)).toBe(10);
    expect(charged(70.47 / 60, BUREAU)).toBe(10);
    expect(charged(75, BUREAU)).toBe(100);
    expect(charged(75, { ...BUREAU, aboveHourStepMinutes: 0 })).toBe(62.5);
  });

  // The same page counts started minutes and hours; a quarter hour is the test's own.
  it("counts the minute, the quarter hour and the hour that has begun", () => {
    expect(charged(10.01, BUREAU)).toBe(11);
    expect(charged(60, BUREAU)).toBe(60);
    expect(charged(60.01, BUREAU)).toBe(100);
    expect(charged(120, BUREAU)).toBe(100);
    expect(charged(121, BUREAU)).toBe(150);
    const byQuarter = { ...BUREAU, billingStepMinutes: 15, aboveHourRate: null };
    expect(charged(31, byQuarter)).toBe(45);
    const asMeasured = { ...BUREAU, billingStepMinutes: 0, aboveHourRate: null };
    expect(charged(31.25, asMeasured)).toBe(31.25);
    expect(charged(75, { ...BUREAU, aboveHourStepMinutes: 15 })).toBe(62.5);
    expect(charged(76, { ...BUREAU, aboveHourStepMinutes: 15 })).toBe(75);
  });

  // From 1 a minute and 50 an hour it follows that 51 to 60 minutes cost more than an hour.
  it("charges 51 to 60 minutes by its own rule, and says what an hour would be", () => {
    const told = [49, 50, 51, 55, 60].map((minutes) => {
      const { sheet, remarks } = bill(minutes, BUREAU);
      return [sheet.value("machine.cost").toNumber(), remarks.length];
    });
    expect(told).toEqual([
      [49, 0],
      [50, 0],
      [51, 1],
      [55, 1],
      [60, 1],
    ]);
    expect(bill(55, BUREAU).remarks.map(sentence)).toEqual([
      'table.csv, line 2, above_hour_rate: read "55 min billed by the minute at 55.00", expected 50.00 if they were billed by the hour (machine.by-hour); the minute is the service\'s own rule and is charged. Ask the service to bill them as an hour.',
    ]);
  });

  it("says it the other way round just above the hour", () => {
    expect(bill(76, BUREAU).remarks.map(({ found }) => found)).toEqual([
      "76 min billed by the hour at 100.00",
    ]);
    expect(bill(100, BUREAU).remarks).toEqual([]);
    expect(bill(76, { ...BUREAU, aboveHourStepMinutes: 0 }).remarks).toEqual([]);
  });
});

describe("a rush", () => {
  // B2, a service's price page: on 25 dollars, 5 days to the same day.
  it("B2: 25, 30, 35, 40, 45, 50 for 5 days down to none, at 20 % for each day saved", () => {
    const page = {
      kind: "service",
      rate: new Amount(1),
      ratePer: "minute",
      minimumCharge: new Amount(25),
      usualDays: 5,
      rushPercentPerDay: 20,
    } as const satisfies Partial<MachineRow>;
    expect([5, 4, 3, 2, 1, 0].map((days) => charged(3, page, days))).toEqual([
      25, 30, 35, 40, 45, 50,
    ]);
    expect(charged(3, page)).toBe(25);
    expect(charged(3, page, 9)).toBe(25);
    expect(charged(100, page, 4)).toBe(120);
  });
});

describe("one's own machine", () => {
  // Worked by hand: 4000 / 5000 h + 1.20 + 0.9 kW x 0.30 = 2.27 an hour; the makeup is that of a
  // trade article (cost over life hours, consumables, power).
  it("costs what it was bought for over its life, consumables and current", () => {
    const costs = {
      kind: "own",
      rate: null,
      ratePer: "hour",
      price: new Amount(4000),
      lifeHours: 5000,
      consumablesPerHour: new Amount("1.20"),
      powerKw: 0.9,
      electricityPerKwh: new Amount("0.30"),
    } as const satisfies Partial<MachineRow>;
    const { sheet } = bill(90, costs);
    expect(sheet.value("machine.rate").toNumber()).toBe(2.27);
    expect(sheet.value("machine.cost").toNumber()).toBe(3.405);
    expect(charged(60, { ...costs, powerKw: null, electricityPerKwh: null })).toBe(2);
    expect(charged(60, { ...costs, price: null, lifeHours: null })).toBe(1.47);
  });
});

describe("handling", () => {
  const HEAD = TABLES["machines.csv"]![0]!;
  const [OWN] = TABLES["machines.csv"]!.slice(1);
  const FURTHER = ["focus_minutes", "origin_minutes", "unload_minutes", "fume_minutes"];
  const with4 = (...minutes: readonly string[]): EstimateInput =>
    withTexts(SMALL, {
      "price-tables/machines.csv": [`${HEAD},${FURTHER.join(",")}`, `${OWN!},${minutes.join(",")}`],
    });
  // Worked by hand: of each stock one sheet, 3 + 0.5 + 1.5 + 0.25 min more with the four columns.
  it("has focus for each set-up, origin, unloading and fume for each sheet, on top", () => {
    const before = estimated(SMALL);
    const after = estimated(with4("3", "0.5", "1.5", "0.25"));
    for (const stock of ["birch_plywood_4", "card_1"]) {
      const id = `machine.${stock}`;
      const sheets = valueOf(after, `${id}.sheets`);
      expect(valueOf(after, `${id}.focus`)).toBe(3);
      expect(valueOf(after, `${id}.origin`)).toBe(0.5 * sheets);
      expect(valueOf(after, `${id}.unload`)).toBe(1.5 * sheets);
      const more = valueOf(after, `${id}.minutes`) - valueOf(before, `${id}.minutes`);
      expect(more).toBeCloseTo(3 + 2.25 * sheets, 9);
    }
    const [focus] = explanation(after, "machine.card_1.focus");
    expect(focus!.origin).toMatchObject({ source: { place: { column: "focus_minutes" } } });
  });

  it("costs the same with these columns empty as without them", () => {
    const empty = estimated(with4("", "", "", ""));
    expect(valuesOf(empty)).toEqual(valuesOf(estimated(SMALL)));
  });
});

const FEEDS = `${TABLES["feeds.csv"]![0]!},price_per_m,price_per_m2`;
const MACHINES = `${TABLES["machines.csv"]![0]!},setup_charge,sheet_charge,minimum_charge,minimum_further`;
const D = "2026-01-01,test";

/** The small job with a service that charges what stands in these columns. */
function serviceJob(
  perM: readonly [string, string],
  charges: string,
  rate = "0",
  kind = "service",
): EstimateInput {
  return withTexts(SMALL, {
    "price-tables/feeds.csv": [
      FEEDS,
      `own-ply-4,own,birch plywood,4,cut,,12,18,3,0.2,${D},${perM[0]},`,
      `own-card,own,card,1,cut,40,60,80,1,0.1,${D},${perM[1]},`,
    ],
    "price-tables/machines.csv": [
      MACHINES,
      `own,Shop,${kind},${rate},minute,0,0,5,2,600,400,200,1000,0.1,${D},${charges}`,
    ],
  });
}

function valueOf({ figures }: Estimate, id: string): number {
  return Number(figures.find((one) => one.id === id)?.value);
}

describe("a service by length", () => {
  // A service's price page: 0.15 dollars an inch of 3 mm acrylic, 0.25 of other plastics. Lengths by
  // hand: 12 plates of 120 x 80, 6 discs of 60 and 9 rings of 50 with a bore of 20; 15 badges 70 x 30.
  it("charges each material's metres once over, whatever the passes", () => {
    const [thin, other] = [0.15, 0.25].map((inch) => (inch / 0.0254).toFixed(6));
    const done = estimated(serviceJob([thin!, other!], ",,,"));
    const ply = 12 * 0.4 + Math.PI * (6 * 0.06 + 9 * (0.05 + 0.02));
    const card = 15 * 0.2;
    expect(valueOf(done, "machine.birch_plywood_4.cut.length")).toBeCloseTo(ply, 9);
    const expected = (ply / 0.0254) * 0.15 + (card / 0.0254) * 0.25;
    expect(valueOf(done, "machine.cost")).toBeCloseTo(expected, 4);
  });

  it("refuses work without a price beside work that has one", () => {
    expect(checkJob(serviceJob(["5.91", ""], ",,,")).map(sentence)).toEqual([
      "price-tables/feeds.csv, line 3, price_per_m: read nothing, expected an amount, since other work of this job on this machine is priced by length. Fill it in; 0 where time or the other work pays for it.",
    ]);
  });

  it("is no own machine, which would be charged by its hour beside", () => {
    expect(checkJob(serviceJob(["5.91", "0"], ",,,", "1", "own")).map(sentence)).toEqual([
      'price-tables/feeds.csv, line 2, price_per_m: read "5.91", expected an empty cell for one\'s own machine, which is charged by its hour. Empty the cell, or write service under kind in machines.csv if somebody bills it.',
    ]);
  });

  // The same page: at least 25 dollars for the first material and 15 for each further one.
  it("charges its minimum with a further material, and what comes for set-up and sheets", () => {
    expect(valueOf(estimated(serviceJob(["0", "0"], ",,25,15")), "machine.cost")).toBe(40);
    const fixed = estimated(serviceJob(["0", "0"], "8,1.50,,"));
    const sheets = fixed.stocks.flatMap((stock) => stock.sheets).length;
    expect(valueOf(fixed, "machine.cost")).toBe(2 * 8 + sheets * 1.5);
    const all = estimated(serviceJob(["1", "1"], "8,1.50,25,15", "2"));
    const parts = ["time-charge", "setup-charge", "sheet-charge"].map((id) =>
      valueOf(all, `machine.${id}`),
    );
    const lengths = ["birch_plywood_4", "card_1"].map((id) =>
      valueOf(all, `machine.${id}.cut.charge`),
    );
    const sum = [...parts, ...lengths].reduce((total, one) => total + one, 0);
    expect(valueOf(all, "machine.cost")).toBeCloseTo(Math.max(40, sum), 9);
  });

  // The same page: engraving at 1 dollar a square inch. By hand: the plate's box is 60 x 20 mm.
  it("charges the area that is engraved", () => {
    const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50"><rect width="100" height="50"/><rect class="mark" x="20" y="10" width="60" height="20"/></svg>`;
    const input = withTexts(SMALL, {
      "plate.svg": drawing,
      "parts.csv": "part,qty,material,thickness,drawing\nplate,1,birch plywood,4,plate.svg",
      "job.yaml": "lines:\n  - class: mark\n    do: engrave\n",
      "hardware.csv": "item,qty,per,part,hole diameter,note",
      "price-tables/feeds.csv": [
        FEEDS,
        `own-ply-4,own,birch plywood,4,cut,,12,18,1,0.2,${D},0,`,
        `own-ply-4-e,own,birch plywood,4,engrave,,300,,1,0.1,${D},,${1 / 0.0254 ** 2}`,
      ],
      "price-tables/machines.csv": [
        MACHINES,
        `own,Shop,service,0,minute,0,0,5,2,600,400,200,1000,0.1,${D},,,,`,
      ],
    });
    const done = estimated(input);
    expect(valueOf(done, "machine.birch_plywood_4.engrave.area")).toBeCloseTo(0.06 * 0.02, 5);
    expect(valueOf(done, "machine.cost")).toBeCloseTo((60 * 20) / 25.4 ** 2, 1);
  });
});

describe("somebody who stays with the machine", () => {
  it("is hand work for as long as it runs, is loaded and set up", () => {
    const job = SMALL.job.find(({ name }) => name === "job.yaml")!.text;
    const attended = withTexts(SMALL, { "job.yaml": `${job}\nattended: Bench` });
    const [without, done] = [SMALL, attended].map(estimated);
    const minutes = valueOf(done!, "machine.minutes");
    expect(valueOf(done!, "work.attending.time")).toBe(minutes);
    expect(valueOf(done!, "work.attending.cost")).toBeCloseTo((minutes * 32) / 60, 9);
    expect(valueOf(done!, "cost.cutting") - valueOf(without!, "cost.cutting")).toBeCloseTo(
      (minutes * 32) / 60,
      9,
    );
    expect(without!.figures.some(({ id }) => id.startsWith("work.attending"))).toBe(false);
  });
});

describe("the trace of a bill", () => {
  const ROW_OF_ALL = {
    kind: "service",
    ratePer: "minute",
    rate: new Amount("1.10"),
    minimumMinutes: 10,
    billingStepMinutes: 7,
    aboveHourRate: new Amount(50),
    aboveHourStepMinutes: 30,
    setupCharge: new Amount(8),
    sheetCharge: new Amount("1.50"),
    minimumCharge: new Amount(20),
    minimumFurther: new Amount(5),
    usualDays: 5,
    rushPercentPerDay: 20,
  } as const satisfies Partial<MachineRow>;
  /** Twice as much in one column each, and minutes in which that column counts. */
  const RAISED: readonly (readonly [string, number, Partial<MachineRow>])[] = [
    ["rate", 40, { rate: new Amount("2.20") }],
    ["minimum_minutes", 5, { minimumMinutes: 20 }],
    ["billing_step_minutes", 40, { billingStepMinutes: 14.5 }],
    ["above_hour_rate", 80, { aboveHourRate: new Amount(100) }],
    ["above_hour_step_minutes", 80, { aboveHourStepMinutes: 60 }],
    ["setup_charge", 40, { setupCharge: new Amount(16) }],
    ["sheet_charge", 40, { sheetCharge: new Amount(3) }],
    ["minimum_charge", 40, { minimumCharge: new Amount(400) }],
    ["minimum_further", 40, { minimumFurther: new Amount(400) }],
    ["usual_days", 40, { usualDays: 10 }],
    ["rush_percent_per_day", 40, { rushPercentPerDay: 40 }],
  ];

  it.each(RAISED)("leads to %s", (column, minutes, raised) => {
    const [before, after] = [ROW_OF_ALL, { ...ROW_OF_ALL, ...raised }].map(
      (row) => bill(minutes, row, 2, STOCKS).sheet,
    );
    expect(after!.value("machine.cost").gt(before!.value("machine.cost"))).toBe(true);
    const figures = before!.figures().map(recordOf);
    const columns = explanation({ figures }, "machine.cost").flatMap(({ origin }) =>
      origin.kind === "given" && origin.source.kind === "cell" ? [origin.source.place.column] : [],
    );
    expect(columns).toContain(column);
  });

  it("leads to what an own machine's hour is worked out from", () => {
    const own = {
      rate: null,
      price: new Amount(4000),
      lifeHours: 5000,
      consumablesPerHour: new Amount(1),
      powerKw: 1,
      electricityPerKwh: new Amount(1),
    };
    const figures = bill(60, own).sheet.figures();
    const columns = figures.flatMap(({ origin }) =>
      origin.kind === "given" && origin.source.kind === "cell" ? [origin.source.place.column] : [],
    );
    expect(columns).toEqual([
      "price",
      "life_hours",
      "consumables_per_hour",
      "power_kw",
      "electricity_per_kwh",
    ]);
  });
});

// B3, the bureau's price page: 48 pounds a m2, 100 letters from one; with a minute of the machine it
// says "about 1.50" each.
it("B3: a letter costs 0.48 of material and 1 of the machine", () => {
  const material = new Amount(48).div(100);
  expect(material.toNumber()).toBe(0.48);
  const minute = charged(1, { ...BUREAU, minimumMinutes: 0 });
  expect(Math.abs(material.plus(minute).toNumber() - 1.5)).toBeLessThan(0.03);
});

function valuesOf({ figures }: Estimate): readonly (readonly string[])[] {
  return figures.map(({ id, value }) => [id, value]);
}

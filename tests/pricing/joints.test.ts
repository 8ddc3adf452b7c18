import { describe, expect, it } from "vitest";
import type { Estimate, EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { recompute } from "../../src/figure.ts";
import { valueOf } from "../../src/formulas.ts";
import { figureOf } from "../../src/pricing/figure-record.ts";
import { Amount } from "../../src/money.ts";
import { sentence } from "../../src/problem.ts";
import { coarsePitch } from "../../src/pricing/metric-threads.ts";
import { estimated, SMALL_TABLES } from "../helpers/job.ts";
import { text } from "../job/texts.ts";

/** Plates with holes that bolts go through, on tables with a few bolts of two threads. */
const HARDWARE = [
  "id,description,kind,thread,pack_size,pack_price,spare_percent,role,length_mm,height_mm,hole_mm,content_ml,charge,hazard,valid_from,source",
  ...[30, 35, 40].map(
    (mm) => `m5x${mm},Bolt ${mm},fixing,M5,25,4.${mm},5,bolt,${mm},,,,,,2026-01-01,test`,
  ),
  ...[50, 55, 60, 65].map(
    (mm) => `m12x${mm},Bolt ${mm},fixing,M12,10,9.${mm},5,bolt,${mm},,,,,,2026-01-01,test`,
  ),
  "m5-nut,Nut,fixing,M5,50,2,5,nut,,4.7,,,,,2026-01-01,test",
  "m6-nut,Nut,fixing,M6,50,2,5,nut,,5.2,,,,,2026-01-01,test",
  "m7-nut,Nut,fixing,M7,50,2,5,nut,,5.5,,,,,2026-01-01,test",
  "m12-nut,Nut,fixing,M12,50,5,5,nut,,10,,,,,2026-01-01,test",
  "m5-washer,Washer,fixing,M5,100,3,5,washer,,1,,,,,2026-01-01,test",
  "m12-washer,Washer,fixing,M12,100,3,5,washer,,2,,,used,,2026-01-01,test",
  "m5-plain,Washer of unknown make,fixing,M5,100,3,5,washer,,,,,,,2026-01-01,test",
  "m5-insert,Insert,fixing,M5,20,7,5,insert,10,,6.5,,,,2026-01-01,test",
  "glue,Glue,bought-in,,1,6.40,0,,,,,40,,,2026-01-01,test",
];

const PARTS = [
  "part,qty,material,thickness,shape,width,height,diameter,holes",
  "plate,1,birch plywood,4,rectangle,100,60,,5.5 corners 10",
  "bar,1,birch plywood,4,rectangle,100,60,,5.5 centre",
  "big,2,birch plywood,4,rectangle,100,60,,13.5 centre",
];

function input(files: Readonly<Record<string, readonly string[]>>): EstimateInput {
  const list = { "parts.csv": PARTS, "job.yaml": ["pieces: 3"], ...files };
  const tables = SMALL_TABLES.filter(({ name }) => !name.endsWith("/hardware.csv"));
  return {
    jobName: "joints",
    job: Object.entries(list).map(([name, lines]) => text(name, lines)),
    tables: [...tables, text("price-tables/hardware.csv", HARDWARE)],
    seed: 1,
    steps: 1,
  };
}

const JOINTS = "joint,thread,part,hole diameter,through,nut,washer,washers,note";

function joined(...rows: readonly string[]): Estimate {
  return estimated(input({ "joints.csv": [JOINTS, ...rows] }));
}

function said(...rows: readonly string[]): readonly string[] {
  return checkJob(input({ "joints.csv": [JOINTS, ...rows] })).map(sentence);
}

function value({ figures }: Estimate, id: string): string {
  return figures.find((figure) => figure.id === id)?.value ?? "missing";
}

function bought({ shopping }: Estimate): readonly string[] {
  return shopping
    .filter(({ kind }) => kind === "hardware")
    .map(({ item, quantity, need }) => `${quantity} ${item}: ${need}`);
}

describe("a bolt by what it goes through", () => {
  it("is rounded up to a stocked length: grip 38, M12 (rule worked from a reference page)", () => {
    const estimate = joined("lid,M12,big,13.5,big + 34 mm,m12-nut,m12-washer,2,");
    expect(value(estimate, "joint.lid.needed")).toBe("55.5");
    expect(value(estimate, "joint.lid.length")).toBe("60");
    // Two big plates to a piece, three pieces, one hole each; 5 % spare; a pack of 10.
    expect(bought(estimate)).toEqual([
      "1 m12x60: 6 needed and 5 % spare: 7",
      "1 m12-nut: 6 needed and 5 % spare: 7",
      "1 m12-washer: 12 needed and 5 % spare: 13",
    ]);
  });

  it("is rounded up to a stocked length: 5 + 18 mm, M5 (derived)", () => {
    const estimate = joined("lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,,");
    expect(value(estimate, "joint.lid.needed")).toBe("31.3");
    expect(value(estimate, "joint.lid.length")).toBe("35");
    expect(bought(estimate)[0]).toBe("1 m5x35: 12 needed and 5 % spare: 13");
  });

  it("goes by the sheet as it was measured", () => {
    const job = [
      "pieces: 3",
      "measured:",
      "  - material: birch plywood",
      "    thickness: 4 mm",
      "    measured: 3.6 mm",
    ];
    const joints = [JOINTS, "lid,M5,plate,5.5,plate + 18 mm,m5-nut,m5-washer,2,"];
    const estimate = estimated(input({ "job.yaml": job, "joints.csv": joints }));
    // 3.6 + 18 + 2 + 4.7 + 1.6, where 4 mm would have needed 30.3 and so the longer one.
    expect(value(estimate, "joint.lid.needed")).toBe("29.9");
    expect(value(estimate, "joint.lid.length")).toBe("30");
  });

  it("ends in an insert where there is no nut", () => {
    // 4 + 20 + 1, and as deep into the insert as the thread is wide.
    const estimate = joined("lid,M5,plate,5.5,plate + 20 mm,m5-insert,m5-washer,1,");
    expect(value(estimate, "joint.lid.needed")).toBe("30");
    expect(value(estimate, "joint.lid.length")).toBe("30");
    expect(said("lid,M5,plate,5.5,plate + 20 mm,m5-insert,m5-washer,1,")).toEqual([]);
    // 25.5 or more is needed, 30.5 at most: 30 serves; of 20 mm less none does.
    expect(said("lid,M5,plate,5.5,plate + 5 mm,m5-insert,m5-washer,1,").join()).toContain(
      "m5x30, which goes further than m5-insert is deep",
    );
  });

  it("is bought once for joints that take the same", () => {
    const estimate = joined(
      "lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,2,",
      "foot,M5,plate,5.5,plate + 20 mm,m5-nut,m5-washer,2,",
      "rim,M5,plate,5.5,plate + 15 mm,m5-nut,m5-washer,2,",
    );
    expect(bought(estimate).map((line) => line.split(" ").slice(0, 3).join(" "))).toEqual([
      "1 m5x30: 12",
      "2 m5x35: 24",
      "1 m5-nut: 36",
      "1 m5-washer: 72",
    ]);
  });

  it("changes with what it hangs on, in the formulas as in a new estimate", () => {
    const row = "lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,2,";
    const estimate = joined(row);
    const again = recompute(
      estimate.figures.map(figureOf),
      new Map([["joint.lid.nut", new Amount(9)]]),
    );
    const tall = HARDWARE.map((line) => line.replace(",nut,,4.7,", ",nut,,9,"));
    const base = input({ "joints.csv": [JOINTS, row] });
    const tables = [...base.tables.slice(0, -1), text("price-tables/hardware.csv", tall)];
    const anew = estimated({ ...base, tables });
    expect(value(anew, "joint.lid.length")).toBe("40");
    for (const id of ["hardware.m5x35.cost", "hardware.m5x40.cost", "cost.direct"])
      expect(again.get(id)?.toString()).toBe(value(anew, id));
  });

  it("has the head that the joint asks for", () => {
    const flat = "m5flat,Flat bolt,fixing,M5,25,1,5,bolt,35,,,,,,2026-01-01,test";
    const base = input({
      "joints.csv": [`${JOINTS},head`, "lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,2,,flat"],
    });
    const header = HARDWARE[0] ?? "";
    const rows = [...HARDWARE.slice(1), flat].map(
      (line) => `${line},${line === flat ? "flat" : ""}`,
    );
    const tables = [
      ...base.tables.slice(0, -1),
      text("price-tables/hardware.csv", [`${header},head`, ...rows]),
    ];
    expect(bought(estimated({ ...base, tables }))[0]).toContain("m5flat");
    expect(bought(joined("lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,2,"))[0]).toContain(
      "m5x35",
    );
  });

  it("may be charged as it is used", () => {
    const estimate = joined("lid,M12,big,13.5,big + 34 mm,m12-nut,m12-washer,2,");
    // 12 and 5 % of them out of a pack of 100 at 3.00.
    expect(value(estimate, "hardware.m12-washer.cost")).toBe("0.378");
    // At the till it is a whole pack.
    const washers = estimate.shopping.find(({ item }) => item === "m12-washer");
    expect([washers?.quantity, washers?.unitPrice, washers?.amount]).toEqual(["1", "3.00", "3.00"]);
    expect(value(estimate, "hardware.m12-nut.cost")).toBe("5");
  });
});

describe("a joint that can not be", () => {
  it.each([
    ["a,M5,plate,5.5,plate + 60 mm,m5-nut,,,", "an M5 bolt of 70.3 mm or more is needed"],
    ["a,M5,plate,5.5,plate + 60 mm,m5-nut,,,", "the longest of M5 in hardware.csv: 30, 35, 40 mm"],
    [
      "a,M4,plate,5.5,plate,m5-nut,,,",
      'read "m5-nut, a nut M5", expected a nut or an insert of M4',
    ],
    ["a,M5,plate,5.5,plate,m5-washer,,,", "expected a nut or an insert of M5"],
    ["a,M5,plate,5.5,plate,m5-nut,m5-plain,2,", "the height_mm of m5-plain"],
    [
      "a,M5,plate,6,plate,m5-nut,,,",
      "the diameter of a hole in plate, which has round holes of 5.5 mm",
    ],
    ["a,M12,big,13.5,big + plate + 30 mm,m12-nut,,,", "no hole in plate that M12 goes through"],
    [
      "a,M5,plate,5.5,plate + bar + 15 mm,m5-nut,,,",
      "1 hole in bar that M5 goes through, for 4 bolts",
    ],
    ["a,M7,plate,5.5,plate,m7-nut,,,", "a coarse metric thread from M2 to M12"],
    ["a,M6,plate,5.5,plate,m6-nut,,,", "a bolt of M6 with its length_mm in hardware.csv"],
    ["a,M5,plat,5.5,plate,m5-nut,,,", 'Write "plate" if that is meant'],
    ["a,M5,plate,5.5,plate + slab,m5-nut,,,", 'read "slab", expected a part of the parts list'],
    ["a,M5,plate,5.5,plate +,m5-nut,,,", "parts and lengths with + between them"],
    ["a,M5,plate,5.5,plate,m5-nutt,,,", 'Write "m5-nut" if that is meant'],
    ["a,M5,plate,5.5,plate,m5-nut,,2,", "which washer of the price table"],
  ])("%s", (row, says) => {
    expect(said(row).join("\n")).toContain(says);
  });

  it("has two bolts of one length to choose from", () => {
    const twin = "m5-other,Bolt of another make,fixing,M5,10,1,5,bolt,35,,,,,,2026-01-01,test";
    const base = input({
      "joints.csv": [JOINTS, "lid,M5,plate,5.5,plate + 19 mm,m5-nut,m5-washer,2,"],
    });
    const tables = [
      ...base.tables.slice(0, -1),
      text("price-tables/hardware.csv", [...HARDWARE, twin]),
    ];
    expect(
      checkJob({ ...base, tables })
        .map(sentence)
        .join(""),
    ).toContain('read "m5x35 and m5-other", expected one M5 bolt of 35 mm in hardware.csv to take');
  });

  it("does not have the name of another", () => {
    const row = "a,M5,plate,5.5,plate + 19 mm,m5-nut,,,";
    expect(said(row, row).join("")).toContain(
      "a name that no other joint has; line 2 has it already",
    );
  });
});

describe("a thread", () => {
  it.each([
    // Mechanical Engineer's Data Handbook p. 299.
    ["M3", 0.5],
    ["M4", 0.7],
    ["M5", 0.8],
    ["M6", 1],
    ["M8", 1.25],
    ["M12", 1.75],
    ["M7", null],
  ])("%s has a pitch of %s", (name, pitch) => {
    expect(coarsePitch(name)).toBe(pitch);
  });
});

describe("glue", () => {
  const LIST = "item,qty,per,part,hole diameter,bead,bead length,film,glued area cm2,note";
  const glued = (...rows: readonly string[]) =>
    estimated(input({ "hardware.csv": [LIST, ...rows] }));

  it.each([
    // Adhesive chart: what 40 and 50 ml give, in feet.
    [40, 3.175, 16.6],
    [40, 4.7625, 7.4],
    [50, 6.35, 5.2],
  ])("%d ml at %d mm are %d ft of bead", (ml, across, feet) => {
    const perMm = valueOf("bead volume", [new Amount(across), new Amount(1)]);
    expect(new Amount(ml).div(perMm).div(304.8).toNumber()).toBeCloseTo(feet, 1);
  });

  it("is 0.0779 gal for a film of 50 x 36 x 0.010 in (epoxy coverage sheet)", () => {
    const area = new Amount(50 * 36 * 6.4516);
    const ml = valueOf("film volume", [new Amount("0.254"), area]);
    expect(ml.div("3785.411784").toNumber()).toBeCloseTo(0.0779, 4);
  });

  it("is bought by the bottle for all that is glued", () => {
    // 12 beads of 2 mm over 1 m: 37.7 ml; a film of 0.2 mm on 60 cm2 for three pieces: 3.6 ml.
    const estimate = glued("glue,4,piece,,,2 mm,1000,,,", "glue,1,piece,,,,,0.2 mm,60,");
    expect(Number(value(estimate, "hardware.glue.need"))).toBeCloseTo(12 * Math.PI + 3.6, 4);
    expect(bought(estimate)).toEqual(["2 glue: 41.3 ml needed"]);
  });

  it("may be counted by the bottle beside", () => {
    const estimate = glued("glue,1,order,,,,,,,", "glue,1,piece,,,2 mm,1000,,,");
    expect(Number(value(estimate, "hardware.glue.need"))).toBeCloseTo(40 + 3 * Math.PI, 4);
    expect(bought(glued("glue,2,order,,,,,,,"))).toEqual(["2 glue: 2 needed"]);
  });

  it.each([
    ["glue,1,piece,,,2 mm,,,,", "the bead length that goes with the bead of 2"],
    ["glue,1,piece,,,,,,20,", "the film that goes with the glued area cm2 of 20"],
    ["glue,1,piece,,,2 mm,30,0.1 mm,20,", "one of the two in a row"],
    ["m5-nut,1,piece,,,2 mm,30,,,", "its content_ml in hardware.csv"],
  ])("is refused: %s", (row, says) => {
    const problems = checkJob(input({ "hardware.csv": [LIST, row] })).map(sentence);
    expect(problems.join("\n")).toContain(says);
  });
});

describe("an insert", () => {
  it("wants a hole of its own, in a sheet as thick as it is long", () => {
    const list = ["item,qty,per,part,hole diameter", "m5-insert,1,hole,plate,5.5"];
    const problems = checkJob(input({ "hardware.csv": list }))
      .map(sentence)
      .join("\n");
    expect(problems).toContain('a hole of 5.5 mm in plate for m5-insert", expected 6.5 mm');
    expect(problems).toContain("m5-insert, 10 mm long, in plate of 4 mm");
  });
});

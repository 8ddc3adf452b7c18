import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import type { Checked } from "../../src/problem.ts";
import { estimated, readWorked, run, toolBoard } from "../worked/tool-board.ts";

/**
 * Paint and what goes with it, over a plate of 200 x 100 x 3 with a hole of 20: face 200 x 100 - 100 pi
 * = 19685.84 mm2, outline and hole 600 + 20 pi = 662.83 mm; worked by hand.
 */

const D = "2026-01-01,worked by hand";
const FINISH = "id,step,paint,faces,edges,coats,soak_low_percent,soak_percent,soak_high_percent";
const PAINT =
  "id,description,kind,sold_as,content_ml,spread_low_m2,spread_m2,spread_high_m2,solids_percent,film_um,thinner_percent,thinner,loss_percent,method,clear,price";
const METHOD =
  "id,description,loss_low_percent,loss_percent,loss_high_percent,past_low_mm,past_mm,past_high_mm";

const FACE_M2 = (20_000 - 100 * Math.PI) / 1e6;
const LINES_M = (600 + 20 * Math.PI) / 1000;
const EDGE_M2 = LINES_M * 0.003;

interface Rows {
  readonly finishes: readonly string[];
  readonly paints: readonly string[];
  readonly methods?: readonly string[];
  readonly svg?: string;
}

function result({ finishes, paints, methods = [], svg = PLATE }: Rows): Checked<Estimate> {
  const table = (head: string, rows: readonly string[]): string =>
    [`${head},valid_from,source`, ...rows.map((row) => `${row},${D}`)].join("\n");
  const sheets = readWorked("tables/sheets.csv").split("\n")[0] ?? "";
  const input = toolBoard({
    "job/parts.csv":
      "part,qty,material,thickness,drawing,finish\nplate,2,acrylic cast,3,drawings/name-plate.svg,sky",
    "job/drawings/name-plate.svg": svg,
    "job/job.yaml": "pieces: 3\nlines:\n  - class: engraved\n    do: engrave",
    "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
    "job/lengths.csv": "name,stock,length,qty",
    "job/hand-work.csv": "task\nscuff\nspray",
    "tables/sheets.csv": `${sheets}\nacrylic,acrylic cast,3,sheet,600,400,15,5,3,,${D}`,
    "tables/finishes.csv": table(FINISH, finishes),
    "tables/paints.csv": table(PAINT, paints),
  });
  const source = {
    name: "tables/methods.csv",
    text: table(METHOD, methods),
    sha256: "methods",
  };
  return run({ ...input, tables: [...input.tables, source] });
}

const PLATE = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
  <rect width="200" height="100" stroke="black" fill="none"/><circle cx="60" cy="40" r="10" stroke="black" fill="none"/></svg>`;
const ENGRAVED = PLATE.replace(
  "</svg>",
  '<rect class="engraved" x="100" y="20" width="50" height="20" stroke="black" fill="none"/></svg>',
);

function figures(rows: Rows): (id: string) => number {
  const { value, problems } = result(rows);
  if (value === null) throw new Error(JSON.stringify(problems));
  return (id) => Number(value.figures.find((figure) => figure.id === id)?.value ?? NaN);
}

function codes(rows: Rows): readonly string[] {
  return result(rows).problems.map(({ code }) => code);
}

const SKY = "sky,Sky blue,paint,can,400,1.8,2.4,4,,,,,50,,no,9.40";

describe("a step", () => {
  it("that uses nothing up or prepares is not sprayed, and is scuffed once over", () => {
    const of = figures({
      finishes: [
        "sky,scuff,pad,both,yes,1,,,",
        "sky,wipe,none,both,yes,1,,,",
        "sky,colour,sky,both,yes,2,,,",
      ],
      paints: [SKY, "pad,Grey pad,abrasive,pad,,0.2,0.25,0.5,,,,,0,,no,1.20"],
    });
    const all = 6 * (2 * FACE_M2 + EDGE_M2);
    expect(of("work.scuff.count")).toBeCloseTo(all, 9);
    expect(of("work.spray.count")).toBeCloseTo(2 * all, 9);
    // 0.24816 m2 over 0.25 m2 a pad: one pad, and one can.
    expect(of("paint.pad.used")).toBeCloseTo(all / 0.25, 9);
    expect(of("paint.pad.cans")).toBe(1);
    expect(of("paint.pad.cost")).toBe(1.2);
    expect(of("paint.sky.used")).toBeCloseTo((2 * all) / 1.2, 9);
  });

  it("on the edges alone takes their area, and raw board more of it", () => {
    const of = figures({
      finishes: ["sky,seal,sky,none,yes,3,20,35,50", "sky,colour,sky,front,no,1,,,"],
      paints: [SKY],
    });
    const edges = 3 * 6 * EDGE_M2;
    expect(of("finish.sky.seal.area")).toBeCloseTo(edges, 9);
    // Trade article: raw wood and MDF 20 to 50 % less; 100 covered for 65.
    expect(of("finish.sky.seal.taken")).toBeCloseTo(edges / 0.65, 9);
    expect(of("paint.sky.area")).toBeCloseTo(edges / 0.65 + 6 * FACE_M2, 9);
    expect(of("work.scuff.count")).toBeCloseTo(6 * (FACE_M2 + EDGE_M2), 9);
  });

  it("lists pads to buy beside cans, by what they are used for", () => {
    const { value } = result({
      finishes: ["sky,scuff,pad,front,yes,2,,,", "sky,colour,sky,front,yes,1,,,"],
      paints: [SKY, "pad,Grey pad,abrasive,pad,,,0.1,,,,,,0,,no,1.20"],
    });
    const rows = value?.shopping.filter(({ kind }) => kind === "paint" || kind === "consumable");
    expect(rows?.map(({ kind, quantity, unit, need }) => [kind, quantity, unit, need])).toEqual([
      // 2 x 6 x 0.0216743 / 0.1
      ["consumable", "3", "pads", "2.60 pads used: twice over front and edges of plate"],
      ["paint", "1", "can of 400 ml", "0.11 cans used: 1 coat on front and edges of plate"],
    ]);
  });
});

describe("a method", () => {
  const finishes = ["sky,colour,sky,both,yes,2,,,"];
  const paints = [SKY.replace(",50,,no", ",,gun,no")];

  it("says the loss where the paint's row does not, with its range", () => {
    // Finishing trade primer: a conventional gun transfers 25 to 35 %.
    const { value } = result({ finishes, paints, methods: ["gun,Air gun,65,70,75,,,"] });
    const of = new Map(value?.figures.map((figure) => [figure.id, figure]));
    expect(of.get("method.gun.loss")).toMatchObject({
      value: "70",
      spread: { low: "65", high: "75" },
    });
    expect(of.get("paint.sky.spread")).toMatchObject({ spread: { low: "1.8", high: "4" } });
    expect(Number(of.get("paint.sky.practical")?.value)).toBeCloseTo(0.72, 12);
  });

  it("does not go before a loss that the maker measured", () => {
    const own = [SKY.replace(",50,,no", ",20,gun,no")];
    const of = figures({ finishes, paints: own, methods: ["gun,Air gun,65,70,75,,,"] });
    expect(of("paint.sky.loss")).toBe(20);
    expect(of("paint.sky.practical")).toBeCloseTo(1.92, 12);
  });

  it("paints past the outline, so that small and lacy parts lose more", () => {
    const of = figures({ finishes, paints, methods: ["gun,Air gun,65,70,75,0,10,30"] });
    // 10 mm along 0.66283 m, both faces, six plates, two coats.
    const past = 2 * 6 * 2 * LINES_M * 0.01;
    expect(of("finish.sky.colour.past")).toBeCloseTo(past, 9);
    const area = 2 * 6 * (2 * FACE_M2 + EDGE_M2);
    expect(of("paint.sky.area")).toBeCloseTo(area + past, 9);
    expect(of("work.spray.count")).toBeCloseTo(area, 9);
    // A square of side s has 4 s of outline: its share grows as 4 x 10 / s, 4 % of a metre, 80 % of 50 mm.
    expect(past / (2 * 6 * 2 * FACE_M2)).toBeCloseTo((LINES_M * 0.01) / FACE_M2, 9);
  });
});

describe("thinner", () => {
  const finishes = ["sky,colour,sky,both,yes,2,,,"];

  // Coatings blog, worked: 50 % + 10 % thinner are 45.45 %; 60 um, 7.57 m2/l, at a loss of 30 % 5.299.
  it("P4: 7.57 m2 a litre of thinned paint, 5.299 at a loss of 30 %, and the can goes as far", () => {
    const of = figures({
      finishes,
      paints: ["sky,Sky blue,paint,tin,1000,,,,50,60,10,,30,,no,24.00"],
    });
    expect(of("paint.sky.thinned-solids")).toBeCloseTo(45.4545, 4);
    expect(of("paint.sky.mixed")).toBeCloseTo(1.1, 12);
    const litre = of("paint.sky.spread") / of("paint.sky.mixed");
    expect(litre).toBeCloseTo(7.5758, 4);
    expect(of("paint.sky.practical") / of("paint.sky.mixed")).toBeCloseTo(5.303, 3);
    expect(Math.abs(litre * 0.7 - 5.299)).toBeLessThan(0.005);
    // Nothing is lost by thinning: 10 x 50 / 60 of the litre that was bought.
    expect(of("paint.sky.spread")).toBeCloseTo(8.3333, 4);
  });

  // Coatings primer, P8: 1604 / 100 = 16 mil wet for a gallon on 100 ft2; at 45.45 % 7.29 mil dry.
  it("makes a coat wetter: 60 um dry are 132 um wet at 45.45 %", () => {
    const of = figures({
      finishes,
      paints: ["sky,Sky blue,paint,tin,1000,,,,50,60,10,,30,,no,24.00"],
    });
    expect(of("paint.sky.wet-film")).toBeCloseTo(132, 9);
  });

  it("is bought for what is used of the paint", () => {
    const of = figures({
      finishes,
      paints: [
        "sky,Sky blue,paint,tin,100,,0.2,,,,25,spirit,0,,no,24.00",
        "spirit,Spirit,thinner,bottle,50,,,,,,,,,,no,3.00",
      ],
    });
    const tins = (12 * (2 * FACE_M2 + EDGE_M2)) / 0.2;
    expect(of("paint.sky.used")).toBeCloseTo(tins, 9);
    expect(of("paint.spirit.need")).toBeCloseTo(tins * 0.1 * 0.25, 9);
    // 2.4816 tins of 0.1 l, a quarter of that: 0.06204 l, two bottles of 50 ml.
    expect(of("paint.spirit.cans")).toBe(2);
    expect(of("paint.spirit.cost")).toBe(6);
  });

  it("is refused as paint, and paint as thinner", () => {
    const spirit = "spirit,Spirit,thinner,bottle,50,,,,,,,,,,no,3.00";
    expect(codes({ finishes: ["sky,colour,spirit,both,yes,2,,,"], paints: [spirit] })).toContain(
      "thinner-as-paint",
    );
    const twice = [SKY.replace(",,,50,", ",10,red,50,"), SKY.replace("sky,", "red,")];
    expect(codes({ finishes, paints: twice })).toContain("not-a-thinner");
  });
});

describe("paint over an engraving", () => {
  const colour = "sky,colour,sky,front,yes,1,,,";
  const mask = "tape,Tape,masking,roll,,,1,,,,,,0,,no,4.20";

  it.each([
    ["is warned of", [colour], [SKY], ENGRAVED, true],
    [
      "is not where nobody says how it covers",
      [colour],
      [SKY.replace("50,,no", "50,,")],
      ENGRAVED,
      false,
    ],
    ["is not where it is clear", [colour], [SKY.replace("50,,no", "50,,yes")], ENGRAVED, false],
    [
      "is not where it is masked",
      ["sky,mask,tape,front,no,1,,,", colour],
      [SKY, mask],
      ENGRAVED,
      false,
    ],
    [
      "is not where only edges are painted",
      ["sky,colour,sky,none,yes,1,,,"],
      [SKY],
      ENGRAVED,
      false,
    ],
    ["is not without an engraving", [colour], [SKY], PLATE, false],
  ])("%s", (_, finishes, paints, svg, told) => {
    const { value, problems } = result({ finishes, paints, svg });
    expect(value === null).toBe(false);
    expect(problems.some(({ code }) => code === "engraving-painted")).toBe(told);
  });
});

it("takes tables without any of the new columns as they are", () => {
  expect(estimated(toolBoard()).figures.find(({ id }) => id === "quote.net")?.value).toBe("495");
});

import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import { checkJob } from "../../src/estimate.ts";
import { estimated, readWorked, run, sourceText, toolBoard } from "../worked/tool-board.ts";

/** Weights, and what a carrier takes for them. Jobs and tariffs are invented. */

const MATERIALS = [
  "id,material,density_low_kg_m3,density_kg_m3,density_high_kg_m3,valid_from,source",
  // Sheet maker data sheet.
  "a,acrylic cast,,1190,,2026-01-01,data sheet",
  "b,birch plywood,660,690,710,2026-01-01,data sheet",
].join("\n");

const TARIFF = [
  "id,up_to_kg,price,cm3_per_kg,round_up_kg,valid_from,source",
  "van,10,12.00,5000,0.5,2026-01-01,invented",
  "van,2,4.90,5000,0.5,2026-01-01,invented",
  "van,5,7.50,5000,0.5,2026-01-01,invented",
  "bike,20,9.00,,,2026-01-01,invented",
].join("\n");

const PLATE =
  "part,qty,material,thickness,shape,width,height\nplate,1,acrylic cast,3,rectangle,600,400";
const LARGE = readWorked("tables/sheets.csv").replace(
  /^(acrylic.*?sheet),150,100,/m,
  "$1,700,500,",
);

interface Changed {
  readonly pieces?: number;
  readonly materials?: string;
  readonly parts?: string;
  /** By their file names. */
  readonly lists?: Readonly<Record<string, string>>;
}

/** @param delivery lines of job.yaml. */
function job(
  delivery: readonly string[],
  { pieces = 1, materials = MATERIALS, parts = PLATE, lists = {} }: Changed = {},
): EstimateInput {
  const { tables, ...rest } = toolBoard({ "tables/sheets.csv": LARGE });
  const own = Object.entries(lists).map(([name, text]) => sourceText(name, text));
  return {
    ...rest,
    tables: [
      ...tables,
      sourceText("tables/materials.csv", materials),
      sourceText("tables/deliveries.csv", TARIFF),
    ],
    job: [
      sourceText("parts.csv", parts),
      sourceText("job.yaml", [`pieces: ${pieces}`, ...delivery].join("\n")),
      ...own,
    ],
  };
}

function valuesOf(input: EstimateInput): (id: string) => number {
  const { figures } = estimated(input);
  return (id) => Number(figures.find((figure) => figure.id === id)?.value ?? Number.NaN);
}

function codes(input: EstimateInput): readonly string[] {
  return checkJob(input).map(({ code }) => code);
}

function parcel(tariff: string, ...lines: readonly string[]): readonly string[] {
  return ["delivery:", `  tariff: ${tariff}`, ...lines.map((line) => `  ${line}`)];
}

const BOX = ["length: 25 cm", "width: 300 mm", "height: 15 cm"];

describe("weights", () => {
  // Trade facts 1.3, checked there: 600 x 400 x 3 mm of acrylic is 856.8 g.
  it("are area times thickness times density: 856.8 g of acrylic", () => {
    const of = valuesOf(job([], { pieces: 5 }));
    expect(of("part.plate.weight")).toBeCloseTo(0.8568, 12);
    expect(of("weight.piece")).toBeCloseTo(0.8568, 12);
    expect(of("weight.order")).toBeCloseTo(5 * 0.8568, 12);
  });

  it("carry the spread of the density", () => {
    const ply = PLATE.replace(
      "acrylic cast,3,rectangle,600,400",
      "birch plywood,9,rectangle,500,300",
    );
    const found = estimated(job([], { parts: ply })).figures.find(
      ({ id }) => id === "material.birch_plywood.density",
    );
    expect(found?.spread).toEqual({ low: "660", high: "710" });
  });

  it("are not asked for, and not told, where one of the parts has none", () => {
    const bare = job([], { materials: MATERIALS.replace(/^a,.*\n/m, "") });
    expect(codes(bare)).toEqual([]);
    expect(valuesOf(bare)("weight.order")).toBeNaN();
  });

  it("have items and lengths that the tables give a weight, and spares of neither", () => {
    const lists = {
      "hardware.csv": "item,qty,per\nhook-rail,2,piece",
      "lengths.csv": "name,stock,length,qty\nrail,oak-strip,500,2",
    };
    const input = job([], { pieces: 3, lists });
    expect(valuesOf(input)("weight.order")).toBeNaN();
    const tables = input.tables.map(({ name, text }) => {
      if (name === "tables/hardware.csv")
        return sourceText(
          name,
          text.replace(/^id,/, "weight_g,id,").replace(/^(?!weight_g)/gm, "250,"),
        );
      if (name === "tables/stock-lengths.csv")
        return sourceText(
          name,
          text.replace(/^id,/, "kg_per_m,id,").replace(/^(?!kg_per_m)/gm, "0.15,"),
        );
      return sourceText(name, text);
    });
    const trim = tables.map(({ name, text }) => sourceText(name, text.replace(/\n[\d.]+,$/, "\n")));
    const of = valuesOf({ ...input, tables: trim });
    // 3 x 0.8568 of plates, 3 x 2 rails of 0.5 m at 0.15, 6 hook rails of 250 g.
    expect(of("weight.order")).toBeCloseTo(3 * 0.8568 + 6 * 0.5 * 0.15 + 6 * 0.25, 12);
  });
});

describe("delivery by weight and size", () => {
  // D1, carrier FAQ: 25 x 30 x 15 cm over 5000 is 2.25 kg, against 8 kg on the scales.
  it("D1: takes 8 kg of a box of 25 x 30 x 15 cm that weighs them", () => {
    const of = valuesOf(job(parcel("van", ...BOX, "weight_kg: 8")));
    expect(of("delivery.volume")).toBe(11_250);
    expect(of("delivery.by-size")).toBe(2.25);
    expect(of("delivery.chargeable")).toBe(8);
    expect(of("delivery.cost")).toBe(12);
    expect(of("cost.delivery")).toBe(12);
  });

  it("takes its size where that is more, rounded up to the carrier's step", () => {
    const of = valuesOf(job(parcel("van", ...BOX, "weight_kg: 1.2")));
    expect(of("delivery.chargeable-exact")).toBe(2.25);
    expect(of("delivery.chargeable")).toBe(2.5);
    expect(of("delivery.cost")).toBe(7.5);
  });

  it.each([
    ["2", 4.9],
    ["1.6", 4.9],
    ["2.01", 7.5],
    ["5", 7.5],
    ["9.5", 12],
  ])("has the step that %s kg do not exceed, in whatever order the table has them", (kg, price) => {
    const small = ["length: 10 cm", "width: 10 cm", "height: 10 cm"];
    expect(valuesOf(job(parcel("van", ...small, `weight_kg: ${kg}`)))("delivery.cost")).toBe(price);
  });

  it("works the weight out from what is in the parcels, with their packing", () => {
    const lines = parcel("bike", "parcels: 2", "packing_kg: 0.5");
    const of = valuesOf(job(lines, { pieces: 4 }));
    expect(of("delivery.weight")).toBeCloseTo(2 * 0.8568 + 0.5, 12);
    expect(of("delivery.cost")).toBe(18);
  });

  // 25 plates of 0.8568 kg, 4 to a parcel with 0.5 kg of packing: 7 parcels, the fullest 3.9272 kg.
  it.each([
    [25, 7, 4 * 0.8568 + 0.5],
    [4, 1, 4 * 0.8568 + 0.5],
    [3, 1, 3 * 0.8568 + 0.5],
  ])("packs %s pieces into as many parcels as they fill: %s", (pieces, parcels, kg) => {
    const of = valuesOf(job(parcel("bike", "pieces_in_parcel: 4", "packing_kg: 0.5"), { pieces }));
    expect(of("delivery.parcels")).toBe(parcels);
    expect(of("delivery.weight")).toBeCloseTo(kg, 12);
    expect(of("delivery.cost")).toBe(9 * parcels);
  });

  it("takes the place of the price in the settings, and is told to the customer as delivery", () => {
    const { quote } = estimated(job(parcel("bike")));
    expect(quote.filter(({ section }) => section === "Delivery")).toMatchObject([
      { description: "Delivery", basis: "to the agreed address" },
    ]);
    const both = [...parcel("bike"), "price:", "  delivery: 20"];
    expect(codes(job(both))).toEqual(["delivery-twice"]);
  });

  it("asks for what it needs, and refuses a parcel beyond the last step", () => {
    expect(codes(job(parcel("vann", ...BOX)))).toEqual(["unknown-tariff"]);
    expect(codes(job(parcel("van", "weight_kg: 3")))).toEqual(["parcel-size-needed"]);
    expect(codes(job(parcel("van", "length: 25 cm", "weight_kg: 3")))).toContain("empty-value");
    const none = MATERIALS.replace(/^a,.*\n/m, "");
    expect(codes(job(parcel("bike"), { materials: none }))).toEqual(["weight-unknown"]);
    expect(codes(job(parcel("bike", "weight_kg: 3"), { materials: none }))).toEqual([]);
    const { value, problems } = run(job(parcel("bike", "weight_kg: 20.5")));
    expect(value).toBeNull();
    expect(problems.map(({ code }) => code)).toEqual(["parcel-too-heavy"]);
  });

  it("wants one way to weigh and measure from all rows of a tariff", () => {
    const { tables, ...rest } = job(parcel("van", ...BOX, "weight_kg: 3"));
    const changed = tables.map((one) =>
      one.name === "tables/deliveries.csv"
        ? sourceText(one.name, TARIFF.replace("van,5,7.50,5000", "van,5,7.50,6000"))
        : one,
    );
    expect(codes({ ...rest, tables: changed })).toEqual(["tariff-two-ways"]);
  });
});

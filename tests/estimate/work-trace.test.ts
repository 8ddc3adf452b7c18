import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { Amount } from "../../src/money.ts";
import { tracesOf } from "../helpers/traces.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/**
 * As the trace of every figure (`trace.test.ts`), for set-up, learning, supplies, spare copies, weights,
 * a carrier's tariff and the rules for sheets: a number is raised by a tenth, and only figures may
 * change whose trace names that row.
 */

const D = "2026-01-01,invented for the trace";

const TABLES = {
  "tasks.csv": [
    "id,description,basis,minutes,setup_minutes,learning_percent,supplies_each,rate,section,valid_from,source",
    `ease,Easing,edge m,2,10,80,0.30,bench,Making and assembly,${D}`,
    `fold,Folding,piece,5,8,90,0.20,bench,Making and assembly,${D}`,
  ],
  "materials.csv": [
    "id,material,density_kg_m3,valid_from,source",
    `acrylic,acrylic cast,1190,${D}`,
  ],
  "deliveries.csv": [
    "id,up_to_kg,price,cm3_per_kg,round_up_kg,valid_from,source",
    `van,1,4.90,5000,0.01,${D}`,
    `van,3,7.50,5000,0.01,${D}`,
  ],
  "hardware.csv": readWorked("tables/hardware.csv")
    .trimEnd()
    .split("\n")
    .map((row, index) => `${row},${index === 0 ? "weight_g" : "40"}`),
};

type Texts = Readonly<Record<string, readonly string[]>>;

interface Rule {
  readonly charge: string;
  readonly spoilage: string;
  readonly waste: string;
}

const RULE: Rule = { charge: "less what is left", spoilage: "30", waste: "15" };

function of(texts: Texts, { charge, spoilage, waste }: Rule): Estimate {
  const sheets = readWorked("tables/sheets.csv").split("\n")[0] ?? "";
  const rules = [
    `learning_model,unit,${D}`,
    `charge_sheets,${charge},${D}`,
    `spoilage_percent,${spoilage},${D}`,
    `waste_percent,${waste},${D}`,
  ];
  const changed = Object.fromEntries(
    Object.entries(texts).map(([name, lines]) => [`tables/${name}`, lines.join("\n")]),
  );
  const input = toolBoard({
    "job/parts.csv":
      "part,qty,material,thickness,shape,width,height\nplate,2,acrylic cast,3,rectangle,200,100",
    "job/job.yaml":
      "pieces: 3\ndelivery:\n  tariff: van\n  length: 200\n  width: 150\n  height: 80\n  packing_kg: 0.1",
    "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
    "job/lengths.csv": "name,stock,length,qty",
    "job/hand-work.csv": "task\nease\nfold",
    "tables/sheets.csv": `${sheets}\nacrylic,acrylic cast,3,sheet,600,400,15,5,3,,${D}`,
    "tables/settings.csv": [readWorked("tables/settings.csv").trimEnd(), ...rules].join("\n"),
    ...changed,
  });
  const further = ["tables/materials.csv", "tables/deliveries.csv"].map((name) =>
    sourceText(name, changed[name] ?? ""),
  );
  return estimated({ ...input, tables: [...input.tables, ...further] });
}

/** Figures whose value is another one, or that were not there. */
function changes(before: Estimate, after: Estimate): readonly string[] {
  const was = new Map(before.figures.map(({ id, value }) => [id, value]));
  return after.figures.filter(({ id, value }) => was.get(id) !== value).map(({ id }) => id);
}

interface Moved {
  readonly row: string;
  readonly column: string;
  readonly changed: readonly string[];
}

function moved(file: keyof typeof TABLES, columns: readonly string[], before: Estimate): Moved[] {
  const lines = TABLES[file];
  const head = (lines[0] ?? "").split(",");
  return columns.flatMap((column) =>
    lines.slice(1).map((row, index) => {
      const at = head.indexOf(column);
      const cells = row.split(",");
      const raised = cells.with(at, new Amount(cells[at] ?? "").times("1.1").toString()).join(",");
      // One way of weighing for the whole tariff.
      const all = file === "deliveries.csv" && column !== "up_to_kg" && column !== "price";
      const texts = { ...TABLES, [file]: lines.with(index + 1, raised) };
      const other = lines.map((one, line) =>
        line === 0
          ? one
          : one
              .split(",")
              .with(at, raised.split(",")[at] ?? "")
              .join(","),
      );
      const after = of(all ? { ...TABLES, [file]: other } : texts, RULE);
      return { row: `tables/${file}:${index + 2}`, column, changed: changes(before, after) };
    }),
  );
}

describe("the trace of work, weight, delivery and sheets, when a number is raised by a tenth", () => {
  const before = of(TABLES, RULE);
  const traces = tracesOf(before);
  const found = [
    ...moved(
      "tasks.csv",
      ["minutes", "setup_minutes", "learning_percent", "supplies_each"],
      before,
    ),
    ...moved("materials.csv", ["density_kg_m3"], before),
    ...moved("deliveries.csv", ["up_to_kg", "price", "cm3_per_kg", "round_up_kg"], before),
    ...moved("hardware.csv", ["weight_g"], before),
  ];

  it("names the row of every number that moves a figure", () => {
    const strays = found
      .filter(({ row, column }) => !row.includes("deliveries") || !/cm3|round/.test(column))
      .flatMap(({ row, column, changed }) =>
        changed.filter((id) => !traces.get(id)?.has(row)).map((id) => `${id} by ${row} ${column}`),
      );
    expect(strays).toEqual([]);
  });

  it("moves something by every number of a row that the job uses", () => {
    const idle = found.filter(({ changed }) => changed.length === 0).map(({ row }) => row);
    const items = TABLES["hardware.csv"].slice(1);
    // Of all the items the job has one.
    expect(idle).toHaveLength(items.length - 1);
    expect(idle.every((row) => row.startsWith("tables/hardware.csv:"))).toBe(true);
    const price = found.find(
      ({ row, column }) => row.endsWith("deliveries.csv:2") && column === "price",
    );
    expect(price?.changed).toContain("delivery.cost");
  });

  it("has the settings among what the sheets hang on, by each rule", () => {
    const rows = readWorked("tables/settings.csv").trimEnd().split("\n").length;
    const [charge, spoilage, waste] = [2, 3, 4].map((line) => `tables/settings.csv:${rows + line}`);
    const more = changes(before, of(TABLES, { ...RULE, spoilage: "60" }));
    expect(more).toContain("sheet.acrylic_cast_3.leftover.area");
    // More copies have more sheets, so that figures come and go by name.
    expect(more.filter((id) => traces.has(id) && !traces.get(id)?.has(spoilage ?? ""))).toEqual([]);
    const area = of(TABLES, { ...RULE, charge: "area of the parts" });
    expect(
      tracesOf(area)
        .get("cost.materials")
        ?.has(waste ?? ""),
    ).toBe(true);
    const told = area.figures.find(({ id }) => id === "sheet.acrylic_cast_3.charged")?.origin;
    expect(JSON.stringify(told)).toContain(`tables/settings.csv, line ${charge?.split(":")[1]}`);
  });
});

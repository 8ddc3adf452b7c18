import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { Amount } from "../../src/money.ts";
import { tracesOf } from "../helpers/traces.ts";
import { estimated, readWorked, sourceText, toolBoard } from "../worked/tool-board.ts";

/**
 * As the trace of every figure (`trace.test.ts`), for what a finish may have beside paint by the can:
 * every number of its tables is raised by a tenth, one at a time, and only figures may change whose
 * trace names that row.
 */

const D = "2026-01-01,invented for the trace";
const TABLES = {
  "tables/finishes.csv": [
    "id,step,paint,faces,edges,coats,soak_low_percent,soak_percent,soak_high_percent,valid_from,source",
    `sky,scuff,pad,both,yes,1,,,,${D}`,
    `sky,seal,primer,none,yes,2,20,35,50,${D}`,
    `sky,prime,primer,both,yes,1,,,,${D}`,
    `sky,mask,tape,front,no,1,,,,${D}`,
    `sky,colour,blue,both,yes,2,,,,${D}`,
  ],
  "tables/paints.csv": [
    "id,description,kind,sold_as,content_ml,spread_low_m2,spread_m2,spread_high_m2,solids_percent,film_um,thinner_percent,thinner,loss_percent,method,clear,flash_minutes,recoat_within_minutes,recoat_after_minutes,handle_minutes,cure_hours,price,valid_from,source",
    `pad,Pad,abrasive,pad,,0.01,0.02,0.03,,,,,0,,,,,,,,1.20,${D}`,
    `tape,Tape,masking,roll,,0.01,0.02,0.03,,,,,20,,,,,,,,4.20,${D}`,
    `primer,Primer,paint,tin,12,,,,40,200,15,spirit,,gun,no,30,,,120,24,9.40,${D}`,
    `blue,Blue,paint,can,400,0.02,0.03,0.04,,,,,,gun,no,10,60,2880,90,48,8.60,${D}`,
    `spirit,Spirit,thinner,bottle,10,,,,,,,,,,,,,,,,3.00,${D}`,
  ],
  "tables/methods.csv": [
    "id,description,loss_low_percent,loss_percent,loss_high_percent,past_low_mm,past_mm,past_high_mm,valid_from,source",
    `gun,Air gun,40,50,60,0,5,15,${D}`,
  ],
  "tables/settings.csv": [
    ...readWorked("tables/settings.csv").trim().split("\n"),
    `hours_per_day,10,${D}`,
    `materials_days,2,${D}`,
    `delivery_days,1,${D}`,
  ],
};

type Texts = Readonly<Record<string, readonly string[]>>;

function of(texts: Texts): Estimate {
  const sheets = readWorked("tables/sheets.csv").split("\n")[0] ?? "";
  const changed = Object.fromEntries(
    Object.entries(texts).map(([name, lines]) => [name, lines.join("\n")]),
  );
  const input = toolBoard({
    "job/parts.csv":
      "part,qty,material,thickness,shape,width,height,finish\nplate,2,acrylic cast,3,rectangle,200,100,sky",
    "job/job.yaml": "pieces: 3",
    "job/hardware.csv": "item,qty,per\nhook-rail,1,piece",
    "job/lengths.csv": "name,stock,length,qty",
    "job/hand-work.csv": "task\ndrawing\nscuff\nspray\nassemble\npack",
    "tables/sheets.csv": `${sheets}\nacrylic,acrylic cast,3,sheet,600,400,15,5,3,,${D}`,
    ...changed,
  });
  const methods = sourceText("tables/methods.csv", changed["tables/methods.csv"] ?? "");
  return estimated({ ...input, tables: [...input.tables, methods] });
}

interface Cell {
  readonly file: string;
  readonly line: number;
  readonly column: string;
  readonly texts: Texts;
}

/** Counts go up by one. */
const WHOLE = new Set(["coats"]);
const ENDS = /_low|_high/;

function cells(): readonly Cell[] {
  return Object.entries(TABLES).flatMap(([file, lines]) => {
    const columns = (lines[0] ?? "").split(",");
    return lines.slice(1).flatMap((row, index) =>
      row.split(",").flatMap((text, at): Cell[] => {
        const column = columns[at] ?? "";
        if (!/^\d+(\.\d+)?$/.test(text) || text === "0" || ENDS.test(column)) return [];
        const value = WHOLE.has(column) ? new Amount(text).plus(1) : new Amount(text).times("1.1");
        const written = column === "price" ? value.toDecimalPlaces(2) : value;
        const changed = row.split(",").with(at, written.toString()).join(",");
        const texts = { ...TABLES, [file]: lines.with(index + 1, changed) };
        return [{ file, line: index + 2, column, texts }];
      }),
    );
  });
}

describe("the trace of a finish, when a number of its tables is raised by a tenth", () => {
  const before = of(TABLES);
  const was = new Map(before.figures.map(({ id, value }) => [id, value]));
  const traces = tracesOf(before);
  const moved = cells().map((cell) => {
    const changed = of(cell.texts).figures.filter(({ id, value }) => was.get(id) !== value);
    return { ...cell, row: `${cell.file}:${cell.line}`, changed: changed.map(({ id }) => id) };
  });

  it("names the row of every number that moves a figure", () => {
    expect(moved.length).toBeGreaterThanOrEqual(40);
    const strays = moved.flatMap(({ row, column, changed }) =>
      changed.filter((id) => !traces.get(id)?.has(row)).map((id) => `${id} by ${row} ${column}`),
    );
    expect(strays).toEqual([]);
  });

  it("moves something by every number but those that are never reached", () => {
    const idle = moved.filter(({ changed }) => changed.length === 0);
    expect(idle.map(({ row, column }) => `${row} ${column}`)).toEqual([
      // The last paint is hard later; a label tells its area; every coat comes in time.
      "tables/paints.csv:4 cure_hours",
      "tables/paints.csv:5 content_ml",
      "tables/paints.csv:5 recoat_within_minutes",
      "tables/paints.csv:5 recoat_after_minutes",
    ]);
  });
});

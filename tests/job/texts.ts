import type { SourceText } from "../../src/job/types.ts";
import type { Problem } from "../../src/problem.ts";

/** Texts as the disk would give them. */
export function text(name: string, lines: string | readonly string[]): SourceText {
  return { name, text: typeof lines === "string" ? lines : lines.join("\n"), sha256: name };
}

export const PARTS_HEADER =
  "part,qty,material,thickness,drawing,shape,width,height,diameter,bore,corner radius,turn,flip,finish,note";

export const PLATE = "plate,4,birch plywood,4 mm,,rectangle,120,80,,,,,,,";

/** A parts list with a sound first row in line 2 and the given rows from line 3. */
export function parts(...rows: readonly string[]): SourceText {
  return text("parts.csv", [PARTS_HEADER, PLATE, ...rows]);
}

/** What a test compares: the kind of a problem and where it stands. */
export function spots(problems: readonly Problem[]): readonly (readonly unknown[])[] {
  return problems.map(({ code, line, column }) => [code, line, column]);
}

const DATED = "2026-01-01,test";

/** A small table set without a fault. */
export const TABLES: Readonly<Record<string, readonly string[]>> = {
  "settings.csv": [
    "id,value,valid_from,source",
    `currency,EUR,${DATED}`,
    `machine,own,${DATED}`,
    `overhead_percent,10,${DATED}`,
  ],
  "sheets.csv": [
    "id,material,thickness_mm,form,width_mm,height_mm,price,margin_mm,gap_mm,on_hand,valid_from,source",
    `ply-4,birch plywood,4,sheet,600,400,12.50,5,3,,${DATED}`,
    `ply-6,birch plywood,6,,600,400,16.00,5,3,2,${DATED}`,
    `card-roll,card,1,roll,500,,2.40,5,2,,${DATED}`,
  ],
  "feeds.csv": [
    "id,machine,material,thickness_mm,operation,feed_low_mm_s,feed_mm_s,feed_high_mm_s,passes,pierce_s,valid_from,source",
    `own-ply-4,own,birch plywood,4,cut,,12,18,1,0.2,${DATED}`,
  ],
  "machines.csv": [
    "id,description,kind,rate,rate_per,minimum_minutes,billing_step_minutes,setup_minutes,load_minutes,bed_width_mm,bed_height_mm,travel_mm_s,acceleration_mm_s2,line_interval_mm,valid_from,source",
    `own,Own laser,own,14.00,hour,0,0,5,2,600,400,200,1000,0.1,${DATED}`,
  ],
  "finishes.csv": [
    "id,step,paint,faces,edges,coats,valid_from,source",
    `reed,prime,primer,both,yes,1,${DATED}`,
    `reed,colour,green,both,no,2,${DATED}`,
  ],
  "paints.csv": [
    "id,description,content_ml,spread_low_m2,spread_m2,spread_high_m2,loss_percent,price,valid_from,source",
    `primer,Primer,400,1,2,3,50,8.60,${DATED}`,
    `green,Reed green,400,,2,,50,9.40,${DATED}`,
  ],
  "hardware.csv": [
    "id,description,kind,thread,pack_size,pack_price,spare_percent,hazard,valid_from,source",
    `m5-bolt,Bolt,fixing,M5,25,4.10,5,,${DATED}`,
  ],
  "stock-lengths.csv": [
    "id,description,length_mm,saw_kerf_mm,end_trim_mm,price,valid_from,source",
    `larch,Larch batten,2400,3,10,7.90,${DATED}`,
    `larch,Larch batten,3000,3,10,9.60,${DATED}`,
  ],
  "tasks.csv": [
    "id,description,basis,minutes_low,minutes,minutes_high,rate,usual,hazard,section,valid_from,source",
    `assemble,Assembly,piece,8,12,20,bench,always,,Making and assembly,${DATED}`,
  ],
  "rates.csv": ["id,description,per_hour,valid_from,source", `bench,Bench work,32.00,${DATED}`],
};

/** The set of {@link TABLES}, with further rows at the end of some tables. */
export function tables(
  added: Readonly<Record<string, readonly string[]>> = {},
): readonly SourceText[] {
  return Object.entries(TABLES).map(([name, lines]) =>
    text(`price-tables/${name}`, [...lines, ...(added[name] ?? [])]),
  );
}

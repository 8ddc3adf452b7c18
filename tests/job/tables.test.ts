import { describe, expect, it } from "vitest";
import { builtInTables } from "../../src/files/read.ts";
import { readTables } from "../../src/job/tables.ts";
import { isError, sentence } from "../../src/problem.ts";
import { spots, TABLES, tables, text } from "./texts.ts";

const [SHEET_HEADER = ""] = TABLES["sheets.csv"] ?? [];
const D = "2026-01-01,test";

function sheet(id: string, price: string, from: string): string {
  return `${id},card,2,sheet,600,400,${price},5,3,,${from},test`;
}

function pricesOf(
  builtIn: readonly string[],
  ofJob: readonly string[],
  date: string | null,
): Readonly<Record<string, string>> {
  const own = ofJob.length === 0 ? [] : [text("tables/sheets.csv", [SHEET_HEADER, ...ofJob])];
  const set = [text("price-tables/sheets.csv", [SHEET_HEADER, ...builtIn])];
  const { value, problems } = readTables(set, own, date);
  expect(problems.filter(isError)).toEqual([]);
  const entries = (value?.sheets ?? []).map((row) => [row.id, row.price.toFixed(2)] as const);
  return Object.fromEntries<string>(entries);
}

describe("a table set", () => {
  it("is read whole, without a fault", () => {
    const { value, problems } = readTables(tables(), [], null);
    expect(problems).toEqual([]);
    expect(value).toMatchObject({
      currency: { code: "EUR", minorDigits: 2 },
      machine: "own",
      sheets: [
        { id: "ply-4", form: "sheet", heightMm: 400, onHand: null, place: { line: 2 } },
        { id: "ply-6", form: "sheet", onHand: 2 },
        { id: "card-roll", form: "roll", heightMm: null },
      ],
      feeds: [{ operation: "cut", feedMmS: { low: 12, likely: 12, high: 18 }, passes: 1 }],
      machines: [{ kind: "own", ratePer: "hour", bedWidthMm: 600, validFrom: "2026-01-01" }],
      finishes: [
        { id: "reed", step: "prime", faces: "both", edges: true, coats: 1 },
        { id: "reed", step: "colour", edges: false, coats: 2 },
      ],
      paints: [{ spread: { low: 1, likely: 2, high: 3 } }, { spread: { low: 2, high: 2 } }],
      hardware: [{ thread: "M5", packSize: 25, hazard: "" }],
      stockLengths: [{ lengthMm: 2400 }, { lengthMm: 3000 }],
      tasks: [{ basis: "piece", minutes: { low: 8, likely: 12, high: 20 }, usual: "always" }],
      rates: [{ id: "bench", source: "test" }],
    });
    expect(value?.settings.get("overhead_percent")).toMatchObject({
      place: { file: "price-tables/settings.csv", line: 4, column: "value" },
      cited: "test",
    });
    expect(value?.sheets[0]?.price.toFixed(2)).toBe("12.50");
  });

  it("needs no more files than a command uses", () => {
    const [, sheets] = tables();
    const { value, problems } = readTables([sheets!], [], null);
    expect(problems).toEqual([]);
    expect(value?.sheets.length).toBe(3);
    expect(value?.currency).toBeNull();
  });

  it("that comes with the program has no problems, on the newest day and on a stated one", async () => {
    const { value: texts } = await builtInTables();
    for (const date of [null, "2026-06-01"]) {
      const { value, problems } = readTables(texts ?? [], [], date);
      expect(problems.map(sentence)).toEqual([]);
      expect(Object.values(value ?? {}).every((rows) => rows !== null)).toBe(true);
      expect(value?.settings.size).toBe(9);
    }
  });
});

describe("rows that hold", () => {
  const rows = [
    sheet("a", "1.00", "2026-01-01"),
    sheet("a", "3.00", "2027-01-01"),
    sheet("a", "2.00", "2026-07-01"),
    sheet("b", "9.00", "2026-03-01"),
  ];

  it.each([
    ["2026-01-01", { a: "1.00" }],
    ["2026-06-30", { a: "1.00", b: "9.00" }],
    ["2026-07-01", { a: "2.00", b: "9.00" }],
    ["2026-12-31", { a: "2.00", b: "9.00" }],
    ["2030-01-01", { a: "3.00", b: "9.00" }],
    [null, { a: "3.00", b: "9.00" }],
  ])("on %s are the latest that have begun", (date, prices) => {
    expect(pricesOf(rows, [], date)).toEqual(prices);
  });

  it("are named when all of an entry begin later", () => {
    const set = [text("price-tables/sheets.csv", [SHEET_HEADER, ...rows])];
    const { value, problems } = readTables(set, [], "2026-02-01");
    expect(value).not.toBeNull();
    expect(spots(problems)).toEqual([["not-yet-valid", 5, "valid_from"]]);
    expect(sentence(problems[0]!)).toContain("for b");
  });

  it("of the job replace all built-in rows of an id, if they hold", () => {
    const own = [sheet("A", "5.00", "2026-07-01"), sheet("c", "6.00", "2020-01-01")];
    expect(pricesOf(rows, own, "2030-01-01")).toEqual({ A: "5.00", b: "9.00", c: "6.00" });
    expect(pricesOf(rows, own, "2026-06-30")).toEqual({ a: "1.00", b: "9.00", c: "6.00" });
  });

  it("of a finish are one for each step, in the order of the recipe", () => {
    const added = { "finishes.csv": ["reed,prime,green,both,yes,2,2026-05-01,test"] };
    const { value } = readTables(tables(added), [], null);
    expect(value?.finishes.map(({ step, paint, coats }) => [step, paint, coats])).toEqual([
      ["prime", "green", 2],
      ["colour", "green", 2],
    ]);
  });

  it("of a section are one for each length", () => {
    const added = { "stock-lengths.csv": ["larch,Larch batten,3000,3,10,9.90,2026-05-01,test"] };
    const { value } = readTables(tables(added), [], null);
    expect(value?.stockLengths.map(({ lengthMm, price }) => [lengthMm, price.toFixed(2)])).toEqual([
      [2400, "7.90"],
      [3000, "9.90"],
    ]);
  });

  it("let a job set its own currency, machine and settings", () => {
    const own = text("tables/settings.csv", [
      "id,value,valid_from,source",
      "currency,usd,2026-01-01,x",
      "overhead_percent,7.25,2026-01-01,x",
    ]);
    const { value } = readTables(tables(), [own], null);
    expect(value?.currency).toEqual({ code: "USD", minorDigits: 2 });
    expect(value?.machine).toBe("own");
    expect(value?.settings.get("overhead_percent")?.value.toFixed(2)).toBe("7.25");
    expect(value?.settings.get("overhead_percent")?.place.file).toBe("tables/settings.csv");
  });
});

describe("mistakes in tables", () => {
  it.each([
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,,5,3,,${D}`,
      "empty-cell",
      "price",
      "never taken for zero",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,"12,50",5,3,,${D}`,
      "not-an-amount",
      "price",
      "Write 12.50, with a decimal point",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,"1,250",5,3,,${D}`,
      "not-an-amount",
      "price",
      "1250 for thousands",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,"1,250.00",5,3,,${D}`,
      "not-an-amount",
      "price",
      "Write 1250.00, without marks between thousands",
    ],
    ["sheets.csv", `x,card,2,sheet,600,400,-1,5,3,,${D}`, "not-an-amount", "price", "minus sign"],
    ["sheets.csv", `x,card,2,sheet,600,400,NaN,5,3,,${D}`, "not-an-amount", "price", '"NaN"'],
    ["sheets.csv", `x,card,2,sheet,600,400,0x10,5,3,,${D}`, "not-an-amount", "price", '"0x10"'],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,12.50 EUR,5,3,,${D}`,
      "not-an-amount",
      "price",
      "Write 12.50, without the currency",
    ],
    ["sheets.csv", `x,card,2,sheet,0,400,1,5,3,,${D}`, "not-a-number", "width_mm", "above 0"],
    ["sheets.csv", `x,card,NaN,sheet,9,9,1,1,3,,${D}`, "not-a-number", "thickness_mm", '"NaN"'],
    [
      "sheets.csv",
      `x,card,2 mm,sheet,9,9,1,1,3,,${D}`,
      "not-a-number",
      "thickness_mm",
      "Write 2, the number of mm alone",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,1,200,3,,${D}`,
      "margin-too-wide",
      "margin_mm",
      "less than 200",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,,1,5,3,,${D}`,
      "sheet-without-height",
      "height_mm",
      "roll under form",
    ],
    [
      "sheets.csv",
      `x,card,2,roll,600,400,1,5,3,,${D}`,
      "roll-with-height",
      "height_mm",
      "by the metre",
    ],
    ["sheets.csv", `x,card,2,plate,600,400,1,5,3,,${D}`, "not-a-choice", "form", "sheet or roll"],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,1,5,3,1.5,${D}`,
      "not-a-whole-number",
      "on_hand",
      "0 or more",
    ],
    ["sheets.csv", "x,card,2,sheet,600,400,1,5,3,,,test", "empty-cell", "valid_from", "2026-11-25"],
    [
      "sheets.csv",
      "x,card,2,sheet,600,400,1,5,3,,2026-01-01,",
      "empty-cell",
      "source",
      "Fill in source",
    ],
    [
      "sheets.csv",
      "x,card,2,sheet,600,400,1,5,3,,2026-1-1,test",
      "not-a-day",
      "valid_from",
      '"2026-1-1"',
    ],
    [
      "sheets.csv",
      "x,card,2,sheet,600,400,1,5,3,,2026-02-30,test",
      "not-a-day",
      "valid_from",
      "calendar",
    ],
    ["sheets.csv", `PLY-4,card,2,sheet,600,400,1,5,3,,${D}`, "row-twice", "id", "line 2 has it"],
    ["feeds.csv", `x,own,card,2,cut,,0,,1,0,${D}`, "not-a-number", "feed_mm_s", "above 0"],
    [
      "feeds.csv",
      `x,own,card,2,cut,20,10,,1,0,${D}`,
      "spread-order",
      "feed_low_mm_s",
      "at most the feed_mm_s of 10",
    ],
    [
      "feeds.csv",
      `x,own,card,2,cut,,10,5,1,0,${D}`,
      "spread-order",
      "feed_high_mm_s",
      "low, likely, high",
    ],
    ["feeds.csv", `x,own,card,2,cut,,10,,0,0,${D}`, "not-a-whole-number", "passes", "1 or more"],
    [
      "feeds.csv",
      `x,oven,card,2,cut,,10,,1,0,${D}`,
      "unknown-reference",
      "machine",
      "Add a row for it to machines.csv",
    ],
    [
      "feeds.csv",
      `x,own,card,2,burn,,10,,1,0,${D}`,
      "not-a-choice",
      "operation",
      "cut, score or engrave",
    ],
    [
      "machines.csv",
      `m,M,service,,hour,0,0,0,0,9,9,9,9,1,${D}`,
      "machine-without-rate",
      "rate",
      "never taken for zero",
    ],
    [
      "machines.csv",
      `m,M,own,1,day,0,0,0,0,9,9,9,9,1,${D}`,
      "not-a-choice",
      "rate_per",
      "minute or hour",
    ],
    [
      "machines.csv",
      `m,M,own,1,hour,0,0,0,0,9,9,9,0,1,${D}`,
      "not-a-number",
      "acceleration_mm_s2",
      "above 0",
    ],
    [
      "finishes.csv",
      `f,prime,primr,both,yes,1,${D}`,
      "unknown-reference",
      "paint",
      'Write "primer"',
    ],
    [
      "finishes.csv",
      `f,prime,primer,back,yes,1,${D}`,
      "not-a-choice",
      "faces",
      "front, both or none",
    ],
    ["finishes.csv", `reed,Prime,primer,both,yes,1,${D}`, "row-twice", "id", "line 2"],
    ["paints.csv", `p,P,400,1,2,3,100,9,${D}`, "not-a-number", "loss_percent", "below 100"],
    ["paints.csv", `p,P,400,1,2,3,50 %,9,${D}`, "not-a-number", "loss_percent", "percent sign"],
    ["hardware.csv", `b,B,bought in,,1,9,0,,${D}`, "not-a-choice", "kind", '"bought-in"'],
    ["hardware.csv", `b,B,fixing,5 mm,1,9,0,,${D}`, "not-a-thread", "thread", "such as M5"],
    ["hardware.csv", `b,B,fixing,,0,9,0,,${D}`, "not-a-whole-number", "pack_size", "1 or more"],
    ["stock-lengths.csv", `larch,L,2400,3,10,1,${D}`, "row-twice", "id", "line 2"],
    ["stock-lengths.csv", `l,L,100,3,100,1,${D}`, "trim-too-long", "end_trim_mm", "less than 100"],
    ["tasks.csv", `t,T,saw cuts,,1,,bench,no,,Cutting,${D}`, "not-a-choice", "basis", '"saw cut"'],
    [
      "tasks.csv",
      `t,T,order,,1,,bensh,no,,Cutting,${D}`,
      "unknown-reference",
      "rate",
      'Write "bench"',
    ],
    [
      "tasks.csv",
      `t,T,order,,1,,bench,no,,Cuting,${D}`,
      "not-a-choice",
      "section",
      'Write "Cutting"',
    ],
    [
      "tasks.csv",
      `t,T,order,5,1,,bench,no,,Cutting,${D}`,
      "spread-order",
      "minutes_low",
      "at most",
    ],
    ["rates.csv", `r,R,,${D}`, "empty-cell", "per_hour", "never taken for zero"],
    ["settings.csv", `overhed_percent,1,${D}`, "unknown-setting", "id", 'Write "overhead_percent"'],
    ["settings.csv", `tax_percent,20%,${D}`, "not-an-amount", "value", "percent sign"],
    ["settings.csv", "currency,EURO,2026-02-01,x", "unknown-currency", "value", "ISO 4217"],
    ["settings.csv", "machine,owm,2026-02-01,x", "unknown-reference", "value", 'Write "own"'],
    [
      "sheets.csv",
      `x,card,2000,sheet,9,9,1,1,3,,${D}`,
      "not-a-number",
      "thickness_mm",
      "up to 200",
    ],
    ["sheets.csv", `x,card,2,sheet,60000,9,1,1,3,,${D}`, "not-a-number", "width_mm", "up to 20000"],
    ["feeds.csv", `x,own,card,2,cut,,10,,1000,0,${D}`, "not-a-whole-number", "passes", "up to 100"],
    ["finishes.csv", `f,a,primer,both,no,100,${D}`, "not-a-whole-number", "coats", "up to 50"],
    ["hardware.csv", `b,B,fixing,,1,9,1000,,${D}`, "not-a-number", "spare_percent", "up to 300"],
    ["settings.csv", "markup_percent,40000,2026-02-01,x", "not-an-amount", "value", "up to 1000"],
    ["settings.csv", "overhead_percent,1500,2026-02-01,x", "not-an-amount", "value", "up to 500"],
    ["settings.csv", "margin_percent,100,2026-02-01,x", "not-an-amount", "value", "below 100"],
    ["settings.csv", "tax_percent,1900,2026-02-01,x", "not-an-amount", "value", "up to 100"],
  ])("%s: %s", (file, row, code, column, says) => {
    const { value, problems } = readTables(tables({ [file]: [row] }), [], null);
    expect(value).toBeNull();
    const line = (TABLES[file]?.length ?? 0) + 1;
    expect(spots(problems)).toEqual([[code, line, column]]);
    expect(problems[0]?.file).toBe(`price-tables/${file}`);
    expect(sentence(problems[0]!)).toContain(says);
  });

  it("do not make the ids of faulty rows unknown", () => {
    const added = {
      "paints.csv": [`blue,Blue,400,,2,,50,,${D}`],
      "finishes.csv": [`sky,colour,blue,both,yes,1,${D}`],
    };
    expect(spots(readTables(tables(added), [], null).problems)).toEqual([
      ["empty-cell", 4, "price"],
    ]);
  });

  it("in one cell hide none in the others of the row", () => {
    const added = {
      "sheets.csv": [`x,card,2,sheet,600,,,5,-3,,${D}`, `y,card,2,roll,x,400,1,400,3,,${D}`],
      "feeds.csv": [`x,own,card,2,cut,20,10,,x,0,${D}`],
      "paints.csv": [`p,P,x,,,,50,9,${D}`],
      "stock-lengths.csv": [`l,L,100,x,100,1,${D}`],
      "machines.csv": [`m,M,own,x,hour,5,0,0,0,9,9,9,9,1,${D}`],
    };
    const { problems } = readTables(tables(added), [], null);
    expect(problems.map(({ file, line, column }) => `${file.slice(13)} ${line} ${column}`)).toEqual(
      [
        "sheets.csv 5 price",
        "sheets.csv 5 gap_mm",
        "sheets.csv 6 width_mm",
        "sheets.csv 5 height_mm",
        "sheets.csv 6 height_mm",
        "sheets.csv 6 margin_mm",
        "feeds.csv 3 passes",
        "feeds.csv 3 feed_low_mm_s",
        "machines.csv 3 rate",
        "machines.csv 3 minimum_minutes",
        "paints.csv 4 content_ml",
        "paints.csv 4 spread_m2",
        "stock-lengths.csv 4 saw_kerf_mm",
        "stock-lengths.csv 4 end_trim_mm",
      ],
    );
  });

  it("hide in file names as well", () => {
    const { value, problems } = readTables(
      [...tables(), text("price-tables/sheet.csv", "")],
      [],
      null,
    );
    expect(value).not.toBeNull();
    expect(problems.map(sentence)[0]).toContain('Write "sheets.csv" if that is meant');
  });
});

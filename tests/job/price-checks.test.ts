import { describe, expect, it } from "vitest";
import { readTables } from "../../src/job/tables.ts";
import { readIntake } from "../../src/job/intake.ts";
import { sentence } from "../../src/problem.ts";
import { parts, spots, TABLES, tables, text } from "./texts.ts";

const D = "2026-01-01,test";

describe("a price finer than the currency", () => {
  it.each([
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,12.345,5,3,,${D}`,
      "price-too-fine",
      "price",
      "Write 12345 if thousands are meant, or 12.35",
    ],
    [
      "sheets.csv",
      `x,card,2,sheet,600,400,1.200,5,3,,${D}`,
      "price-too-fine",
      "price",
      "Write 1200 if thousands are meant, or 1.20",
    ],
    [
      "paints.csv",
      `p,P,400,1,2,3,50,9.4055,${D}`,
      "price-too-fine",
      "price",
      "at most 2 decimals in EUR. Write 9.41, or correct it",
    ],
    ["hardware.csv", `b,B,fixing,,1,0.005,0,,${D}`, "price-too-fine", "pack_price", "Write 0.01"],
    ["stock-lengths.csv", `l,L,100,3,9,1.001,${D}`, "price-too-fine", "price", "if thousands"],
  ])("is refused in %s: %s", (file, row, code, column, says) => {
    const { value, problems } = readTables(tables({ [file]: [row] }), [], null);
    expect(value).toBeNull();
    expect(spots(problems)).toEqual([[code, (TABLES[file]?.length ?? 0) + 1, column]]);
    expect(sentence(problems[0]!)).toContain(says);
  });

  it("is none for rates, which are multiplied first", () => {
    const added = {
      "sheets.csv": [`roll-2,card,2,roll,500,,2.405,5,2,,${D}`],
      "machines.csv": [`m,M,service,0.1255,minute,0,0,0,0,9,9,9,9,1,${D}`],
      "rates.csv": [`r,R,32.125,${D}`],
    };
    expect(readTables(tables(added), [], null).problems).toEqual([]);
  });

  // ISO 4217: no minor unit for JPY, three decimals for KWD.
  it.each([
    ["JPY", ["price-too-fine"], "with no decimals in JPY. Write 13, or correct it"],
    ["KWD", [], ""],
  ])("goes by the currency: %s", (currency, codes, says) => {
    const [header = "", row = ""] = TABLES["sheets.csv"] ?? [];
    const settings = text("t/settings.csv", [
      "id,value,valid_from,source",
      `currency,${currency},${D}`,
    ]);
    const fine = currency === "KWD" ? row.replace("12.50", "12.505") : row;
    const { problems } = readTables([settings, text("t/sheets.csv", [header, fine])], [], null);
    expect(problems.map(({ code }) => code)).toEqual(codes);
    expect(problems.map(sentence).join("")).toContain(says);
  });
});

describe("a sum of the price rules finer than the currency", () => {
  it("is refused in the job file and in the settings", () => {
    const job = [parts(), text("job.yaml", "price:\n  delivery: 12.345\n  round_total_to: 0.125")];
    const set = tables({ "settings.csv": [`delivery,9.999,${D}`] });
    const { problems } = readIntake({ jobName: "j", job, tables: set }, "quote");
    expect(spots(problems)).toEqual([
      ["price-too-fine", 2, "price.delivery"],
      ["price-too-fine", 3, "price.round_total_to"],
      ["price-too-fine", 5, "value"],
    ]);
    expect(sentence(problems[0]!)).toContain("Write 12345 if thousands are meant, or 12.35");
  });
});

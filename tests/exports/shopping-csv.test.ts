import { describe, expect, it } from "vitest";
import { shoppingCsv } from "../../src/exports/shopping-csv.ts";
import { Amount } from "../../src/money.ts";
import { estimated, SMALL } from "../helpers/job.ts";
import { headerOf, rowsOf } from "../helpers/rows.ts";

describe("shopping.csv", () => {
  const estimate = estimated(SMALL);
  const csv = shoppingCsv(estimate);
  const rows = rowsOf(csv);
  const figure = (id: string): number =>
    Number(estimate.figures.find((one) => one.id === id)?.value ?? Number.NaN);

  const need = (item: string): string => rows.find((row) => row["item"] === item)?.["need"] ?? "";
  const used = (paint: string): string => figure(`paint.${paint}.used`).toFixed(2);

  it("names what to buy of every kind", () => {
    expect(headerOf(csv)).toBe(
      "kind,item,description,quantity,unit,unit_price,amount,currency,need,source,bought",
    );
    expect(rows.map(({ kind, item }) => [kind, item])).toEqual([
      ["sheet", "ply-4"],
      ["sheet", "card-roll"],
      ["paint", "primer"],
      ["paint", "green"],
      ["hardware", "m5-bolt"],
      ["stock length", "larch"],
    ]);
  });

  it("has amounts that are quantity times unit price, to the cent", () => {
    for (const { quantity = "", unit_price: unitPrice = "", amount = "", currency } of rows) {
      expect(currency).toBe("EUR");
      const exact = new Amount(quantity).times(unitPrice);
      expect(exact.toDecimalPlaces(2, Amount.ROUND_HALF_UP).toFixed(2)).toBe(amount);
    }
  });

  it("buys whole sheets, cans, packs and bars; of a roll the length used", () => {
    for (const { item, quantity = "" } of rows)
      expect(/^\d+$/.test(quantity)).toBe(item !== "card-roll");
    const [ply, card] = estimate.stocks;
    expect(rows[0]?.["quantity"]).toBe(String(ply?.sheets.length));
    const usedMm = card?.sheets.reduce((sum, { heightMm }) => sum + heightMm, 0) ?? Number.NaN;
    expect(Number(rows[1]?.["quantity"])).toBeCloseTo(usedMm / 1000, 9);
    expect(rows[5]?.["quantity"]).toBe(String(estimate.bars[0]?.bars.length));
  });

  it("buys enough and not a pack more", () => {
    // 3 pieces: 9 rings with a bolt each, 2 more for each piece; 5 % spare; packs of 25.
    const need = (9 + 6) * 1.05;
    expect(figure("hardware.m5-bolt.with-spare")).toBeCloseTo(need, 9);
    expect(rows[4]?.["quantity"]).toBe(String(Math.ceil(need / 25)));
    for (const paint of ["primer", "green"]) {
      const cans = rows.find(({ item }) => item === paint)?.["quantity"];
      expect(cans).toBe(String(Math.ceil(figure(`paint.${paint}.used`))));
    }
  });

  it("says how many are needed, how many coats on what, and what is sawn", () => {
    // 9 rings with a bolt each and 6 more; 15.75 with the spares.
    expect(need("m5-bolt")).toBe("15 needed and 5 % spare: 16");
    expect(need("primer")).toBe(
      `${used("primer")} cans used: 1 coat on front, back and edges of ring`,
    );
    expect(need("green")).toBe(`${used("green")} cans used: 2 coats on front and back of ring`);
    expect(need("larch")).toBe(
      "3 x rail 400 mm, 6 x post 900 mm".split(", ").toReversed().join(", "),
    );
    expect(need("ply-4")).toMatch(/^parts cover [\d.]+ % of it$/);
  });

  it("has units that agree with their numbers", () => {
    const counted = rows.filter(({ unit }) => unit !== "m" && unit !== "pcs");
    for (const { quantity, unit } of counted) {
      const words = quantity === "1" ? /^(sheet|can|pack|bar)\b/ : /^(sheets|cans|packs|bars)\b/;
      expect(unit).toMatch(words);
    }
    expect(counted.filter(({ quantity }) => quantity === "1").length).toBeGreaterThan(0);
    expect(counted.filter(({ quantity }) => Number(quantity) > 1).length).toBeGreaterThan(0);
  });

  it("says from which row the price was read", () => {
    for (const { source } of rows) expect(source).toMatch(/^price-tables\/[a-z-]+\.csv, line \d+$/);
  });
});

import type { Arbitrary } from "fast-check";
import { array, assert, integer, option, property, record } from "fast-check";
import { describe, expect, it } from "vitest";
import { effectsOn } from "../../src/difference/effects.ts";
import type { Effect } from "../../src/difference/effects.ts";
import { FigureSheet } from "../../src/figure.ts";
import type { Figure } from "../../src/figure.ts";
import { Amount } from "../../src/money.ts";

type Sheet = (sheet: FigureSheet) => void;

function figures(build: Sheet): readonly Figure[] {
  const sheet = new FigureSheet();
  build(sheet);
  return sheet.figures();
}

/** A given figure from a cell of its own row, or from that of `row`. */
function given(sheet: FigureSheet, id: string, value: number, row = id): string {
  const place = { file: "table.csv", line: null, column: row };
  return sheet.given(id, id, "currency", value, { kind: "cell", place, cited: null });
}

function told(effects: readonly Effect[]): Readonly<Record<string, string>> {
  return Object.fromEntries(
    effects.map(({ changes, effect }) => [
      changes.flatMap(({ pairs }) => pairs.map(({ id }) => id)).join(" "),
      effect.toString(),
    ]),
  );
}

/** Sheets at a price, and a markup on it. */
function sheets(count: number, price: number, markup: number): readonly Figure[] {
  return figures((sheet) => {
    const inputs = [given(sheet, "count", count), given(sheet, "price", price)];
    sheet.derived("cost", "cost", "currency", "product", inputs);
    const percent = given(sheet, "markup", markup);
    sheet.derived("net", "net", "currency", "plus percentage", ["cost", percent]);
  });
}

/** Materials, and paint where there is some, each with its own rows. */
function goods(paint: number | null, boards: number): readonly Figure[] {
  return figures((sheet) => {
    const lines = [given(sheet, "boards", boards)];
    if (paint !== null) {
      const inputs = [given(sheet, "cans", paint), given(sheet, "can-price", 9)];
      lines.unshift(sheet.derived("paint", "paint", "currency", "product", inputs));
    }
    sheet.derived("direct", "direct", "currency", "sum", lines);
    sheet.derived("net", "net", "currency", "plus percentage", ["direct", given(sheet, "up", 50)]);
  });
}

/** Two stocks, loaded in the same minutes. */
function both(minutes: number): readonly Figure[] {
  return figures((sheet) => {
    given(sheet, "load-a", minutes, "load_minutes");
    given(sheet, "load-b", minutes, "load_minutes");
    sheet.derived("net", "net", "currency", "sum", ["load-a", "load-b"]);
  });
}

/** Net is the sum of some of 1, 2 and 3. */
function sums(inputs: readonly string[]): readonly Figure[] {
  return figures((sheet) => {
    for (const [index, id] of ["a", "b", "c"].entries()) given(sheet, id, index + 1);
    sheet.derived("net", "net", "currency", "sum", inputs);
  });
}

/** 10 over a difference. */
function quotient(of: number, less: number): readonly Figure[] {
  return figures((sheet) => {
    const inputs = [given(sheet, "of", of), given(sheet, "less", less)];
    sheet.derived("by", "by", "currency", "difference", inputs);
    const whole = given(sheet, "whole", 10);
    sheet.derived("net", "net", "currency", "quotient", [whole, "by"]);
  });
}

describe("how much each change accounts for", () => {
  // Worked out on paper. From 3 sheets at 10 and 20 % (36) to 4 at 12 and 25 % (60):
  // count, markup, price in turn: 36, 48, 50, 60; the other way round: 36, 43.2, 45, 60.
  it("is the mean of what it moves on the way there and on the way back", () => {
    expect(told(effectsOn("net", sheets(3, 10, 20), sheets(4, 12, 25)))).toEqual({
      count: "13.5",
      markup: "1.9",
      price: "8.6",
    });
  });

  it("is nothing where nothing is another", () => {
    expect(effectsOn("net", sheets(3, 10, 20), sheets(3, 10, 20))).toEqual([]);
  });

  it("goes to the cell, however many figures are read from it", () => {
    expect(told(effectsOn("net", both(2), both(5)))).toEqual({ "load-a load-b": "6" });
  });

  // 2 cans at 9 and 50 % on top: 27. The boards grew from 20 to 30: 15.
  it("takes a summand that comes with all that only it brings", () => {
    const effects = effectsOn("net", goods(null, 20), goods(2, 30));
    expect(told(effects)).toEqual({ boards: "15", "can-price cans paint": "27" });
    expect(told(effectsOn("net", goods(2, 30), goods(null, 20)))).toEqual({
      boards: "-15",
      "can-price cans paint": "-27",
    });
  });

  it("goes to a figure that is put together in another way, with what it needs for that", () => {
    const before = figures((sheet) => {
      sheet.derived("net", "net", "currency", "sum", [given(sheet, "lump", 40)]);
    });
    const after = figures((sheet) => {
      const inputs = [given(sheet, "hours", 3), given(sheet, "rate", 20)];
      sheet.derived("net", "net", "currency", "product", inputs);
    });
    expect(told(effectsOn("net", before, after))).toEqual({ "hours lump net rate": "20" });
  });

  it("takes a summand that both have, and only one counts, to its sum", () => {
    expect(told(effectsOn("net", sums(["a", "b", "b"]), sums(["a", "b", "c"])))).toEqual({
      net: "1",
    });
  });

  // 10 / 2 - 0 to 10 / 4 - 2: neither half alone has an answer, for on the way 2 - 2 divides.
  it("is one for all where a change has no answer by itself", () => {
    expect(told(effectsOn("net", quotient(2, 0), quotient(4, 2)))).toEqual({ "less of": "0" });
    expect(told(effectsOn("net", quotient(2, 0), quotient(12, 2)))).toEqual({ "less of": "-4" });
  });
});

describe("of any two sheets of figures", () => {
  /** Three goods that may be missing, under a rate, with a product of two changes and more. */
  const sheet = record({
    lines: array(option(record({ count: whole(), price: whole() })), {
      minLength: 3,
      maxLength: 3,
    }),
    rate: whole(),
    minutes: whole(),
    minimum: option(whole()),
  }).map(({ lines, rate, minutes, minimum }) =>
    figures((to) => {
      const costs = lines.flatMap((line, index) => {
        if (line === null) return [];
        const inputs = [
          given(to, `line-${index}.count`, line.count),
          given(to, `line-${index}.price`, line.price),
        ];
        return to.derived(`line-${index}`, "line", "currency", "product", inputs);
      });
      const work = [given(to, "minutes", minutes), given(to, "rate", rate)];
      costs.push(to.derived("work", "work", "currency", "minutes at hourly rate", work));
      to.derived("direct", "direct", "currency", "sum", costs);
      const least = minimum === null ? [] : [given(to, "minimum", minimum)];
      to.derived("charged", "charged", "currency", "at least", ["direct", ...least]);
      to.derived("net", "net", "currency", "plus percentage", ["charged", "rate"]);
    }),
  );

  it("the shares add up to the difference, and change their sign with the direction", () => {
    let judged = 0;
    assert(
      property(sheet, sheet, (before, after) => {
        const effects = effectsOn("net", before, after);
        const sum = effects.reduce((all, { effect }) => all.plus(effect), new Amount(0));
        const [from, to] = [before, after].map((all) => all.find(({ id }) => id === "net")!.value);
        expect(sum.minus(to!.minus(from!)).abs().lt("1e-30")).toBe(true);
        const back = told(effectsOn("net", after, before));
        const there = told(effects);
        expect(Object.keys(back)).toEqual(Object.keys(there));
        for (const [ids, effect] of Object.entries(there))
          expect(new Amount(effect).plus(back[ids]!).abs().lt("1e-30")).toBe(true);
        if (effects.length > 1) judged += 1;
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(judged).toBeGreaterThan(200);
  });

  it("nothing changed is nothing told", () => {
    assert(
      property(sheet, (one) => {
        expect(effectsOn("net", one, one)).toEqual([]);
      }),
      { seed: 7, numRuns: 50 },
    );
  });
});

/** Where changes meet only in pairs, the shares are Shapley's: by all orders there are. */
describe("Shapley's value (1953), by its definition", () => {
  it.each([
    [3, 10, 4, 12],
    [0, 10, 4, 0],
    [7, 3, 2, 11],
  ])("of %s at %s to %s at %s", (count, price, nextCount, nextPrice) => {
    const first = nextCount * price - count * price;
    const second = nextCount * nextPrice - count * nextPrice;
    const effects = told(
      effectsOn("net", sheets(count, price, 0), sheets(nextCount, nextPrice, 0)),
    );
    expect(Number(effects["count"])).toBe((first + second) / 2);
  });
});

function whole(): Arbitrary<number> {
  return integer({ min: 0, max: 60 });
}

import { describe, expect, it } from "vitest";
import type { FeedRow } from "../../src/job/types.ts";
import { chooseFeeds } from "../../src/machine/feeds.ts";
import { sentence } from "../../src/problem.ts";
import { feed } from "./samples.ts";

const tables = {
  feeds: [
    feed("cut", 12),
    feed("cut", 99, { id: "built-in, later in the list" }),
    feed("cut", 6, { thicknessMm: 5 }),
    feed("cut", 4, { thicknessMm: 6 }),
    feed("engrave", 300),
    feed("cut", 30, { machine: "bureau" }),
    feed("cut", 15, { material: "MDF" }),
  ],
};

function line(number: number): FeedRow["place"] {
  return { file: "feeds.csv", line: number, column: null };
}

/** Asks for one cut of acrylic among these rows alone. */
function cutAt(thicknessMm: number, ...feeds: readonly FeedRow[]) {
  const { value, problems } = chooseFeeds({ feeds }, "laser", "acrylic cast", thicknessMm, ["cut"]);
  return { feed: value?.[0], problems };
}

describe("chooseFeeds", () => {
  it("takes the row of machine, material, thickness and operation", () => {
    const { value, problems } = chooseFeeds(tables, "laser", "Acrylic CAST", 3.0004, [
      "engrave",
      "cut",
    ]);
    expect(problems).toEqual([]);
    expect(value!.map(({ operation, feedMmS, rule }) => [operation, feedMmS.likely, rule])).toEqual(
      [
        ["engrave", 300, null],
        ["cut", 12, null],
      ],
    );
    expect(
      chooseFeeds(tables, "bureau", "acrylic cast", 3, ["cut"]).value![0]!.feedMmS.likely,
    ).toBe(30);
  });

  it("names every missing row and the thicknesses that there are", () => {
    const { value, problems } = chooseFeeds(tables, "laser", "acrylic cast", 9, ["score", "cut"]);
    expect(value).toBeNull();
    expect(problems.map(({ code, file }) => [code, file])).toEqual([
      ["no-feed", "feeds.csv"],
      ["no-feed", "feeds.csv"],
    ]);
    expect(problems[0]!.expected).toMatch(/: none$/);
    expect(sentence(problems[1]!)).toMatch(
      /^feeds\.csv: read "no row to cut acrylic cast 9 mm on laser".*: 3 mm, 5 mm, 6 mm\. Add a row to feeds\.csv/,
    );
  });

  it("takes nothing from another machine or material", () => {
    const other = [
      feed("cut", 30, { machine: "bureau", thicknessMm: 5 }),
      feed("cut", 20, { material: "MDF", thicknessMm: 5 }),
    ];
    expect(cutAt(5, feed("cut", 12), ...other).problems[0]!.code).toBe("no-feed");
    expect(cutAt(4, feed("cut", 12), ...other).problems[0]!.code).toBe("no-feed");
  });
});

describe("a row measured by the maker", () => {
  const measured = feed("cut", 9, { measured: true, validFrom: "2025-03-01" });

  it("goes before one from elsewhere, wherever it stands and however old it is", () => {
    for (const rows of [
      [feed("cut", 12), measured],
      [measured, feed("cut", 12)],
    ]) {
      const { feed: found } = cutAt(3, ...rows);
      expect([found?.feedMmS.likely, found?.measured, found?.rule]).toEqual([9, true, null]);
    }
  });

  it("is one end of the curve between two thicknesses", () => {
    const { feed: found } = cutAt(4, feed("cut", 12), measured, feed("cut", 6, { thicknessMm: 6 }));
    expect(found!.feedMmS.likely).toBeCloseTo(9 * (6 / 9) ** (Math.log(4 / 3) / Math.log(2)), 9);
    expect(found!.measured).toBe(false);
  });
});

describe("between two thicknesses", () => {
  // Energy rule derived from a college course slide table: v = P / (3 E3) (3/t)^n, the table for
  // 40 to 150 W printed to 0.1 mm/s. From its 3 and 6 mm columns its 5 mm one must come.
  it.each([
    [11.6, 4.7, 6.0],
    [17.4, 7.1, 9.0],
    [23.2, 9.4, 11.9],
    [29.0, 11.8, 14.9],
    [43.5, 17.7, 22.4],
  ])("acrylic of %f mm/s in 3 mm and %f in 6 mm is cut with %f in 5 mm", (three, six, five) => {
    const { feed: found, problems } = cutAt(
      5,
      feed("cut", three, { place: line(2) }),
      feed("cut", six, { thicknessMm: 6, place: line(3) }),
    );
    expect(problems).toEqual([]);
    expect(Math.abs(found!.feedMmS.likely - five)).toBeLessThanOrEqual(0.1);
    expect(found!.rows).toEqual([line(2), line(3)]);
    expect(found!.rule).toMatch(
      /^feed ~ thickness\^-1\.(29|3|3\d), through 3 mm \([\d.]+ mm\/s\) and 6 mm/,
    );
  });

  it("low, likely and high go each their own way", () => {
    const { feed: found } = cutAt(
      4,
      feed("cut", 10, { thicknessMm: 2, feedMmS: { low: 8, likely: 10, high: 18 } }),
      feed("cut", 5, { thicknessMm: 8, feedMmS: { low: 2, likely: 5, high: 8 } }),
    );
    // Halfway on a log scale: the geometric mean of each.
    expect(found!.feedMmS.low).toBeCloseTo(4, 9);
    expect(found!.feedMmS.likely).toBeCloseTo(Math.sqrt(50), 9);
    expect(found!.feedMmS.high).toBeCloseTo(12, 9);
  });

  it("the nearest row on either side counts, not the ends of the table", () => {
    const rows = [2, 3, 5, 8].map((thicknessMm) => feed("cut", 40 / thicknessMm, { thicknessMm }));
    const bent = rows.map((row) => (row.thicknessMm === 8 ? { ...row, passes: 9 } : row));
    expect(cutAt(4, ...bent.toReversed()).feed!.feedMmS.likely).toBeCloseTo(10, 9);
  });

  it("passes and pierce are the thicker row's, and time runs on without a step", () => {
    const thin = feed("cut", 8, { passes: 1, pierceS: 0.2 });
    const thick = feed("cut", 12, { thicknessMm: 6, passes: 2, pierceS: 0.4 });
    const over = (mm: number): number => {
      const { feedMmS, passes } = cutAt(mm, thin, thick).feed!;
      return feedMmS.likely / passes;
    };
    expect(cutAt(3.002, thin, thick).feed).toMatchObject({ passes: 2, pierceS: 0.4 });
    expect(over(3)).toBe(8);
    expect(over(3.002)).toBeCloseTo(8, 2);
    expect(over(5.998)).toBeCloseTo(6, 2);
    expect(over(6)).toBe(6);
    const mid = [3, 3.5, 4, 4.5, 5, 5.5, 6].map(over);
    expect(mid).toEqual(mid.toSorted((a, b) => b - a));
    expect(cutAt(4, thin, thick).feed!.rule).toContain("6 mm (12 mm/s in 2 passes)");
  });
});

describe("beyond the table", () => {
  const two = [feed("cut", 12), feed("cut", 6, { thicknessMm: 6, passes: 2, pierceS: 1 })];

  it("goes on by the two nearest rows up to a quarter, with a warning that says the value", () => {
    const { feed: found, problems } = cutAt(7.5, feed("cut", 90, { thicknessMm: 1 }), ...two);
    // Over both passes 12 in 3 mm and 3 in 6 mm: the square of the thickness.
    expect(found!.feedMmS.likely).toBeCloseTo(2 * 12 * (3 / 7.5) ** 2, 9);
    expect([found!.passes, found!.pierceS, found!.measured]).toEqual([2, 1, false]);
    expect(problems.map(({ code, severity }) => [code, severity])).toEqual([
      ["feed-beyond-table", "warning"],
    ]);
    expect(sentence(problems[0]!)).toBe(
      'feeds.csv: read "no row to cut acrylic cast 7.5 mm on laser", expected a thickness within the rows there are, 1 mm, 3 mm, 6 mm; 3.84 mm/s in 2 passes is taken, by feed ~ thickness^-2, through 3 mm (12 mm/s) and 6 mm (6 mm/s in 2 passes). Cut a trial and add its row to feeds.csv: a little thicker, the beam may not come through.',
    );
  });

  it("keeps the passes of the thinnest row below it", () => {
    const { feed: found, problems } = cutAt(2.5, ...two);
    expect([found!.passes, found!.pierceS]).toEqual([1, 0]);
    expect(found!.feedMmS.likely).toBeCloseTo(12 * (3 / 2.5) ** 2, 9);
    expect(problems[0]!.code).toBe("feed-beyond-table");
  });

  it("is an error farther out on either side", () => {
    expect(cutAt(7.51, ...two).problems.map(({ code }) => code)).toEqual(["no-feed"]);
    expect(cutAt(2.4, ...two).problems.map(({ code }) => code)).toEqual(["feed-beyond-table"]);
    expect(cutAt(2.39, ...two).problems.map(({ code }) => code)).toEqual(["no-feed"]);
  });

  it("is never faster than the thickest row, where thicker rows are faster", () => {
    const rising = [feed("cut", 5), feed("cut", 9, { thicknessMm: 5 })];
    expect(cutAt(6, ...rising).feed!.feedMmS.likely).toBe(9);
  });

  // The same slide table: 10 to 15 mm/s in 3 mm acrylic, n = 1.3 to the published 6 mm.
  it("takes the published exponent where one row is all there is", () => {
    const { feed: found } = cutAt(3.5, feed("cut", 12.5));
    expect(found!.feedMmS.likely).toBeCloseTo(12.5 * (3 / 3.5) ** 1.3, 9);
    expect(found!.rule).toBe("feed ~ thickness^-1.3, through 3 mm (12.5 mm/s)");
  });

  it("has no exponent for a material that nobody published two thicknesses of", () => {
    const feeds = [feed("cut", 30, { material: "card" }), feed("score", 90, { material: "card" })];
    const asked = chooseFeeds({ feeds }, "laser", "card", 3.2, ["score", "cut"]);
    expect(asked.problems.map(({ code }) => code)).toEqual(["feed-beyond-table", "no-feed"]);
  });

  it("takes a mark on the surface as it is", () => {
    const feeds = [feed("score", 90)];
    const { value, problems } = chooseFeeds({ feeds }, "laser", "acrylic cast", 3.2, ["score"]);
    expect(value![0]!.feedMmS).toEqual({ low: 45, likely: 90, high: 180 });
    expect(problems.map(({ code }) => code)).toEqual(["feed-beyond-table"]);
  });
});

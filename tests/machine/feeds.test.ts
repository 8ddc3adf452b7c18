import { describe, expect, it } from "vitest";
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

describe("chooseFeeds", () => {
  it("takes the first row of machine, material, thickness and operation", () => {
    const { value, problems } = chooseFeeds(tables, "laser", "Acrylic CAST", 3.0004, [
      "engrave",
      "cut",
    ]);
    expect(problems).toEqual([]);
    expect(value!.map(({ operation, feedMmS }) => [operation, feedMmS.likely])).toEqual([
      ["engrave", 300],
      ["cut", 12],
    ]);
    expect(
      chooseFeeds(tables, "bureau", "acrylic cast", 3, ["cut"]).value![0]!.feedMmS.likely,
    ).toBe(30);
  });

  it("names every missing row and the thicknesses that there are", () => {
    const { value, problems } = chooseFeeds(tables, "laser", "acrylic cast", 4, ["score", "cut"]);
    expect(value).toBeNull();
    expect(problems.map(({ code, file }) => [code, file])).toEqual([
      ["no-feed", "feeds.csv"],
      ["no-feed", "feeds.csv"],
    ]);
    expect(problems[0]!.expected).toMatch(/: none$/);
    expect(sentence(problems[1]!)).toMatch(
      /^feeds\.csv: read "no row to cut acrylic cast 4 mm on laser".*: 3 mm, 5 mm, 6 mm\. Add a row to feeds\.csv/,
    );
  });

  it("does not take a near thickness", () => {
    expect(chooseFeeds(tables, "laser", "acrylic cast", 3.002, ["cut"]).value).toBeNull();
  });
});

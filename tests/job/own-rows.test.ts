import { describe, expect, it } from "vitest";
import { readTables } from "../../src/job/tables.ts";
import { sentence } from "../../src/problem.ts";
import { TABLES, tables, text } from "./texts.ts";

const KERF_HEADER = "id,machine,material,thickness_mm,kerf_mm,valid_from,source";
const FIT_HEADER =
  "id,material,clearance_low_mm,clearance_high_mm,over_mm,over_per_mm,under_mm,under_per_mm,valid_from,source";

describe("rows", () => {
  const FEED = "own,birch plywood,4,cut,,8,,1,0.2,2026-01-01,test";

  it("of the job stand for the same work under any id", () => {
    const own = [
      text("tables/feeds.csv", [TABLES["feeds.csv"]![0]!, `mine,${FEED}`]),
      text("tables/kerfs.csv", [KERF_HEADER, "mine,own,card,2,0.21,2026-01-01,test"]),
      text("tables/fits.csv", [FIT_HEADER, `mine,card,-0.1,0,0,0,0,0,2026-01-01,test`]),
    ];
    const builtIn = [
      ...tables().filter(({ name }) => !/kerfs|fits/.test(name)),
      text("price-tables/kerfs.csv", [
        KERF_HEADER,
        "own-card-2,own,Card,2,0.15,2026-01-01,test",
        "own-card-3,own,card,3,0.17,2026-01-01,test",
      ]),
      text("price-tables/fits.csv", [FIT_HEADER, "card,card,0,0.1,0,0,0,0,2026-01-01,test"]),
    ];
    const { value } = readTables(builtIn, own, null);
    expect(value?.feeds.map(({ id, feedMmS }) => [id, feedMmS.likely])).toEqual([["mine", 8]]);
    expect(value?.kerfs.map(({ id }) => id)).toEqual(["own-card-3", "mine"]);
    expect(value?.fits.map(({ id }) => id)).toEqual(["mine"]);
  });

  it("for the same work twice in one table are refused, with both ids and lines", () => {
    const { value, problems } = readTables(tables({ "feeds.csv": [`mine,${FEED}`] }), [], null);
    expect(value).toBeNull();
    expect(problems.map(sentence)).toEqual([
      'price-tables/feeds.csv, line 3, id: read "mine", expected one row for own, cut, birch plywood, 4 mm; "own-ply-4" in line 2 is for the same. Remove one of the two, or give both the id "own-ply-4" and the newer one its own valid_from.',
    ]);
  });

  describe("measured by the maker", () => {
    const HEADER = `${TABLES["feeds.csv"]![0]!},measured`;
    const PUBLISHED = "own-ply-4,own,birch plywood,4,cut,,12,,1,0.2,2026-01-01,published,";
    const MEASURED = "own-ply-4,own,birch plywood,4,cut,,9,,1,0.2,2025-06-01,three cuts,yes";
    const feedsOf = (builtIn: readonly string[], ofJob: readonly string[] = []) => {
      const others = tables().filter(({ name }) => !name.endsWith("feeds.csv"));
      const own = ofJob.length === 0 ? [] : [text("tables/feeds.csv", [HEADER, ...ofJob])];
      const set = [...others, text("price-tables/feeds.csv", [HEADER, ...builtIn])];
      const { value, problems } = readTables(set, own, null);
      return { feeds: value?.feeds.map((row) => [row.feedMmS.likely, row.measured]), problems };
    };

    it("stand beside the published one in one table, under any id and however old", () => {
      const both = [
        [12, false],
        [9, true],
      ];
      expect(feedsOf([PUBLISHED, MEASURED])).toEqual({ feeds: both, problems: [] });
      const other = MEASURED.replace("own-ply-4", "mine");
      expect(feedsOf([PUBLISHED, other])).toEqual({ feeds: both, problems: [] });
    });

    it("are refused twice for the same work", () => {
      const other = MEASURED.replace("own-ply-4", "mine");
      const codes = feedsOf([MEASURED, other]).problems.map(({ code }) => code);
      expect(codes).toEqual(["answers-twice"]);
    });

    it("make way for what the job itself says", () => {
      const own = PUBLISHED.replace("own-ply-4", "film-on").replace(",12,", ",5,");
      expect(feedsOf([PUBLISHED, MEASURED], [own]).feeds).toEqual([[5, false]]);
    });
  });
});

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
});

import { expect, it } from "vitest";
import { outputFiles } from "../../src/exports/output-files.ts";
import { parts, TABLES, text } from "../job/texts.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";

it("has the files that others rely on, two layouts of each sheet, and what is left of one", () => {
  const estimate = estimated(SMALL);
  const names = outputFiles(estimate).map(({ name }) => name);
  expect(names).toEqual(
    expect.arrayContaining(["quote.csv", "costing.csv", "shopping.csv", "cutlist.csv"]),
  );
  expect(names.filter((name) => name.startsWith("layouts/"))).toEqual([
    "layouts/01-ply-4.svg",
    "layouts/01-ply-4.dxf",
    "layouts/01-ply-4-left.svg",
    "layouts/02-card-roll.svg",
    "layouts/02-card-roll.dxf",
  ]);
  expect(new Set(names).size).toBe(names.length);
});

it("numbers layouts through all materials", () => {
  const many = estimated(withTexts(SMALL, { "job.yaml": ["title: Many", "pieces: 17"] }));
  const sheets = many.stocks.flatMap((stock) => stock.sheets);
  const layouts = outputFiles(many).filter(({ name }) => name.endsWith(".dxf"));
  expect(sheets.length).toBeGreaterThan(3);
  expect(layouts.map(({ name }) => /^layouts\/(\d+)-/.exec(name)?.[1])).toEqual(
    sheets.map((_, index) => String(index + 1).padStart(2, "0")),
  );
});

it("keeps the names of sheets out of other folders", () => {
  const sheets = [
    ...(TABLES["sheets.csv"] ?? []),
    "../../up\\: 1/2,birch plywood,3,sheet,600,400,1,5,3,,2026-01-01,test",
  ];
  const feeds = [
    ...(TABLES["feeds.csv"] ?? []),
    "own-ply-3,own,birch plywood,3,cut,,12,,1,0.2,2026-01-01,test",
  ];
  const estimate = estimated({
    ...SMALL,
    job: [parts("fin,1,birch plywood,3,,disc,,,40,,,,,,")],
    tables: [
      ...SMALL.tables.filter(({ name }) => !/(sheets|feeds)\.csv$/.test(name)),
      text("price-tables/sheets.csv", sheets),
      text("price-tables/feeds.csv", feeds),
    ],
  });
  const layouts = outputFiles(estimate)
    .map(({ name }) => name)
    .filter((name) => name.includes("layouts"));
  expect(layouts.length).toBe(6);
  for (const name of layouts) expect(name).toMatch(/^layouts\/\d{2}-[A-Za-z0-9._-]+\.(svg|dxf)$/);
});

it("says the same for the same input, byte for byte", () => {
  const [once, twice] = [outputFiles(estimated(SMALL)), outputFiles(estimated(SMALL))];
  expect(once).toEqual(twice);
  expect(once.every(({ content }) => content.length > 100)).toBe(true);
});

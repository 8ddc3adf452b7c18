import { svgPathProperties } from "svg-path-properties";
import { describe, expect, it } from "vitest";
import { timeJob } from "../../src/estimate.ts";
import type { EstimateInput, Shortening, TimeReport } from "../../src/estimate-data.ts";
import { timeText } from "../../src/exports/time-text.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, SMALL, textFiles, withTexts } from "../helpers/job.ts";
import { TABLES } from "../job/texts.ts";

const HEADER = "part,qty,material,thickness,drawing,shape,width,height,diameter";

/** Sheets without a gap, and parts of 4 mm plywood. */
function job(
  rows: readonly string[],
  more: Readonly<Record<string, string | readonly string[]>> = {},
): EstimateInput {
  const [header = "", ply = ""] = TABLES["sheets.csv"] ?? [];
  const plain: EstimateInput = { ...SMALL, job: SMALL.job.slice(0, 1) };
  return withTexts(plain, {
    "parts.csv": [HEADER, ...rows],
    "price-tables/sheets.csv": [header, ply.replace(",5,3,", ",5,0,")],
    ...more,
  });
}

function timed(input: EstimateInput): TimeReport {
  const { value, problems } = drain(timeJob(input));
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

function found({ shortening }: TimeReport, kind: Shortening["kind"]): Shortening | undefined {
  return shortening.find((one) => one.kind === kind);
}

const runningS = ({ stocks }: TimeReport): number =>
  stocks.flatMap(({ times }) => times).reduce((sum, time) => sum + time.runningS, 0);

const cutMm = ({ stocks }: TimeReport): number =>
  stocks
    .flatMap(({ times }) => times.flatMap(({ operations }) => operations))
    .reduce((sum, { lengthMm }) => sum + lengthMm, 0);

const TILES = ["tile,24,birch plywood,4 mm,,rectangle,80,50,"];

/** A plate of 100 by 80, and what is drawn on top of it. */
function drawing(twice: string): Record<string, string> {
  const plate = `<rect x="0" y="0" width="100" height="80" fill="none" stroke="black"/>`;
  return {
    "job.yaml": "title: Plates",
    "plate.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">${plate}${twice}</svg>`,
  };
}

describe("what shortens the machine's time", () => {
  it("is the common cuts, by exactly what they save when the job asks for them", () => {
    const twice = timed(job(TILES));
    const once = timed(job(TILES, { "job.yaml": "common_cuts: once" }));
    expect(cutMm(twice)).toBeCloseTo(24 * 260, 6);
    // Every edge inside is shared by two tiles: half of all edges, and half of what is around them,
    // which for that area is longer than a square's.
    expect(cutMm(once)).toBeGreaterThan((24 * 260 + 4 * Math.sqrt(24 * 80 * 50)) / 2);
    expect(cutMm(once)).toBeLessThan(4300);
    const wanted = found(twice, "common cuts");
    expect(wanted).toMatchObject({ done: false, instead: null });
    expect(wanted!.savesS).toBeCloseTo(runningS(twice) - runningS(once), 9);
    expect(wanted!.lessMm).toBeCloseTo(cutMm(twice) - cutMm(once), 6);
    expect(found(once, "common cuts")).toEqual({ ...wanted!, done: true });
    expect(timeText(twice)).toContain("common_cuts: once in job.yaml");
  });

  it("leaves the doubled lines out of the layouts, and every tile in them", () => {
    const input = job(TILES, { "job.yaml": "common_cuts: once" });
    const layout = textFiles(estimated(input)).find(({ name }) => name.endsWith(".svg"))!.content;
    const cut = /<g id="cut"[^]*?<\/g>/.exec(layout)![0];
    const lengths = [...cut.matchAll(/ d="([^"]+)"/g)].map(([, d = ""]) =>
      new svgPathProperties(d).getTotalLength(),
    );
    const total = lengths.reduce((sum, mm) => sum + mm, 0);
    expect(total).toBeCloseTo(cutMm(timed(input)), 3);
  });

  it("is traced to the line of the job file that asks for common cuts", () => {
    const { figures } = estimated(
      job(TILES, { "job.yaml": ["title: Tiles", "common_cuts: once"] }),
    );
    const cut = figures.find(({ id }) => id === "machine.birch_plywood_4.cut.working");
    expect(cut?.origin).toMatchObject({ kind: "given", source: { kind: "computed" } });
    expect(JSON.stringify(cut?.origin)).toContain('"file":"job.yaml","line":2');
  });

  it("is nothing of common cuts where a gap is kept", () => {
    expect(
      found(timed(job(TILES, { "price-tables/sheets.csv": TABLES["sheets.csv"]! })), "common cuts"),
    ).toBe(undefined);
  });

  it("is the order, by the way copy by copy", () => {
    const report = timed(job(TILES));
    const { savesS, done } = found(report, "order")!;
    const travelS = report.stocks[0]!.times[0]!.travelS;
    expect(done).toBe(true);
    expect(savesS).toBeGreaterThan(travelS);
  });

  it("is lines that are drawn twice, which are left out", () => {
    const rows = ["plate,5,birch plywood,4 mm,plate.svg,,,,"];
    const clean = timed(job(rows, drawing("")));
    const line = `<path d="M0 0H60M100 80H40" fill="none" stroke="black"/>`;
    const doubled = timed(job(rows, drawing(line)));
    expect(found(clean, "drawn twice")).toBe(undefined);
    expect(runningS(doubled)).toBeCloseTo(runningS(clean), 9);
    const own = found(doubled, "drawn twice")!;
    expect(own).toMatchObject({ done: true, instead: null });
    // Five copies of two lines of 60 mm at 12 mm/s and 1000 mm/s2, started in 0.2 s each.
    expect(own.lessMm).toBeCloseTo(600, 9);
    // The travel may be a little shorter as well: an open line leads somewhere.
    expect(Math.abs(own.savesS - 10 * (60 / 12 + 0.012 + 0.2))).toBeLessThan(4);
    expect(timeText(doubled)).toContain("lines drawn twice, worked once");
  });

  it("is fewer sheets to lay down, with what they cost more", () => {
    const [header = "", ply = ""] = TABLES["sheets.csv"] ?? [];
    const small = ply.replace("ply-4", "ply-4-small").replace("600,400,12.50", "300,200,3.10");
    const report = timed(
      job(["tile,24,birch plywood,4 mm,,rectangle,80,50,"], {
        "price-tables/sheets.csv": [header, ply, small],
      }),
    );
    const { instead, savesS, done } = found(report, "sheets")!;
    expect(done).toBe(false);
    expect(instead!.used.map(({ sheet, bought }) => [sheet, bought])).toEqual([["ply-4", 1]]);
    const { sheetCost, times } = report.stocks[0]!;
    expect(Number(instead!.costsMore)).toBeCloseTo(12.5 - Number(sheetCost), 9);
    // Two minutes for each sheet less, but for the travel.
    expect(Math.abs(savesS - 120 * (times.length - 1))).toBeLessThan(10);
  });

  it("is one set-up fewer, where the same goes out of another thickness of the material", () => {
    const [header = "", ply = ""] = TABLES["sheets.csv"] ?? [];
    const [feeds = "", ...rows] = TABLES["feeds.csv"] ?? [];
    const own = rows.find((row) => row.includes("birch plywood"))!;
    const report = timed(
      job(
        [
          "plate,1,birch plywood,4 mm,,rectangle,80,50,",
          "thick,1,birch plywood,6,,rectangle,80,50,",
        ],
        {
          "price-tables/sheets.csv": [
            header,
            ply,
            ply.replaceAll("4,", "6,").replace("ply-4", "ply-6"),
          ],
          "price-tables/feeds.csv": [
            feeds,
            own,
            own.replace("own-ply-4", "own-ply-6").replace(",4,", ",6,").replace(",12,", ",8,"),
          ],
        },
      ),
    );
    const { savesS, insteadMm, thicknessMm, instead } = found(report, "set-ups")!;
    expect([thicknessMm, insteadMm, instead]).toEqual([6, 4, null]);
    // 260 mm at 8 and at 12 mm/s, a little for the stops, and the 5 min of a set-up.
    expect(Math.abs(savesS - (300 + 260 / 8 - 260 / 12))).toBeLessThan(0.1);
    expect(timeText(report)).toContain("all from birch plywood 4 mm, if the piece allows it");
  });

  it("is nothing where there is nothing to do better", () => {
    const one = timed(job(["plate,1,birch plywood,4 mm,,rectangle,80,50,"]));
    expect(one.shortening).toEqual([]);
    expect(timeText(one)).not.toContain("shorten");
  });
});

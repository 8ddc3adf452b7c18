import { createRequire } from "node:module";
import type { DxfParser, ILwpolylineEntity } from "dxf-parser";
import { describe, expect, it } from "vitest";
import { checkJob, fitJob } from "../../src/estimate.ts";
import type { Estimate, EstimateInput, FitReport } from "../../src/estimate-data.ts";
import { combFiles } from "../../src/exports/comb-files.ts";
import { fitText } from "../../src/exports/fit-text.ts";
import { sentence } from "../../src/problem.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated, SMALL_TABLES, textFiles, withTexts } from "../helpers/job.ts";
import { PARTS_HEADER, text } from "../job/texts.ts";

const DATED = "2026-01-01,test";
const KERFS = `id,machine,material,thickness_mm,kerf_mm,valid_from,source
thin,own,birch plywood,3,0.16,${DATED}
thick,own,birch plywood,5,0.24,${DATED}`;
const FITS = `id,material,clearance_low_mm,clearance_high_mm,over_mm,over_per_mm,under_mm,under_per_mm,valid_from,source
ply,birch plywood,-0.10,0,0.2,0.03,0.4,0.03,${DATED}`;

/** A plate of 40 x 40 with a square hole of 10, and one with a notch of a given width. */
function svg(notch: number): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<g id="plate"><path d="M0 0h40v40h-40z"/><path d="M15 15h10v10h-10z"/></g>
<path id="notched" d="M50 0h${20 - notch / 2}v20h${notch}v-20h${20 - notch / 2}v40h-40z"/></svg>`;
}

function job(jobFile: readonly string[], notch = 3.75): EstimateInput {
  return {
    jobName: "notched",
    job: [
      text("parts.csv", [
        PARTS_HEADER,
        "plate,2,birch plywood,4,plate.svg#plate,,,,,,,quarter,,,",
        "notched,2,birch plywood,4,plate.svg#notched,,,,,,,quarter,,,",
      ]),
      { name: "plate.svg", text: svg(notch), sha256: "" },
      text("job.yaml", jobFile),
    ],
    tables: [
      ...SMALL_TABLES,
      { name: "price-tables/kerfs.csv", text: KERFS, sha256: "" },
      { name: "price-tables/fits.csv", text: FITS, sha256: "" },
    ],
    seed: 1,
    steps: 1,
  };
}

const MEASURED = [
  "measured:",
  "  - material: Birch  plywood",
  "    thickness: 0.4 cm",
  "    measured: 3.98 mm",
];

function report(input: EstimateInput): FitReport {
  const { value, problems } = fitJob(input);
  if (value === null) throw new Error(JSON.stringify(problems));
  return value;
}

function notes(input: EstimateInput, code: string): readonly string[] {
  return checkJob(input).flatMap((one) => (one.code === code ? [one.found] : []));
}

describe("slots of a machine without a row in kerfs.csv", () => {
  it("are warned of, once for each material and thickness", () => {
    for (const kerfs of [KERFS.replaceAll(",own,", ",other,"), KERFS.split("\n", 1).join("")]) {
      const told = checkJob(blind(kerfs)).filter(({ code }) => code === "slots-not-checked");
      expect(told.map(sentence)).toEqual([
        'parts.csv, line 3, thickness: read "1 slot in birch plywood 4 mm (notched)", expected a kerf of own in kerfs.csv for it, or for a thinner and a thicker sheet: without it nobody can say whether a sheet sits in them. Cut a comb (the command fit draws one), measure its kerf, and add a row to kerfs.csv.',
      ]);
      expect(told.map(({ severity }) => severity)).toEqual(["warning"]);
    }
    expect(notes(job(MEASURED), "slots-not-checked")).toEqual([]);
    // What can not be read may be the row.
    expect(notes(blind(KERFS.replace("0.16", "wide")), "slots-not-checked")).toEqual([]);
  });
});

describe("edges in common", () => {
  it("are said to be none where every sheet keeps a gap", () => {
    const told = checkJob(once(3)).filter(({ code }) => code === "no-common-edges");
    expect(told.map(({ found, column, severity }) => [found, column, severity])).toEqual([
      ["3 mm", "gap_mm", "warning"],
    ]);
    expect(notes(once(0), "no-common-edges")).toEqual([]);
    expect(notes(job([]), "no-common-edges")).toEqual([]);
  });
});

describe("the slots of a job", () => {
  it("are held against the sheet as measured, cut with the kerf between two rows", () => {
    // 4 mm lies halfway between 3 mm (0.16) and 5 mm (0.24): 0.20. 3.75 + 0.20 - 3.98 = -0.03.
    const [slot, ...more] = report(job(MEASURED)).slots;
    expect(more).toEqual([]);
    expect(slot).toMatchObject({ part: "notched", count: 1, drawnMm: 3.75, fit: "snug" });
    expect(slot?.kerfMm).toBeCloseTo(0.2, 12);
    expect(slot?.clearanceMm).toBeCloseTo(-0.03, 9);
    expect(slot?.drawMm).toBeCloseTo(3.98 - 0.2 - 0.05, 9);
    expect(slot?.between).toEqual(["snug", "snug"]);
  });

  it("are warned of where the sheet would not sit, with the width to draw", () => {
    expect(notes(job(MEASURED), "slot-not-snug")).toEqual([]);
    expect(notes(job(MEASURED, 4), "slot-not-snug")).toEqual([
      "1 slot drawn 4 mm wide, at 70, 50 mm: loose for birch plywood 4 mm measured 3.98 mm at a kerf of 0.2 mm",
    ]);
    expect(notes(job(MEASURED, 3.4), "slot-not-snug")[0]).toContain("no go for birch plywood");
  });

  it("need no kerf where the cut lines are moved by half of it", () => {
    const moved = report(job([...MEASURED, "cut_lines: moved by half the kerf"], 3.93));
    expect(moved.slots[0]).toMatchObject({ kerfMm: 0, fit: "snug" });
    expect(moved.slots[0]?.drawMm).toBeCloseTo(3.93, 9);
  });

  it("are not judged by a measure that no such sheet can have, nor by two of them", () => {
    for (const slip of ["47.2 mm", "0.398 mm", "2.93 mm"]) {
      const wrong = MEASURED.map((line) => line.replace("3.98 mm", slip));
      expect(notes(job(wrong), "measured-strange")).toEqual([slip]);
    }
    const twice = [...MEASURED, ...MEASURED.slice(1).map((line) => line.replace("3.98", "4.1"))];
    expect(notes(job(twice), "measured-twice")).toEqual(["Birch plywood 4 mm 4.1 mm"]);
  });

  it("of a sheet that no part is cut from are told", () => {
    const other = MEASURED.map((line) => line.replace("0.4 cm", "6 mm").replace("3.98", "5.9"));
    expect(notes(job(other), "measured-not-used")).toEqual(["Birch plywood 6 mm"]);
  });

  it("are not judged by tables that say nothing of kerf or fit", () => {
    const input = job(MEASURED);
    const bare = { ...input, tables: SMALL_TABLES };
    expect(report(bare)).toMatchObject({ slots: [], sheets: [{ snugMm: null, kerfMm: null }] });
    const unknown = report({
      ...input,
      tables: input.tables.filter(({ name }) => !name.endsWith("kerfs.csv")),
    });
    expect(unknown.slots).toMatchObject([{ kerfMm: null, fit: null, drawMm: null }]);
    expect(fitText(unknown)).toContain("not known");
  });

  it("of the demo are all snug, by every line of its table", async () => {
    const words = fitText(report(await demoInput()));
    const [table = ""] = words.split("\n\nSheets");
    expect(table.match(/ snug /g)?.length).toBeGreaterThanOrEqual(7);
    expect(table).not.toMatch(/loose|tight|no go/);
    expect(Math.max(...words.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});

describe("combs", () => {
  it("are drawn for each sheet whose kerf and fit are known, the same in SVG and DXF", () => {
    const files = combFiles(report(job(MEASURED)));
    expect(files.map(({ name }) => name)).toEqual([
      "combs/01-birch-plywood-4-mm.svg",
      "combs/01-birch-plywood-4-mm.dxf",
    ]);
    const [drawn, other] = files.map(({ content }) => content);
    const [, width = ""] = /width="([\d.]+)mm" height="30mm"/.exec(drawn ?? "") ?? [];
    const entities = polylines(other ?? "");
    const cut = entities.filter(({ layer }) => layer === "CUT");
    expect(cut).toHaveLength(1);
    expect(cut.map(across)[0]).toBeCloseTo(Number(width), 6);
    const moved = combFiles(report(job([...MEASURED, "cut_lines: moved by half the kerf"])));
    const line = polylines(moved[1]?.content ?? "").find(({ layer }) => layer === "CUT");
    // Wider by the kerf of 0.2 than the strip that is to come out.
    const strip = Number(/width="([\d.]+)mm"/.exec(moved[0]?.content ?? "")?.[1]);
    expect(line === undefined ? 0 : across(line) - strip).toBeCloseTo(0.2, 6);
    expect(entities.filter(({ layer }) => layer === "SCORE").length).toBeGreaterThan(20);
  });
});

/** Widths of all cut lines of the DXF layouts, upwards. */
function widthsOf(input: EstimateInput): readonly number[] {
  return textFiles(estimated(input))
    .filter(({ name }) => name.endsWith(".dxf"))
    .flatMap(({ content }) => polylines(content).filter(({ layer }) => layer === "CUT"))
    .map((entity) => Number(across(entity).toFixed(6)))
    .toSorted((a, b) => a - b);
}

/** The package's bundle is the class itself, though its types export it by name. */
const Parser: typeof DxfParser = createRequire(import.meta.url)("dxf-parser");

function polylines(dxf: string): readonly ILwpolylineEntity[] {
  const entities = new Parser().parseSync(dxf)?.entities ?? [];
  return entities.filter((entity): entity is ILwpolylineEntity => "vertices" in entity);
}

function across({ vertices }: ILwpolylineEntity): number {
  const xs = vertices.map(({ x }) => x);
  return Math.max(...xs) - Math.min(...xs);
}

describe("cut lines moved by half the kerf", () => {
  const MOVED = [...MEASURED, "cut_lines: moved by half the kerf"];

  it("leave layouts whose outlines are wider and whose holes are narrower by the kerf", () => {
    // Service kerf page: to get a part of 40 and a hole of 10 at a kerf of 0.2, draw 40.2 and 9.8.
    expect(widthsOf(job(MEASURED))).toEqual([10, 10, 40, 40, 40, 40]);
    expect(widthsOf(job(MOVED))).toEqual([9.8, 9.8, 40.2, 40.2, 40.2, 40.2]);
  });

  it("count in the machine's time, whose figures name the kerf; paint keeps the drawn area", () => {
    const [was, is] = [job(MEASURED), job(MOVED)].map(estimated);
    const id =
      was?.figures.find((one) => one.id.startsWith("machine.") && one.id.endsWith(".cut.working"))
        ?.id ?? "";
    expect(Number(figure(is, id)?.value)).not.toBe(Number(figure(was, id)?.value));
    expect(JSON.stringify(figure(is, id)?.origin)).toContain("kerfs.csv");
    expect(JSON.stringify(figure(was, id)?.origin)).not.toContain("kerfs.csv");
    expect(figure(is, "part.plate.area")?.value).toBe(figure(was, "part.plate.area")?.value);
  });

  it("are refused without a kerf, once for each row, and told where a detail is too small", () => {
    const { tables, ...rest } = job(MOVED);
    const none = tables.filter(({ name }) => !name.endsWith("kerfs.csv"));
    expect(notes({ ...rest, tables: none }, "unknown-kerf")).toHaveLength(2);
    const small = withTexts(job(MOVED), {
      "plate.svg": svg(3.93).replace("M15 15h10v10h-10z", "M15 15h10v0.15h-10z"),
    });
    expect(notes(small, "detail-under-kerf")).toHaveLength(1);
    // A slot in a contour that stays as drawn comes out wider by the kerf: 3.93 + 0.20 - 3.98.
    const nook = withTexts(job(MOVED), {
      "plate.svg": svg(3.93).replace(/v40h-40z(?="\/><\/svg>)/, "v40h-20v-4h-0.1v4h-19.9z"),
    });
    expect(notes(nook, "detail-under-kerf")).toHaveLength(1);
    expect(report(nook).slots).toMatchObject([{ fit: "loose", drawnMm: 3.93 }]);
  });
});

function figure(
  estimate: Estimate | undefined,
  id: string,
): Estimate["figures"][number] | undefined {
  return estimate?.figures.find((one) => one.id === id);
}

/** Two feet to be crossed, by their sizes alone. */
function feet(depths: readonly [string, string], width = "3.75"): EstimateInput {
  const head = "part,qty,material,thickness,shape,width,height,slot width,slot depth,slot side";
  const row = (name: string, depth: string, side: string): string =>
    `${name},1,birch plywood,4,half-lap,150,80,${width},${depth},${side}`;
  const list = text("parts.csv", [head, row("a", depths[0], "top"), row("b", depths[1], "bottom")]);
  const { job: files, ...input } = job(MEASURED);
  return { ...input, job: files.map((one) => (one.name === "parts.csv" ? list : one)) };
}

function sentences(input: EstimateInput): readonly string[] {
  return checkJob(input).map(sentence);
}

describe("half laps given by their sizes", () => {
  it("are told when their depths do not come to the height", () => {
    expect(sentences(feet(["", ""]))).toEqual([]);
    expect(sentences(feet(["30", ""]))).toEqual([
      'parts.csv, line 2, slot depth: read "slots 30 and 40.1 mm deep in "a" and "b": one plate stands out of the other by 9.9 mm", expected depths that add up to 80 mm, the height of the plates. Correct slot depth in one of the rows, or leave it empty in both for half the height, unless these two are not crossed.',
    ]);
    expect(sentences(feet(["50", "45"]))[0]).toContain("15 mm of the slots stays open");
  });

  it("are told when they are not snug, with the cell to change", () => {
    expect(sentences(feet(["", ""], "4"))).toEqual(
      ["2", "3"].map(
        (line) =>
          `parts.csv, line ${line}, slot width: read "1 slot drawn 4 mm wide, at 75, ${line === "2" ? "60" : "20"} mm: loose for birch plywood 4 mm measured 3.98 mm at a kerf of 0.2 mm", expected 3.73 mm for a snug fit. Write 3.73 under slot width, and try it on a comb first (the command fit draws one), unless no sheet is to stand in it.`,
      ),
    );
  });
});

function blind(kerfs: string): EstimateInput {
  return withTexts(job(MEASURED), { "price-tables/kerfs.csv": kerfs });
}

/** Common edges once, on sheets that keep such a gap. */
function once(gap: number): EstimateInput {
  const { tables } = job([]);
  const sheets = tables.find(({ name }) => name.endsWith("/sheets.csv"))!;
  const [head = "", ...rows] = sheets.text.split("\n");
  const at = head.split(",").indexOf("gap_mm");
  const lines = rows.map((row) => row.split(",").with(at, String(gap)).join(","));
  const given = job(["common_cuts: once"]);
  return withTexts(given, { [sheets.name]: [head, ...lines] });
}

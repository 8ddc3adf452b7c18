import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { makersSheet } from "../../src/exports/makers-sheet.ts";
import { Amount } from "../../src/money.ts";
import { demoInput } from "../helpers/demo.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";
import { toolBoard } from "../worked/tool-board.ts";

/** The sheet as one reads it: headings with their items, lines that were broken made whole again. */
interface Read {
  readonly headings: readonly string[];
  readonly items: (heading: string) => readonly string[];
  readonly all: string;
}

function read(sheet: string): Read {
  const sections = new Map<string, string[]>();
  let items: string[] = [];
  const lines = sheet.split("\f").flatMap((page) => page.split("\n").slice(2));
  for (const [index, line] of lines.entries()) {
    if (/^-+$/.test(line) || line === "") continue;
    if (/^-+$/.test(lines[index + 1] ?? "")) {
      const name = line.replace(" (CONTINUED)", "").replace(/^\d+ /, "");
      items = sections.get(name) ?? [];
      sections.set(name, items);
    } else if (/^(\[ \] |! |- | {4,}\[ \] | {4}\S.*: | {4}(For|In) | {6}\S)/.test(line))
      items.push(line.trim());
    else items.push(`${items.pop() ?? ""} ${line.trim()}`.trim());
  }
  const all = [...sections.values()].flat().join("\n");
  return { headings: [...sections.keys()], items: (name) => sections.get(name) ?? [], all };
}

/** Every figure of this job stands on paper in tests/worked/tool-board/worked.md. */
describe("the maker's sheet of the hand-worked tool board", () => {
  const estimate = estimated(toolBoard());
  const sheet = makersSheet(estimate);
  const { headings, items } = read(sheet);

  it("says whose job it is, and goes through it in working order", () => {
    expect(sheet).toMatch(/^job +Tool boards for a school workshop$/m);
    expect(sheet).toMatch(/^customer +Invented School$/m);
    expect(sheet).toMatch(/^reference +TB-1$/m);
    expect(sheet).toMatch(/^date +2026-06-01$/m);
    expect(sheet).toMatch(/^to make +2 x tool board$/m);
    expect(headings.filter((name) => name !== "WARNINGS" && name !== "MIND")).toEqual([
      "MAKER'S SHEET",
      "TO HAVE READY",
      "PARTS",
      "PREPARE",
      "CUT THE SHEETS",
      "SAW THE LENGTHS",
      "EDGES AND HOLES",
      "SAND, SCUFF AND PAINT",
      "FIT AND ASSEMBLE",
      "PACK",
    ]);
  });

  it("lists each part with copies, size, material, operations, finish and note", () => {
    expect(items("PARTS")).toEqual([
      "[ ] 2 x board: 560 x 360 mm; birch plywood 9 mm; cut; oiled (grain along the board)",
      expect.stringMatching(/^\[ \] 2 x name-plate: .* mm; acrylic cast 3 mm; .*cut; signal-red$/),
      "[ ] 2 x label: 80 x 80 mm; acrylic cast 3 mm; cut; signal-red",
      "[ ] 4 x ring: 70 x 70 mm; acrylic cast 3 mm; cut; bare",
    ]);
  });

  it("names what to keep of a sheet beside that sheet, worth what is on paper", () => {
    const lines = items("CUT THE SHEETS");
    const kept = lines.filter((line) => line.includes("keep for the shelf"));
    expect(kept).toEqual([
      "[ ] keep for the shelf: 66.9 x 90 mm in one piece, by its area 0.96 EUR of the sheet's price",
    ]);
    const at = lines.indexOf(kept[0]!);
    const stock = estimate.stocks.find(({ leftover }) => leftover !== null);
    expect(stock?.sheets[stock.leftover!.onSheet]?.placements[0]?.part).toBe("ring");
    expect(lines[at - 1]).toBe("1 x ring, 70 x 70 mm");
  });

  it("has the contours and the time of each operation, as on paper over the sheets", () => {
    const lines = items("CUT THE SHEETS");
    const cuts = lines.flatMap((line) => {
      const [, contours, minutes, seconds] =
        /^cut [\d.]+ m in (\d+) contours?, \d pass(?:es)? at (?:10|20) mm\/s, (\d+):(\d\d) min$/.exec(
          line,
        ) ?? [];
      return contours === undefined
        ? []
        : [{ contours: Number(contours), s: 60 * Number(minutes) + Number(seconds) }];
    });
    // 2 boards of one contour; then 2 x 4 + 2 x 1 + 4 x 2 contours of acrylic.
    expect(cuts).toHaveLength(10);
    const total = (of: (cut: (typeof cuts)[number]) => number): number =>
      cuts.reduce((sum, cut) => sum + of(cut), 0);
    expect(total(({ contours }) => contours)).toBe(2 + 18);
    const figures = estimate.figures.filter(({ id }) => /^machine\..*\.cut\.\w+$/.test(id));
    const wanted = figures.reduce((sum, { value }) => sum + Number(value), 0);
    expect(figures).toHaveLength(4);
    expect(Math.abs(total(({ s }) => s) - wanted)).toBeLessThanOrEqual(0.5 * cuts.length);
  });

  it("has a box for each coat, with its sides, paint and parts", () => {
    const lines = items("SAND, SCUFF AND PAINT").filter((line) => !line.startsWith("!"));
    const from = lines.findIndex((line) => line.startsWith("oiled"));
    expect(lines.slice(from, from + 6)).toEqual([
      "oiled: 2 x board",
      "[ ] [ ] oil: 2 coats on the front; Hard oil sachet",
      "signal-red: 2 x name-plate, 2 x label",
      "[ ] prime: 1 coat on front, back and edges; Primer touch-up can",
      "[ ] [ ] colour: 2 coats on front, back and edges; Signal red touch-up can",
      "[ ] clear: 1 coat on the front; Clear lacquer touch-up can",
    ]);
  });

  it("has every task with what it is counted by and the minutes on paper", () => {
    const tasks = headings.flatMap(items).filter((line) => line.endsWith(" min"));
    expect(tasks.filter((line) => line.startsWith("[ ] "))).toEqual([
      "[ ] Drawing: 60 min",
      "[ ] Peeling film: 10 sheets, 30 min",
      "[ ] Deburring: 10 parts, 15 min",
      "[ ] Sawing: 6 lengths, 24 min",
      "[ ] Countersinking (name-plate): 6 holes, 12 min",
      "[ ] Scuffing: 0.45 m2, 9.1 min",
      "[ ] Setting up to spray: 2 times, 30 min",
      "[ ] Spraying: 0.98 m2 of coats, 29.3 min",
      "[ ] Assembly: 2 x tool board, 50 min",
      "[ ] Packing: 2 x tool board, 12 min",
    ]);
  });

  it("has the fixings for one piece, and in brackets for all", () => {
    expect(
      items("FIT AND ASSEMBLE")
        .filter((line) => / x /.test(line))
        .slice(0, 6),
    ).toEqual([
      "[ ] 2 (4) x M5x16 bolt: 1 for each hole of 5.5 mm in name-plate",
      "[ ] 4 (8) x M5 washer: 2 for each hole of 5.5 mm in name-plate",
      "[ ] 4 (8) x Wood screw 4x16: 4 for each board",
      "[ ] 2 (4) x Wood screw 4x16",
      "[ ] 1 (2) x Hook rail",
      "[ ] 1 x Wood glue",
    ]);
  });

  it("has every bar with what is sawn from it", () => {
    const lines = items("SAW THE LENGTHS");
    expect(lines[0]).toMatch(/^! sawing: .*\(sawn: Oak strip 20 x 10\)$/);
    expect(lines.slice(1, 3)).toEqual(["In all 2 x rail, 480 mm", "In all 4 x stop, 230 mm"]);
    const bars = lines.filter((line) => line.startsWith("[ ] bar"));
    expect(bars.map((line) => line.split(", ")[0])).toEqual(["[ ] bar 1 of 2", "[ ] bar 2 of 2"]);
    const sawn = bars.flatMap((line) => [...line.matchAll(/(\d+) x (rail|stop) (480|230) mm/g)]);
    const count = (name: string): number =>
      sawn.filter(([, , one]) => one === name).reduce((sum, [, n]) => sum + Number(n), 0);
    expect([count("rail"), count("stop")]).toEqual([2, 4]);
  });

  it("has to hand what the paper buys", () => {
    expect(items("TO HAVE READY")).toEqual(
      expect.arrayContaining([
        "[ ] 3 cans of 12 ml: Primer touch-up can",
        "[ ] 2 packs of 4: M5x16 bolt",
        "[ ] 1 pack of 10: M5 washer",
        "[ ] 2 x Hook rail",
        "[ ] 2 bars of 1000 mm: Oak strip 20 x 10",
      ]),
    );
    expect(items("TO HAVE READY")).toHaveLength(estimate.shopping.length);
  });
});

describe.each([
  ["a small job", () => estimated(SMALL)],
  ["many pieces", () => estimated(withTexts(SMALL, { "job.yaml": ["title: T", "pieces: 17"] }))],
  ["the hand-worked tool board", () => estimated(toolBoard())],
  ["the demo", async () => estimated(await demoInput())],
] as const)("the maker's sheet of %s", async (_, make) => {
  const estimate: Estimate = await make();
  const sheet = makersSheet(estimate);
  const { items, all } = read(sheet);

  it("prints as plain text: 80 columns, pages of at most 58 lines with their number on top", () => {
    const pages = sheet.split("\f");
    for (const [index, page] of pages.entries()) {
      const lines = page.split("\n");
      expect(lines.pop()).toBe("");
      expect(lines.length).toBeLessThanOrEqual(58);
      expect(lines[0]?.endsWith(`page ${index + 1} of ${pages.length}`)).toBe(true);
      for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
      // No heading at the foot of a page.
      expect(lines.at(-1)).not.toMatch(/^-+$/);
    }
    expect(sheet.replaceAll(/[\n\f]/g, "")).not.toMatch(/\p{Cc}/u);
  });

  it("lays every copy of every part on some sheet, as often as the estimate has it", () => {
    const lying = items("CUT THE SHEETS").flatMap((line) => {
      const [, count, name] = /^(\d+) x (.+), [\d.]+ x [\d.]+ mm$/.exec(line) ?? [];
      return name === undefined ? [] : [{ count: Number(count), name }];
    });
    for (const { name, copies } of estimate.parts)
      expect(
        lying.filter((one) => one.name === name).reduce((sum, { count }) => sum + count, 0),
      ).toBe(copies);
    const layouts = items("CUT THE SHEETS").filter((line) => /^\[ \] \d\d-/.test(line));
    expect(layouts).toHaveLength(estimate.stocks.flatMap(({ sheets }) => sheets).length);
  });

  it("has every minute of hand work that the estimate has", () => {
    const printed = [...all.matchAll(/^\[ \] .*?: (?:.*, )?([\d.]+) min(?: \(.*\))?$/gm)]
      .filter(([line]) => !/^\[ \] \d\d-/.test(line))
      .map(([, minutes]) => Number(minutes));
    const times = estimate.figures.filter(({ id }) => /^work\..*\.time$/.test(id));
    expect(printed.length).toBe(times.length);
    expect(printed.length).toBeGreaterThan(0);
    const sum = times.reduce((total, { value }) => total.plus(value), new Amount(0)).toNumber();
    expect(Math.abs(printed.reduce((total, one) => total + one, 0) - sum)).toBeLessThanOrEqual(
      0.05 * times.length,
    );
  });

  it("says every caution once in full, before the work that it is for", () => {
    expect(estimate.cautions.length).toBeGreaterThan(2);
    for (const { topic, text, because } of estimate.cautions) {
      const whole = `! ${topic}: ${text} (${because})`;
      expect(all.split("\n").filter((line) => line === whole)).toHaveLength(1);
    }
    const first = items("CUT THE SHEETS").findIndex((line) => line.startsWith("[ ]"));
    const cautions = items("CUT THE SHEETS").slice(0, first);
    expect(cautions.length).toBeGreaterThan(0);
    for (const line of cautions) expect(line).toMatch(/^! (laser|fume): /);
  });

  it("has every coat of every finish, and only parts of that finish beside it", () => {
    const lines = items("SAND, SCUFF AND PAINT");
    const finishes = new Set(estimate.parts.flatMap(({ finish }) => finish ?? []));
    expect(finishes.size).toBeGreaterThan(0);
    for (const finish of finishes) {
      const its = estimate.parts.filter((part) => part.finish === finish);
      const parts = its.map(({ name, copies }) => `${copies} x ${name}`).join(", ");
      expect(lines).toContain(`${finish}: ${parts}`);
      const coats = estimate.figures.filter(({ id }) =>
        new RegExp(`^finish\\.${finish}\\.[^.]+\\.coats$`).test(id),
      );
      const at = lines.indexOf(`${finish}: ${parts}`);
      const boxes = lines
        .slice(at + 1, at + 1 + coats.length)
        .map((line) => /^(\[ \] )+/.exec(line)?.[0].length ?? 0);
      expect(boxes).toEqual(coats.map(({ value }) => 4 * Number(value)));
    }
  });
});

it("leaves out steps that the job does not have", () => {
  const bare = withTexts(SMALL, {
    "parts.csv": ["part,qty,material,thickness,shape,diameter", "disc,2,birch plywood,4,disc,60"],
    "hardware.csv": "item,qty,per",
    "lengths.csv": "name,stock,length,qty",
  });
  const { headings } = read(makersSheet(estimated(bare)));
  expect(headings).toContain("CUT THE SHEETS");
  expect(headings).toContain("FIT AND ASSEMBLE");
  for (const name of ["SAW THE LENGTHS", "SAND, SCUFF AND PAINT", "EDGES AND HOLES", "PREPARE"])
    expect(headings).not.toContain(name);
});

it("holds its width and the printer whatever parts are called", () => {
  const long = "x".repeat(300);
  const odd = withTexts(SMALL, {
    "parts.csv": [
      "part,qty,material,thickness,shape,diameter,note",
      `${long},2,birch plywood,4,disc,60,esc \u001B[2J here`,
    ],
    "hardware.csv": "item,qty,per",
  });
  const sheet = makersSheet(estimated(odd));
  for (const line of sheet.split(/[\n\f]/)) expect(line.length).toBeLessThanOrEqual(80);
  expect(sheet.replaceAll(/[\n\f]/g, "")).not.toMatch(/\p{Cc}/u);
  expect(sheet.replaceAll(/\s/g, "")).toContain(long);
});

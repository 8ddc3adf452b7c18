import { describe, expect, it } from "vitest";
import { initialState } from "../../src/tui/state.ts";
import type { Size, State } from "../../src/tui/state.ts";
import { displayWidth } from "../../src/tui/text.ts";
import { themeFor } from "../../src/tui/theme.ts";
import { frameLines } from "../../src/tui/views/frame.ts";
import { lastLines } from "../../src/tui/last-lines.ts";
import { fixtureEstimate, openedJob, problem } from "./fixture.ts";
import { LARGE, SMALL, after, answered, press, readyState, textOf } from "./steps.ts";

function frame(state: State): string {
  return textOf(frameLines(state)).join("\n");
}

function failedState(size: Size, count: number): State {
  const problems = Array.from({ length: count }, (_, index) =>
    problem("bad-thickness", "error", index + 2, `3,${index}`),
  );
  return after(
    initialState(size, "jobs/broken"),
    { kind: "opened", request: 1, result: { value: openedJob("jobs/broken"), problems: [] } },
    { kind: "estimated", run: 1, result: { value: null, problems } },
  );
}

/** Every screen there is. */
const SCREENS: readonly (readonly [string, (size: Size) => State])[] = [
  ["opening", (size) => initialState(size, "jobs/marsh-test")],
  ["looking for jobs", (size) => initialState(size, null)],
  ["no jobs", (size) => after(initialState(size, null), { kind: "jobs found", jobs: [] })],
  [
    "jobs",
    (size) => after(initialState(size, null), { kind: "jobs found", jobs: ["a", "b/中文"] }),
  ],
  ["parts", (size) => readyState(size)],
  ["sizes", (size) => press(readyState(size), "2")],
  ["sheets", (size) => press(readyState(size), "3")],
  ["time", (size) => press(readyState(size), "4")],
  ["price", (size) => press(readyState(size), "5")],
  ["working", (size) => press(readyState(size), "+")],
  ["help", (size) => press(readyState(size), "?")],
  ["notes", (size) => press(readyState(size), "p")],
  ["why", (size) => press(readyState(size), "w")],
  ["quantity", (size) => press(readyState(size), "enter", "7")],
  ["pieces", (size) => press(readyState(size), "m", "7", "x")],
  ["changed", (size) => answered(press(readyState(size), "m", "7", "enter", "+"))],
  ["path", (size) => press(readyState(size), "o", ...Array.from("x".repeat(300)))],
  ["leaving", (size) => press(readyState(size), "+", "q")],
  ["problems", (size) => failedState(size, 40)],
  ["problems closed", (size) => press(failedState(size, 1), "escape")],
];

const SIZES: readonly Size[] = [
  SMALL,
  LARGE,
  { columns: 60, rows: 16 },
  { columns: 120, rows: 36 },
  { columns: 200, rows: 20 },
  { columns: 59, rows: 40 },
  { columns: 20, rows: 5 },
];

describe.each(SCREENS)("%s", (_, build) => {
  it.each(SIZES)("is rows - 1 lines, each as wide as the terminal, at $columns x $rows", (size) => {
    const lines = textOf(frameLines(build(size)));
    expect(lines.length).toBe(size.rows - 1);
    for (const line of lines) expect(displayWidth(line)).toBe(size.columns);
  });
});

describe("at 80 x 24", () => {
  it.each(["1", "2", "3", "4", "5"])("panel %s has title, pieces, total, state and keys", (key) => {
    const text = frame(press(readyState(), key));
    for (const piece of [
      "Way-markers for the marsh",
      "4 x way-marker",
      "86.40 EUR",
      "ready",
      "? keys",
    ])
      expect(text).toContain(piece);
  });

  it("parts: what, of what, how many, how large, how finished", () => {
    const text = frame(readyState());
    expect(text).toMatch(/▸ wing +acrylic-cast 3 +3 +12 +120 x 80 heron-grey/);
    expect(text).toContain("part 1 of 3, from parts.csv, line 2");
    // 2 (120 + 80) + 2 pi 10 = 462.8 mm; 120 x 80 - pi 10^2 = 9286 mm2.
    expect(text).toContain("cut length 0.463 m, face 92.9 cm²");
  });

  it("sheets: picture, size, share used, price, parts", () => {
    const text = frame(press(readyState(), "3"));
    // 12 x (9600 - 314.16) + 4 x pi 30^2 = 122 739.8 mm2 of 240 000.
    for (const piece of [
      "sheet 1 of 2",
      "acrylic-cast 3 mm",
      "600 x 400 mm, used 51.1 %",
      "12 x wing",
      "4 x cap",
    ])
      expect(text).toContain(piece);
    expect(text).toContain("1 of this size: 24.00 EUR");
    expect(text).toContain("16 copies of 2 parts on it");
    // Eight bases of plywood: one part.
    expect(frame(press(readyState(), "3", "down"))).toContain("8 copies of 1 part on it");
    expect(text.match(/[\u2801-\u28FF]/g)?.length).toBeGreaterThan(200);
  });

  it("sizes: for each stock what was tried, from the cheapest on, and which was chosen", () => {
    const text = frame(press(readyState(), "2"));
    expect(text).toMatch(/▸ ● acrylic-3-600x400 +600 x 400 +1 +60 % +20 % +24\.00/);
    expect(text).toMatch(/ large-1200x900 +600 x 400 +1 +30 % +105 % +41\.00/);
    expect(text).toMatch(/ small-200x100 +600 x 400 +too small/);
    expect(text).toContain(
      "Left whole: 590 x 192 mm, 47.3 % of its sheet. Gap: 20 % above the bound.",
    );
    expect(text).toContain("No choice of these sizes can cost less than 20.00.");
    expect(text).toContain("chosen: the cheapest that takes every part");
    expect(frame(press(readyState(), "2", "down"))).toContain("Not chosen: it costs more");
    expect(frame(press(readyState(), "2", "down", "down"))).toContain("does not fit on it");
  });

  it("time: operations with length, contours and minutes", () => {
    const text = frame(press(readyState(), "4"));
    expect(text).toMatch(/cut +4\.32 +9 +1 +4:05 min +3:25 to 5:05 min/);
    expect(text).toContain("machine, minutes in all: 12.8 min");
  });

  it("price: says how much of it is above and below what fits", () => {
    const short = { columns: 80, rows: 16 };
    const top = press(readyState(short), "5");
    expect(frame(top)).toMatch(/\n {2}↓ \d+ more *\n/);
    const bottom = frame(press(top, "G"));
    expect(bottom).toMatch(/\n {2}↑ \d+ more *\n/);
    expect(bottom).not.toContain("↓ ");
  });

  it("price: lines, net, tax, total and the costs below", () => {
    const text = frame(press(readyState(), "5"));
    for (const piece of [
      /2\. Laser cutting and engraving +24\.00/,
      /Tax, 20 % +14\.40/,
      /Total +86\.40/,
    ])
      expect(text).toMatch(piece);
    expect(text).toMatch(/direct cost +72\.00/);
  });
});

describe("the reasons", () => {
  it("are rows with a value each, marked as folded, unfolded or given, the chosen one in full", () => {
    const text = frame(press(readyState(), "5", "down", "w", "down", "enter"));
    expect(text).toContain("Why: Laser cutting and engraving");
    expect(text).toMatch(/\n {2}▾ Cutting, direct cost +24 EUR/);
    expect(text).toMatch(/\n {4}▾ wing, copies in all +12 pcs/);
    expect(text).toMatch(/\n {6}· wing in each piece +3 pcs/);
    expect(text).toMatch(/\n {4}▸ cap, copies in all +4 pcs/);
    expect(text).toMatch(/\n= product of wing in each piece, pieces +\n/);
    expect(text).toMatch(/\npart\.wing\.copies +\n/);
    const given = frame(press(readyState(), "5", "down", "w", "down", "enter", "down"));
    expect(given).toMatch(/\nread from parts\.csv, line 2 +\n/);
  });
});

describe("at 140 x 45", () => {
  it("the parts stand beside the panel chosen, and the rule says which has the keys", () => {
    const parts = frame(readyState(LARGE));
    expect(parts).toContain("━━ 1 Parts ━");
    expect(parts).toContain("── 3 Sheets ─");
    const price = frame(press(readyState(LARGE), "5"));
    expect(price).toContain("── 1 Parts ─");
    expect(price).toContain("━━ 5 Price ━");
    expect(price).toMatch(/wing .*│/);
  });
});

describe("states are words", () => {
  it("working, stale, problems", () => {
    expect(frame(press(readyState(), "+"))).toMatch(/working, figures stale *\n/);
    expect(frame(press(readyState(), "+", "ctrl-c"))).toMatch(
      /ending\n[^]*ending with the first result, Ctrl-C again leaves/,
    );
    expect(frame(press(failedState(SMALL, 1), "escape"))).toContain("problems");
  });

  it("a changed quantity has a mark, and copies that are not known yet are not shown", () => {
    expect(frame(press(readyState(), "+"))).toMatch(/▸ wing .* \*4 +… /);
  });

  it("progress has a stage, a count and the time", () => {
    const progress = { stage: "nesting birch-plywood 5 mm", done: 3, of: 12, best: null };
    const state = after(
      press(readyState(), "+"),
      { kind: "progress", run: 2, progress },
      { kind: "elapsed", run: 2, seconds: 4 },
    );
    expect(frame(state)).toContain("nesting birch-plywood 5 mm, 3 of 12, 4 s");
  });
});

describe("problems", () => {
  it("are all there as sentences, scrolled, with what to do next", () => {
    let state = failedState(SMALL, 40);
    expect(frame(state)).toContain("(40)");
    let all = "";
    for (let page = 0; page < 12; page++) {
      all += frame(state);
      state = press(state, "pagedown");
    }
    for (let index = 0; index < 40; index++) expect(all).toContain(`read "3,${index}"`);
    expect(all).toContain("What next");
  });
});

describe("small windows", () => {
  it("say what they need and have", () => {
    const text = frame(readyState({ columns: 59, rows: 20 }));
    expect(text).toContain("60 x 16");
    expect(text).toContain("59 x 20");
  });
});

describe("names from files", () => {
  it.each([
    "a name of eighty characters, as they come out of drawing programs that join all",
    "部品名".repeat(15),
    "\u{1F986}".repeat(40),
    "שלום עולם ".repeat(8),
  ])("that are very long leave the rest in sight: %s", (name) => {
    const estimate = fixtureEstimate();
    const [first, ...rest] = estimate.parts;
    const parts = first ? [{ ...first, name }, ...rest] : rest;
    const state = after(press(readyState(), "r"), {
      kind: "opened",
      request: 2,
      result: { value: openedJob("other"), problems: [] },
    });
    const value = { ...estimate, title: name, pieceName: name, parts };
    const long = after(state, { kind: "estimated", run: 2, result: { value, problems: [] } });
    expect(frame(long)).toMatch(/…? {2}4 x .*ready\n/);
    expect(frame(long)).toMatch(/part 1 of 3, from parts\.csv/);
    expect(frame(press(long, "enter"))).toMatch(/1 to 99999, now 3/);
    expect(frame(press(long, "m", "7"))).toMatch(/: 7 {3}1 to 99999, now 4/);
  });

  it("can not steer the terminal", () => {
    const estimate = fixtureEstimate();
    const evil = { ...estimate, title: "a\u001B[2Jb\u0007\u202E" };
    const state = after(
      initialState(SMALL, "x\u001B"),
      { kind: "opened", request: 1, result: { value: openedJob("x\u001B"), problems: [] } },
      { kind: "estimated", run: 1, result: { value: evil, problems: [] } },
    );
    expect(frame(state)).toContain("a␛[2Jb␇");
    // oxlint-disable-next-line no-control-regex -- control characters are what must not be there
    expect(frame(state)).not.toMatch(/[\u0000-\u0009\u000B-\u001F\u202A-\u202E]/);
  });
});

function colours(environment: Record<string, string>): number {
  return Object.values(themeFor(environment)).filter((look) => look.color !== undefined).length;
}

describe("the theme", () => {
  it("has colours unless NO_COLOR is set and not empty, or the terminal is dumb", () => {
    expect(colours({})).toBeGreaterThan(3);
    expect(colours({ NO_COLOR: "" })).toBeGreaterThan(3);
    expect(colours({ NO_COLOR: "1" })).toBe(0);
    expect(colours({ TERM: "dumb" })).toBe(0);
  });
});

describe("after leaving", () => {
  it("says what was exported where, and what was not", () => {
    expect(lastLines(readyState())).toEqual([
      "Way-markers for the marsh: 86.40 EUR, nothing was exported",
    ]);
    const exported = after(press(readyState(), "e"), {
      kind: "exported",
      outcome: { kind: "written", dir: "out/m", files: ["quote.csv", "costing.csv"] },
    });
    expect(lastLines(exported)).toEqual(["Way-markers for the marsh: 86.40 EUR, 2 files in out/m"]);
    expect(lastLines(press(exported, "+"))).toEqual([
      "Way-markers for the marsh: 86.40 EUR, 2 files in out/m",
      "Neither saved nor exported: wing 3 to 4",
    ]);
    const changed = after(press(answered(press(readyState(), "m", "1", "enter")), "e"), {
      kind: "exported",
      outcome: { kind: "written", dir: "out/m", files: ["quote.csv"] },
    });
    expect(lastLines(changed)).toEqual([
      expect.stringMatching(/EUR, 1 file in out\/m$/),
      "That quote has 4 to 1 piece; the job's own files keep the old numbers",
    ]);
    const saved = after(press(changed, "s"), {
      kind: "saved",
      outcome: { files: ["job.yaml"], problems: [] },
    });
    expect(lastLines(saved)).toEqual([
      "Saved in job.yaml: 4 to 1 piece",
      expect.stringMatching(/EUR, 1 file in out\/m$/),
    ]);
    expect(lastLines(initialState(SMALL, null))).toEqual([]);
  });
});

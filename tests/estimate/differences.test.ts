import { assert, property, subarray } from "fast-check";
import { describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import { differencesJob } from "../../src/estimate.ts";
import { differencesText } from "../../src/exports/differences-text.ts";
import { estimateJson } from "../../src/exports/estimate-json.ts";
import { Amount } from "../../src/money.ts";
import { differenceReport } from "../../src/stages/differences.ts";
import type { DifferenceReport } from "../../src/stages/differences.ts";
import { keptEstimate } from "../../src/stages/kept-estimate.ts";
import { drain } from "../helpers/drain.ts";
import { estimated, SMALL, withTexts } from "../helpers/job.ts";
import { text } from "../job/texts.ts";

/** One slip each of what a maker changes between two quotes of a job. */
const EDITS: Readonly<Record<string, readonly [file: string, from: RegExp, to: string]>> = {
  pieces: ["job.yaml", /pieces: 3/, "pieces: 7"],
  delivery: ["job.yaml", /delivery: 12.35/, "delivery: 20"],
  bolts: ["hardware.csv", /m5-bolt,2,piece/, "m5-bolt,5,piece"],
  bolt: ["hardware.csv", /\nm5-bolt,\d,piece,,,/, ""],
  rail: ["lengths.csv", /rail,larch,400,1/, "rail,larch,700,2"],
  disc: ["parts.csv", /disc,2,/, "disc,3,"],
  finish: ["parts.csv", /,reed,/, ",,"],
  badge: ["parts.csv", /\nbadge.*/, ""],
  markup: ["price-tables/settings.csv", /markup_percent,25/, "markup_percent,31"],
  contingency: ["price-tables/settings.csv", /contingency_percent,7.5/, "contingency_percent,9"],
  round: ["price-tables/settings.csv", /round_total_to,5/, "round_total_to,0"],
  assembly: ["hand-work.csv", /assemble,,1,,/, "assemble,,1,14,"],
};

const known = new Map<string, Estimate>();

/** The small commission with some of the edits made. */
function edited(names: readonly string[]): Estimate {
  const key = names.toSorted().join();
  const made = known.get(key) ?? estimated(inputOf(names));
  known.set(key, made);
  return made;
}

function inputOf(names: readonly string[]) {
  return names.reduce((input, name) => {
    const [file, from, to] = EDITS[name]!;
    const before = [...input.job, ...input.tables].find((one) => one.name === file)!.text;
    expect(before).toMatch(from);
    return withTexts(input, { [file]: before.replace(from, to).split("\n") });
  }, SMALL);
}

function sumOf(causes: DifferenceReport["causes"]): string {
  return causes.reduce((sum, { effect }) => sum.plus(effect), new Amount(0)).toFixed(2);
}

describe("the difference of two estimates", () => {
  it("is empty between an estimate and itself", () => {
    const report = differenceReport(edited([]), edited([]));
    expect(report.causes).toEqual([]);
    expect(report.lines.map(({ difference }) => difference)).toEqual(
      report.lines.map(() => "0.00"),
    );
    expect(differencesText(report)).toContain("Nothing was given otherwise.");
  });

  it("adds up, by lines and by causes, and turns its sign with the direction", () => {
    const names = Object.keys(EDITS);
    let causes = 0;
    assert(
      property(subarray(names), subarray(names), (before, after) => {
        const report = differenceReport(edited(before), edited(after));
        expect(sumOf(report.causes)).toBe(report.net.difference);
        const lines = report.lines.filter(({ kind }) => kind === "line");
        const moved = lines.reduce((sum, line) => sum.plus(line.difference), new Amount(0));
        expect(moved.toFixed(2)).toBe(report.net.difference);
        const back = differenceReport(edited(after), edited(before));
        expect(effects(back, -1)).toEqual(effects(report, 1));
        causes += report.causes.length;
      }),
      { seed: 3, numRuns: 12 },
    );
    expect(causes).toBeGreaterThan(50);
  });

  it("names the cell, what it was, and what it is", () => {
    const { causes } = differenceReport(edited([]), edited(["delivery", "markup"]));
    const cells = causes.filter(({ kind }) => kind === "given");
    expect(
      cells.map(({ figures: [one] }) => `${one?.id}: ${one?.before} -> ${one?.after}`).toSorted(),
    ).toEqual(["delivery.cost: 12.35 -> 20", "rule.markup: 25 -> 31"]);
    expect(cells[0]?.figures[0]?.source).toMatchObject({ kind: "cell" });
  });

  // Direct cost + 7.65 through overhead, contingency and markup of the small tables: by hand, the
  // factor is price over direct cost, which has no other part in it.
  it("gives delivery alone what it costs with all that is on top of it", () => {
    const before = edited([]);
    const { causes } = differenceReport(before, edited(["delivery"]));
    const factor = new Amount(before.figures.find(({ id }) => id === "price.factor")!.value);
    const own = causes.find(({ figures: [first] }) => first?.id === "delivery.cost");
    expect(own?.effect).toBe(factor.times("7.65").toFixed(2));
    expect(causes.map(({ kind }) => kind).toSorted()).toEqual(["given", "rounding"]);
  });

  it("takes a part that is gone as one cause, and tells what was nested anew for it", () => {
    const { causes } = differenceReport(edited([]), edited(["badge"]));
    const gone = causes.filter(({ kind }) => kind === "gone");
    expect(gone.some(({ figures }) => figures.some(({ id }) => id === "part.badge.each"))).toBe(
      true,
    );
    const { causes: more } = differenceReport(edited([]), edited(["disc"]));
    const anew = more.find(({ kind, effect }) => kind === "worked out" && effect !== "0.00");
    expect(anew?.follows).toEqual([expect.stringMatching(/^parts\.csv, line \d, qty$/)]);
  });
});

/** Each effect by the figures that it is about. */
function effects({ causes }: DifferenceReport, sign: 1 | -1): readonly string[] {
  return causes
    .map(
      ({ effect, figures }) =>
        `${new Amount(effect).times(sign).plus(0).toFixed(2)} ${figures.map(({ id }) => id).join()}`,
    )
    .map((one) => one.replace(/^-0\.00/, "0.00"))
    .toSorted();
}

describe("an estimate that was kept", () => {
  it("is compared like the one it was written from", () => {
    const json = JSON.stringify(estimateJson(edited(["bolts"])));
    const kept = keptEstimate(text("estimate.json", [json]));
    expect(kept.problems).toEqual([]);
    expect(differenceReport(kept.value!, edited([]))).toEqual(
      differenceReport(edited(["bolts"]), edited([])),
    );
  });

  it("by another version is made up for, and the causes still add up", () => {
    const whole = edited([]);
    const figures = whole.figures.map((figure) =>
      figure.id === "quote.net" ? { ...figure, value: "100" } : figure,
    );
    const report = differenceReport({ ...whole, figures }, whole);
    expect(report.causes.map(({ kind }) => kind)).toEqual(["version"]);
    expect(sumOf(report.causes)).toBe(report.net.difference);
    expect(report.net.before).toBe("100.00");
  });

  it.each([
    ["no JSON", "{", "no-estimate"],
    ["another document", '{"version": 1}', "no-estimate"],
    ["figures out of order", broken((all) => all.toReversed()), "no-estimate"],
    ["a figure twice", broken((all) => [...all, all[0]!]), "no-estimate"],
    [
      "a value that is no decimal",
      broken(([first, ...all]) => [{ ...first!, value: "x" }, ...all]),
      "no-estimate",
    ],
    [
      "a formula of another version",
      broken((all) =>
        all.map((one) => JSON.parse(JSON.stringify(one).replace('"product"', '"folded"'))),
      ),
      "unknown-formula",
    ],
  ])("is refused where it is %s", (_, json, code) => {
    const { value, problems } = keptEstimate(text("estimate.json", [json]));
    expect(value).toBeNull();
    expect(problems.map((problem) => problem.code)).toEqual([code]);
  });

  it("in another currency is not compared", () => {
    const whole = estimateJson(edited([]));
    const json = JSON.stringify({ ...whole, currency: { code: "GBP", minorDigits: 2 } });
    const earlier = { kind: "kept", text: text("estimate.json", [json]) } as const;
    const { value, problems } = drain(differencesJob(SMALL, earlier));
    expect(value).toBeNull();
    expect(problems.map(({ code }) => code)).toEqual(["other-currency"]);
  });
});

function broken(change: (figures: Estimate["figures"]) => Estimate["figures"]): string {
  const whole = estimateJson(estimated(SMALL));
  return JSON.stringify({ ...whole, figures: change(whole.figures) });
}

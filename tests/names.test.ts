import { describe, expect, it } from "vitest";
import {
  choicesFor,
  counted,
  eitherOf,
  mendName,
  nearest,
  nearestDrawing,
  noun,
  plainName,
} from "../src/names.ts";

const MANY = Array.from({ length: 40 }, (_, at) => `bolt-${at + 10}`);

describe("names that might be meant", () => {
  it.each([
    ["birch plywod", "birch plywood"],
    ["Birch  Plywood", "birch plywood"],
    ["birch", "birch plywood"],
    ["mfd", "MDF"],
    ["dmf", "MDF"],
    ["fmd", null],
    ["slate", null],
    ["x", null],
  ])("%s: %s", (written, meant) => {
    expect(nearest(written, ["birch plywood", "MDF", "greyboard"])).toBe(meant);
  });

  it("are compared without regard to case, blanks and the way accents are written", () => {
    expect(plainName("  E\u0301chelle\u00A0 1 ")).toBe(plainName("\u00C9chelle 1"));
  });

  it("come with what else to do", () => {
    expect(mendName("mdff", ["mdf"], "add it")).toBe('Write "mdf" if that is meant, or add it');
    expect(mendName("slate", ["mdf"], "add it")).toBe("Add it");
  });
});

describe("the drawing that might be meant", () => {
  it.each([
    ["drawings/herno.svg", "drawings/heron.svg"],
    ["heron.dxf", "drawings/heron.svg"],
    ["cut/reed.svg", "cut/small/reed.svg"],
    // All of them lie in one folder and end alike: that alone is no likeness.
    ["drawings/lid.svg", null],
  ])("%s: %s", (written, meant) => {
    const drawings = ["drawings/heron.svg", "drawings/reed.svg", "cut/small/reed.svg"];
    expect(nearestDrawing(written, drawings)).toBe(meant);
  });
});

describe("a list of names", () => {
  it("is whole up to twelve, in its own order", () => {
    const twelve = MANY.slice(0, 12);
    expect(choicesFor("x", twelve, "hardware.csv")).toBe(eitherOf(twelve, 12));
    expect(choicesFor("x", twelve, "hardware.csv")).toMatch(/^bolt-10, .* or bolt-21$/);
    expect(choicesFor("x", [], "hardware.csv")).toBe("nothing yet");
  });

  it("begins with the nearest where it is longer, and says where the rest stands", () => {
    const shown = choicesFor("bolt-44x", MANY, "hardware.csv");
    expect(shown).toMatch(/^bolt-44, /);
    expect(shown).toMatch(/ or one of 28 more in hardware\.csv$/);
    expect(shown.split(", ")).toHaveLength(12);
  });
});

it("has the singular for one alone, also where the count is a decimal text", () => {
  expect([0, 1, 2, 11].map((count) => counted(count, "part"))).toEqual([
    "0 parts",
    "1 part",
    "2 parts",
    "11 parts",
  ]);
  expect(counted("1", "pass", "passes")).toBe("1 pass");
  expect(counted("1.5", "pass", "passes")).toBe("1.5 passes");
  expect([noun(1, "can"), noun("3", "can"), noun(2, "copy", "copies")]).toEqual([
    "can",
    "cans",
    "copies",
  ]);
});

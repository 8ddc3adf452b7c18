import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checked, inFile, isError, placeText, printable, sentence } from "../src/problem.ts";
import type { Problem } from "../src/problem.ts";

const PROBLEM: Problem = {
  code: "not-a-length",
  severity: "error",
  file: "parts.csv",
  line: 4,
  column: "thickness",
  found: "3,2",
  expected: "a length like 3.2 mm",
  mend: "Write a decimal point",
};

describe("sentence", () => {
  it("says where, what was read, what is right and what to do", () => {
    expect(sentence(PROBLEM)).toBe(
      'parts.csv, line 4, thickness: read "3,2", expected a length like 3.2 mm. Write a decimal point.',
    );
  });

  it("says nothing of a line or column that there is none of", () => {
    expect(placeText(inFile("job.yaml"))).toBe("job.yaml");
    expect(placeText({ file: "job.yaml", line: null, column: "price.tax" })).toBe(
      "job.yaml, price.tax",
    );
    expect(sentence({ ...PROBLEM, line: null, column: null, found: "" })).toContain(
      "parts.csv: read nothing, expected",
    );
  });

  it("gives what was read no hold on the terminal", () => {
    const esc = "\u001B[2J\u001B]0;title\u0007";
    const said = sentence({
      ...PROBLEM,
      file: `a${esc}.csv`,
      column: `b\r\n`,
      found: `c${esc}\u202Ed`,
    });
    // ECMA-48 control characters (C0, C1) and Unicode's bidirectional formatting (UAX 9).
    expect(said).not.toMatch(/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u);
    expect(said).toContain("\u241B[2J");
  });
});

describe("printable", () => {
  it("leaves no control character of any kind, and everything else as it was", () => {
    let controls = 0;
    const texts = fc.string({
      unit: fc.oneof(
        fc.string({ unit: "binary", minLength: 1, maxLength: 1 }),
        fc.integer({ min: 0, max: 0x9f }).map((code) => String.fromCodePoint(code)),
        fc.constantFrom("\u202A", "\u202E", "\u2066", "\u2069", "a", "\u00e9"),
      ),
    });
    fc.assert(
      fc.property(texts, (text) => {
        const shown = printable(text);
        expect(shown).not.toMatch(/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u);
        const [before, after] = [Array.from(text), Array.from(shown)];
        expect(after).toHaveLength(before.length);
        for (const [index, character] of before.entries()) {
          const control = /[\p{Cc}\u202A-\u202E\u2066-\u2069]/u.test(character);
          if (control) controls += 1;
          expect(after[index] === character).toBe(!control);
        }
      }),
      { numRuns: 1000, seed: 1 },
    );
    expect(controls).toBeGreaterThan(500);
  });
});

describe("checked", () => {
  it("has a value unless a problem is an error", () => {
    const warning: Problem = { ...PROBLEM, severity: "warning" };
    expect(isError(PROBLEM)).toBe(true);
    expect(isError(warning)).toBe(false);
    expect(checked(1, [])).toEqual({ value: 1, problems: [] });
    expect(checked(1, [warning])).toEqual({ value: 1, problems: [warning] });
    expect(checked(1, [warning, PROBLEM])).toEqual({ value: null, problems: [warning, PROBLEM] });
  });
});

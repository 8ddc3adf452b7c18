import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  clockText,
  lengthText,
  MM2_PER_M2,
  MM_PER_INCH,
  parseLength,
  trimmed,
} from "../src/units.ts";

describe("parseLength", () => {
  // The international inch is 25.4 mm exactly (international yard and pound agreement, 1959).
  it.each([
    ["12", 12],
    ["12 mm", 12],
    ["12mm", 12],
    ["0", 0],
    [".5", 0.5],
    ["1.2cm", 12],
    ["0.3 cm", 3],
    ["2 m", 2000],
    ["1 in", 25.4],
    ["1 inch", 25.4],
    ['1"', 25.4],
    ["0.5 in", 12.7],
    ["1/8 in", 3.175],
    ["3/16 in", 4.7625],
    ["1/4 IN", 6.35],
    ["1 1/2 in", 38.1],
    ["1-1/2 in", 38.1],
    ['24"', 609.6],
    ["1/64 in", 0.396875],
    ["3/4 \u2033", 19.05],
    ["24\u201D", 609.6],
    ["2 inches", 50.8],
    ["  5  mm ", 5],
  ])("%s", (text, mm) => {
    expect(parseLength(text)).toBe(mm);
  });

  it.each([
    "",
    "mm",
    "1,5",
    "-3",
    "+3",
    "0x10",
    "1e3",
    "3/4",
    "1 1/2",
    "1/0 in",
    "0/0",
    "1.",
    "1.2.3",
    "1 000",
    "12 furlong",
    "1 constructor",
    "1 tostring",
    "5 __proto__",
    "Infinity",
    "NaN",
    "\u0661",
    "1/2/3 in",
    "1 1.5/2 in",
    "9".repeat(400),
  ])("refuses %j", (text) => {
    expect(parseLength(text)).toBeNull();
  });

  it("never gives anything but a length of zero or more", () => {
    const units = fc.constantFrom("", "mm", "cm", "m", "in", '"', "constructor", "valueof", "ft");
    const numbers = fc.stringMatching(/^[0-9]{0,4}[0-9./ e+,-]{0,3}[0-9]{0,2}$/);
    let read = 0;
    fc.assert(
      fc.property(numbers, units, (number, unit) => {
        const mm = parseLength(number + unit);
        if (mm === null) return;
        read += 1;
        expect(Number.isFinite(mm) && mm >= 0).toBe(true);
      }),
      { numRuns: 3000, seed: 1 },
    );
    expect(read).toBeGreaterThan(200);
  });

  it("reads inch fractions as exact rationals of 25.4 mm", () => {
    const denominators = fc.constantFrom(2, 4, 8, 16, 32, 64);
    fc.assert(
      fc.property(fc.nat(48), fc.nat(63), denominators, (whole, top, bottom) => {
        // In ten-thousandths of a 64th of an inch everything is a whole number: no rounding here.
        const exact = (254_000 * 64 * whole + (254_000 * 64 * top) / bottom) / (64 * 10_000);
        const text = `${whole} ${top}/${bottom} in`;
        expect(parseLength(text)).toBeCloseTo(exact, 8);
      }),
      { seed: 1 },
    );
  });

  it("reads back what it printed", () => {
    fc.assert(
      fc.property(fc.nat(50_000_000), (tenThousandths) => {
        const mm = tenThousandths / 10_000;
        expect(parseLength(lengthText(mm))).toBe(mm);
      }),
      { seed: 1 },
    );
  });
});

it("areas are in square metres of a million square millimetres", () => {
  expect(MM2_PER_M2).toBe(1000 ** 2);
  expect(MM_PER_INCH).toBe(25.4);
});

it.each([
  [0, "0:00 min"],
  [5, "0:05 min"],
  [59.4, "0:59 min"],
  [59.5, "1:00 min"],
  [247, "4:07 min"],
  [3599.6, "1:00:00 h"],
  [3600, "1:00:00 h"],
  [3729, "1:02:09 h"],
  [36_000, "10:00:00 h"],
])("%f s is %s", (seconds, text) => {
  expect(clockText(seconds)).toBe(text);
});

it.each([
  [3.175, 4, "3.175"],
  [3, 4, "3"],
  [100, 0, "100"],
  [1200, 2, "1200"],
  [0.1 + 0.2, 4, "0.3"],
  [-0.00001, 2, "0"],
  [-1.5, 2, "-1.5"],
])("%f with at most %i decimals is %s", (value, decimals, text) => {
  expect(trimmed(value, decimals)).toBe(text);
});

import * as fc from "fast-check";
import { expect, it } from "vitest";
import { isError } from "../../src/problem.ts";
import { page, readSvgText } from "./reading.ts";

/** Pieces that files get spoilt with. */
const SCRAPS = [
  "",
  '"',
  "<",
  "/>",
  "</g>",
  "<g>",
  "&amp;",
  "&nope;",
  "-",
  "e999",
  "NaN",
  "0",
  " ",
  "\n",
  "-1e9",
  "z",
  "A0 0 0 0 0 ",
  "A1e300 1e300 0 1 1 ",
  "scale(0)",
  "%",
  "mm",
  "\u0000",
  "M",
];

const BASE = page(
  `<g transform="rotate(10) scale(2 1)"><path id="a" d="M10 10h40v30a9 5 0 0 1-9 5C20 50 20 40 10 40z"/>` +
    `<circle cx="30" cy="25" r="4"/><polygon points="15 15 18 15 18 18"/></g>`,
);

/** The same lines by way of everything that refers to something else. */
const WOVEN = `<!DOCTYPE svg [<!ENTITY red "#f00">]>
<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<style>.h{stroke:&red;} path#a,#b.h{fill:none;stroke:blue} @media print{.h{display:none}}</style>
<symbol id="s" viewBox="0 0 50 50" preserveAspectRatio="xMinYMax slice"><path id="a" d="M10 10h30v30h-30z"/></symbol>
<defs><circle id="c" class="h" cx="30" cy="25" r="4%"/><g id="d"><use href="#c" x="5"/></g></defs>
<use href="#s" width="80" height="40%"/><use href="#d" y="-20"/><switch><g><rect x="50" width="9" height="9"/></g></switch></svg>`;

it("spoilt references never throw or run away either", () => {
  const codes = new Set<string>();
  let read = 0;
  for (let at = 60; at < WOVEN.length; at++)
    for (const scrap of ["", "#s", "a"]) {
      const text = WOVEN.slice(0, at) + scrap + WOVEN.slice(at + 1);
      const { value, problems } = readSvgText(text, { id: at % 2 === 0 ? "outline-1" : null });
      expect(value === null).toBe(problems.some(isError));
      for (const { code } of problems) codes.add(code);
      if (value !== null) read++;
    }
  expect(read).toBeGreaterThan(300);
  expect(codes.size).toBeGreaterThan(15);
});

it("spoilt drawings never throw, and have a value exactly when they have no error", () => {
  let [read, refused] = [0, 0];
  const spoil = fc.record({
    at: fc.integer({ min: 0, max: BASE.length }),
    drop: fc.integer({ min: 0, max: 3 }),
    scrap: fc.constantFrom(...SCRAPS),
  });
  fc.assert(
    fc.property(fc.array(spoil, { minLength: 1, maxLength: 2 }), (spoils) => {
      const text = spoils.reduce(
        (svg, { at, drop, scrap }) => svg.slice(0, at) + scrap + svg.slice(at + drop),
        BASE,
      );
      const { value, problems } = readSvgText(text);
      expect(value === null).toBe(problems.some(isError));
      const numbers = (value ?? []).flatMap(({ areaMm2, cutLengthMm }) => [areaMm2, cutLengthMm]);
      expect(numbers.every((number) => Number.isFinite(number) && number > 0)).toBe(true);
      if (value === null) refused++;
      else read++;
    }),
    { numRuns: 600, seed: 81 },
  );
  expect(read).toBeGreaterThan(50);
  expect(refused).toBeGreaterThan(200);
});

import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { decodeText } from "../../src/files/decode.ts";
import { isError, sentence } from "../../src/problem.ts";
import type { Problem } from "../../src/problem.ts";
import { DXF_SLIPS } from "./malformed/dxf.ts";
import type { Slip } from "./malformed/slip.ts";
import { SVG_SLIPS } from "./malformed/svg.ts";
import { part } from "./reading.ts";

/**
 * Drawings as people get them wrong, each with the sentences it gets, word for word: the pages in
 * `malformed/` are for reading. `GOLDEN_UPDATE=1` writes them anew; read every sentence that changes
 * as somebody would who has to mend that drawing.
 */

/** As when the file is read from disk. */
function problemsOf({ file, content, cell = file, rules = [] }: Slip): readonly Problem[] {
  const decoded = decodeText(file, Buffer.from(content));
  if (decoded.value === null) return decoded.problems;
  const [path = "", id = null] = cell.split("#");
  const drawn = part({ kind: "drawing", path, id });
  const { value, problems } = readPartGeometry([drawn], [decoded.value], rules);
  expect(value === null).toBe(problems.some(isError));
  return [...decoded.problems, ...problems];
}

function pageText(slips: readonly Slip[]): string {
  return slips
    .map((slip) => {
      const said = problemsOf(slip).map((one) => `${one.severity}: ${sentence(one)}\n`);
      return `=== ${slip.name}\n${said.join("")}`;
    })
    .join("\n");
}

const PAGES = [
  { name: "svg", slips: SVG_SLIPS },
  { name: "dxf", slips: DXF_SLIPS },
].map((page) => ({
  ...page,
  path: fileURLToPath(new URL(`malformed/${page.name}.txt`, import.meta.url)),
}));

if (process.env["GOLDEN_UPDATE"] === "1")
  for (const { slips, path } of PAGES) writeFileSync(path, pageText(slips));

for (const { name, slips, path } of PAGES)
  describe(`slips in ${name} drawings`, () => {
    const blocks = readFileSync(path, "utf8").split(/^=== /m).slice(1);

    it.each(slips)("$name", (slip) => {
      const [, ...lines] =
        blocks.find((one) => one.startsWith(`${slip.name}\n`))?.split("\n") ?? [];
      const said = problemsOf(slip).map((one) => `${one.severity}: ${sentence(one)}`);
      expect(said.length).toBeGreaterThan(0);
      expect(said).toEqual(lines.filter((one) => one !== ""));
    });
  });

describe("the sentences about drawings", () => {
  const slips = PAGES.flatMap((page) => page.slips);
  const all = slips.flatMap(problemsOf);

  it("are for 100 slips and more", () => {
    expect(slips.length).toBeGreaterThanOrEqual(100);
    for (const page of PAGES)
      expect(new Set(page.slips.map(({ name }) => name)).size).toBe(page.slips.length);
  });

  it("say where, what was read, what was wanted and what to do", () => {
    for (const problem of all) {
      const one = sentence(problem);
      expect(one).toMatch(
        /^[\w/.-]+(, line \d+)?(, .+)?: read (nothing|".*"), expected .+\. [A-Z].*\.$/s,
      );
      expect(one).not.toMatch(/undefined|null|\[object|\bInfinity\b| {2}|\.\.$/);
      expect(one.length).toBeLessThan(500);
    }
  });
});

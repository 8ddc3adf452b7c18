import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { codeOf, importsOf } from "./imports.ts";
import { layerFaults, TIERS } from "./layers.ts";

const ROOT = new URL("..", import.meta.url).pathname;

const SOURCES: ReadonlyMap<string, string> = new Map(
  readdirSync(join(ROOT, "src"), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `src/${name.replaceAll("\\", "/")}`)
    .toSorted()
    .map((path) => [path, readFileSync(join(ROOT, path), "utf8")]),
);

describe("the layers of the program", () => {
  it("are kept by every file", () => {
    expect(layerFaults(SOURCES)).toEqual([]);
  });

  it("are judged over the whole program, by every import there is", () => {
    const imports = [...SOURCES.values()].flatMap(importsOf);
    expect(SOURCES.size).toBeGreaterThan(120);
    expect(imports.length).toBeGreaterThan(500);
    expect(imports.filter(({ from }) => from === "")).toEqual([]);
    for (const layer of TIERS.flat())
      expect([...SOURCES.keys()].some((path) => path.startsWith(`src/${layer}`))).toBe(true);
    // A second count, line by line: as many sources are named as imports were found.
    const named = [...SOURCES.values()].flatMap((source) =>
      source
        .split("\n")
        .filter((line) => /^(?:import|export|\}).* from "|^import "|\bimport\("/.test(line)),
    );
    expect(imports.length).toBe(named.length);
  });
});

describe("a planted violation is named", () => {
  const NOWHERE = "src/csv.ts";
  it.each([
    ["src/units.ts", 'import { ringArea } from "./geometry/ring.ts";', "which lies above"],
    ["src/money.ts", 'import { FigureSheet } from "./figure.ts";', "which lies above"],
    ["src/money.ts", 'import { trimmed } from "./units.ts";', "which lies beside"],
    ["src/geometry/ring.ts", 'import type { Part } from "../job/types.ts";', "which lies above"],
    ["src/drawing/shape.ts", 'import { timeSheet } from "../machine/sheet-time.ts";', "above"],
    ["src/drawing/shape.ts", 'import { nearest } from "../job/day.ts";', "which lies beside"],
    ["src/job/day.ts", 'export * from "../drawing/shape.ts";', "which lies beside"],
    ["src/nesting/nest.ts", 'import { slug } from "../pricing/ledger.ts";', "which lies beside"],
    ["src/machine/work.ts", 'import { nestPieces } from "../nesting/nest.ts";', "lies beside"],
    ["src/machine/work.ts", 'import type { Estimate } from "../estimate-data.ts";', "lies above"],
    ["src/log/factors.ts", 'import { chooseFeeds } from "../machine/feeds.ts";', "lies beside"],
    ["src/log/factors.ts", 'import { formPlan } from "../exports/took-form.ts";', "lies above"],
    ["src/pricing/price.ts", 'import type { Estimate } from "../estimate-data.ts";', "lies above"],
    ["src/pricing/price.ts", 'import { nestGroups } from "../stages/nest.ts";', "lies above"],
    ["src/exports/summary.ts", 'import { estimate } from "../estimate.ts";', "lies beside"],
    ["src/exports/summary.ts", 'import { writeOutputs } from "../files/write.ts";', "lies beside"],
    ["src/stages/nest.ts", 'import { summary } from "../exports/summary.ts";', "lies beside"],
    ["src/stages/nest.ts", 'import type { Shell } from "../cli/shell.ts";', "which lies above"],
    ["src/files/read.ts", 'import { run } from "../cli/run.ts";', "which lies above"],
    ["src/tui/app.tsx", 'import { run } from "../cli/run.ts";', "which lies beside"],
    ["src/cli/run.ts", 'import "../main.ts";', "which lies above"],
    ["src/geometry/ring.ts", 'const x = await import("../nesting/nest.ts");', "which lies above"],
    ["src/geometry/ring.ts", "const x = await import(name);", "whose name is worked out"],
    ["src/geometry/ring.ts", 'import {\n  a,\n  type B,\n} from "../job/day.ts";', "lies above"],
    ["src/geometry/ring.ts", 'export { a } from "../job/day.ts";', "which lies above"],
    ["src/geometry/ring.ts", 'import { a } from "./no-such-file.ts";', "which is not there"],
    ["src/stages/nest.ts", 'import { estimate } from "../estimate.ts";', "a circle of imports"],
    ["src/units.ts", 'import { gone } from "./units.ts";', "a circle of imports"],
    ["src/nesting/nest.ts", 'import { cpus } from "node:os";', "imports node:os in nesting"],
    ["src/nesting/nest.ts", 'import { cpus } from "os";', "imports os in nesting"],
    ["src/stages/nest.ts", 'import { join } from "node:path";', "imports node:path in estimate"],
    ["src/exports/summary.ts", 'import { readFile } from "fs/promises";', "imports fs/promises"],
    ["src/cli/load.ts", 'import { access } from "node:fs/promises";', "imports node:fs/promises"],
    ["src/tui/run.tsx", 'import { existsSync } from "node:fs";', "imports node:fs in tui"],
    ["src/main.ts", 'import { existsSync } from "node:fs";', "imports node:fs in main"],
    ["src/exports/summary.ts", 'import write from "write-file-atomic";', "write-file-atomic in"],
    ["src/cli/run.ts", 'import { exit } from "node:process";', "imports node:process in cli"],
    ["src/exports/summary.ts", 'import { Text } from "ink";', "imports ink in exports"],
    ["src/cli/report.ts", 'import { jsx } from "react/jsx-runtime";', "imports react/jsx-runtime"],
    ["src/tui/run.tsx", 'import yargs from "yargs";', "imports yargs in tui"],
    ["src/files/read.ts", 'import { hideBin } from "yargs/helpers";', "imports yargs/helpers in"],
    ["src/random.ts", "const x = Math.random();", "uses Math below the shells"],
    ["src/random.ts", "const { random } = Math;", "uses Math below the shells"],
    ["src/nesting/nest.ts", "const end = performance.now();", "uses performance below"],
    ["src/pricing/price.ts", "const today = new Date();", "uses Date below the shells"],
    ["src/stages/nest.ts", "const t = `${Date.now()}`;", "uses Date below the shells"],
    ["src/exports/summary.ts", "console.log(1);", "uses console below the shells"],
    ["src/job/day.ts", "const home = process.env;", "uses process below the shells"],
    ["src/work.ts", "setTimeout(next, 1);", "uses setTimeout below the shells"],
    ["src/work.ts", "globalThis.x = 1;", "uses globalThis below the shells"],
    ["src/job/day.ts", "names.sort((a, b) => a.localeCompare(b));", "uses .localeCompare"],
    ["src/job/day.ts", "const here = import.meta.url;", "uses import.meta below the shells"],
    ["src/cli/run.ts", "process.exit(1);", "uses process.exit outside main.ts"],
    ["src/tui/run.tsx", "process.exitCode = 1;", "uses process.exitCode outside main.ts"],
    ["src/helpers/text.ts", "export {};", "belongs to no layer"],
    ["src/helper.ts", "export {};", "belongs to no layer"],
    ["src/csv/read.ts", "export {};", "belongs to no layer"],
    ["src/nesting.ts", "export {};", "belongs to no layer"],
  ])("%s: %s", (path, planted, fault) => {
    const before = SOURCES.get(path) ?? SOURCES.get(NOWHERE) ?? "";
    const faults = layerFaults(new Map(SOURCES).set(path, `${before}\n${planted}\n`));
    expect(faults.filter((one) => one.includes(fault))).toHaveLength(1);
    expect(faults.filter((one) => !one.includes(path))).toEqual([]);
  });

  it("by file and line", () => {
    const files = new Map([
      ["src/units.ts", '/** Words. */\nimport {\n  run,\n} from "./cli/run.ts";\n'],
      ["src/cli/run.ts", ""],
    ]);
    expect(layerFaults(files)).toEqual([
      "src/units.ts:2: imports src/cli/run.ts, which lies above",
    ]);
  });
});

describe("what the layers allow", () => {
  it.each([
    ["src/nesting/nest.ts", 'import type { SheetTime } from "../machine/types.ts";'],
    ["src/exports/summary.ts", 'import type { Estimate } from "../estimate-data.ts";'],
    ["src/cli/run.ts", 'const { runTui } = await import("../tui/run.tsx");'],
    ["src/cli/run.ts", 'import { ringArea } from "../geometry/ring.ts";'],
    ["src/nesting/nest.ts", "const a = Math.max(1, 2);"],
    ["src/nesting/nest.ts", "// process.exit(1), new Date(), console.log"],
    ["src/nesting/nest.ts", '/* import { run } from "../cli/run.ts"; */'],
    ["src/nesting/nest.ts", 'const text = "process.exit(1) `${Date}`";'],
    ["src/nesting/nest.ts", "const text = `console ${`Date ${1} Date`} process`;"],
    ["src/nesting/nest.ts", "const digits = /[/'\"]console/g.test(x);"],
  ])("%s: %s", (path, line) => {
    expect(layerFaults(new Map(SOURCES).set(path, `${SOURCES.get(path)}\n${line}\n`))).toEqual([]);
  });
});

describe("reading imports", () => {
  it.each([
    ['import a from "x";', [["x", false]]],
    ["import * as a from 'x';", [["x", false]]],
    ['import "x";', [["x", false]]],
    ['import a, { type B } from "x";', [["x", false]]],
    ['import { type B } from "x";', [["x", false]]],
    ['import type { B } from "x";', [["x", true]]],
    ['import type B from "x";', [["x", true]]],
    ['import type * as b from "x";', [["x", true]]],
    ['import type from "x";', [["x", false]]],
    ['export { a } from "x";', [["x", false]]],
    ['export * as a from "x";', [["x", false]]],
    ['export type { B } from "x";', [["x", true]]],
    [
      'import { a } from "x"; import type { B } from "y";',
      [
        ["x", false],
        ["y", true],
      ],
    ],
    ["const a = import(`x`);", [["x", false]]],
    ["const a = import(`${x}`);", [["", false]]],
    ['export const from = "x";', []],
    ['export function a(from: string, to = "x"): void {}', []],
    ['// import a from "x";', []],
  ])("%s", (line, wanted) => {
    const found = importsOf(`const before = 1;\n${line}\n`);
    expect(found.map(({ from, typeOnly }) => [from, typeOnly])).toEqual(wanted);
  });

  it("keeps every line of code where it was", () => {
    for (const source of SOURCES.values()) {
      const code = codeOf(source);
      expect(code.length).toBe(source.length);
      expect(code.split("\n").length).toBe(source.split("\n").length);
    }
  });
});

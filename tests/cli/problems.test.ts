import { describe, expect, it } from "vitest";
import { contents, folder } from "../files/folder.ts";
import { PARTS_HEADER } from "../job/texts.ts";
import { ran, SMALL_FILES } from "./shell.ts";

const TAKES_JOB = [["quote"], ["nest"], ["sheets"], ["time"], ["check"], ["explain", "quote.net"]];

/** A command with its job and tables, and what else it takes. */
function args(
  path: string,
  [command = "", ...rest]: readonly string[],
  ...more: string[]
): string[] {
  return [command, `${path}/job`, ...rest, "--tables", `${path}/price-tables`, ...more];
}

function withRow(row: string): Readonly<Record<string, string>> {
  return { ...SMALL_FILES, "job/parts.csv": `${SMALL_FILES["job/parts.csv"]}\n${row}\n` };
}

const FAULTY = withRow("fin,two,birch plywood,3;2,,disc,,,40,,,,,,");

describe("input with errors ends with 3", () => {
  it.each(TAKES_JOB)("%s says file, line and column of each", async (...command) => {
    const path = await folder(FAULTY);
    const { exit, out, err } = await ran(args(path, command));
    const [said, silent] = command[0] === "check" ? [out, err] : [err, out];
    expect(exit).toBe(3);
    expect(silent).toBe("");
    expect(said).toMatch(/^error: parts\.csv, line 6, qty: read "two", expected .*\.$/m);
    expect(said).toMatch(/^error: parts\.csv, line 6, thickness: read "3;2", expected .*\.$/m);
  });

  it.each(TAKES_JOB)("%s --json answers in one document", async (...command) => {
    const path = await folder(FAULTY);
    const { exit, out } = await ran(args(path, command, "--json"));
    expect(exit).toBe(3);
    expect(JSON.parse(out)).toMatchObject({
      version: 1,
      problems: expect.arrayContaining([
        expect.objectContaining({
          severity: "error",
          file: "parts.csv",
          line: 6,
          column: "qty",
          found: "two",
          code: expect.stringMatching(/^[a-z-]+$/),
        }),
      ]),
    });
  });

  it("writes nothing", async () => {
    const path = await folder(FAULTY);
    const before = await contents(path);
    await ran(args(path, ["quote"]));
    await ran(args(path, ["quote"], "--out", `${path}/elsewhere`));
    expect(await contents(path)).toEqual(before);
  });

  it("also for a job that is not there", async () => {
    const { exit, out, err } = await ran(["nest", "demo-data/no-such-job"]);
    expect([exit, out]).toEqual([3, ""]);
    expect(err).toContain("demo-data/no-such-job");
  });
});

describe("check", () => {
  it("finds nothing in a sound job", async () => {
    const path = await folder(SMALL_FILES);
    const { exit, out, err } = await ran(args(path, ["check"]));
    expect({ exit, out, err }).toEqual({ exit: 0, out: "0 errors, 0 warnings.\n", err: "" });
    const json = await ran(args(path, ["check"], "--json"));
    expect(JSON.parse(json.out)).toEqual({ version: 1, problems: [] });
  });
});

describe("warnings", () => {
  const WARNED = {
    ...SMALL_FILES,
    "job/parts.csv": `${PARTS_HEADER},colour\nfin,2,birch plywood,4,,disc,,,40,,,,,,,red\n`,
    "job/hardware.csv": "item,qty,per,part,hole diameter,note\nm5-bolt,1,piece,,,\n",
  };

  it("stand beside the answer and stop nothing", async () => {
    const path = await folder(WARNED);
    const { exit, out, err } = await ran(args(path, ["nest"], "--json", "--steps", "1"));
    expect(exit).toBe(0);
    expect(err).toMatch(/^warning: parts\.csv, .*colour/m);
    expect(err).not.toContain("error");
    expect(JSON.parse(out)).toMatchObject({ version: 1, unplaced: [] });
  });
});

describe("parts that no sheet takes end with 4", () => {
  const DOOR = withRow("door,2,birch plywood,4,,rectangle,900,390,,,,any,,,");

  it("nest names them and still shows the rest", async () => {
    const path = await folder(DOOR);
    const { exit, out } = await ran(args(path, ["nest"], "--json", "--steps", "1"));
    const document: { unplaced: object[]; sheets: { placements: object[] }[] } = JSON.parse(out);
    expect(exit).toBe(4);
    expect(document.unplaced).toEqual([expect.objectContaining({ part: "door", copies: 6 })]);
    expect(document.sheets.flatMap(({ placements }) => placements)).toHaveLength(42);
    const text = await ran(args(path, ["nest"], "--steps", "1"));
    expect(text.exit).toBe(4);
    expect(text.out).toContain("door");
  });

  it.each([["quote"], ["time"], ["explain", "quote.net"]])(
    "%s gives no price or time for less",
    async (...command) => {
      const path = await folder(DOOR);
      const before = await contents(path);
      const { exit, out, err } = await ran(args(path, command, "--steps", "1"));
      expect([exit, out]).toEqual([4, ""]);
      expect(err).toMatch(/^error: parts\.csv, line 6, part: read "door, 6 copies/m);
      const json = await ran(args(path, command, "--steps", "1", "--json"));
      expect(json.exit).toBe(4);
      expect(JSON.parse(json.out)).toMatchObject({
        version: 1,
        problems: [expect.objectContaining({ code: "does-not-fit", line: 6 })],
      });
      expect(await contents(path)).toEqual(before);
    },
  );

  it("check says of it what quote says, and ends as it does", async () => {
    const path = await folder(DOOR);
    const checked = await ran(args(path, ["check"]));
    const quoted = await ran(args(path, ["quote"]));
    expect([checked.exit, checked.err]).toEqual([4, ""]);
    const [error = "", count] = checked.out.split("\n");
    expect(error).toMatch(/^error: parts\.csv, line 6, part: read "door, 6 copies/);
    expect(count).toBe("1 error, 0 warnings.");
    expect(quoted.err).toContain(error);
  });

  it("with another error beside it, the error comes first", async () => {
    const both = `${DOOR["job/parts.csv"]}fin,two,birch plywood,4,,disc,,,40,,,,,,\n`;
    const path = await folder({ ...DOOR, "job/parts.csv": both });
    expect((await ran(args(path, ["quote"]))).exit).toBe(3);
  });
});

describe("a fault of ours ends with 1", () => {
  it("and says so", async () => {
    const { run } = await import("../../src/cli/run.ts");
    let err = "";
    const exit = await run(["--help"], {
      out: () => {
        throw new TypeError("planted");
      },
      err: (text) => {
        err += text;
      },
      terminal: { stdin: false, stdout: false, stderr: false },
      now: () => 0,
      breathe: async () => Promise.resolve(),
      aide: () => null,
      today: () => "2026-11-26",
      onSignal: () => () => undefined,
    });
    expect(exit).toBe(1);
    expect(err).toMatch(/fault in tallywright/);
    expect(err).toContain("planted");
  });
});

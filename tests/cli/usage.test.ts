import { describe, expect, it } from "vitest";
import { parseCommand } from "../../src/cli/parse.ts";
import { folder } from "../files/folder.ts";
import { ran, SMALL_FILES } from "./shell.ts";

const COMMANDS = [
  "quote",
  "nest",
  "sheets",
  "time",
  "fit",
  "check",
  "explain",
  "differences",
  "lots",
];
const UNTIMED = new Set(["check", "fit"]);
const JOB = "demo-data/marsh-birds";

describe("help", () => {
  it.each(
    COMMANDS.flatMap((command) => [
      [command, "--help"],
      [command, "-h"],
      [command, JOB, "--help"],
      ["help", command],
    ]),
  )("%s %s", async (...args) => {
    const { exit, out, err } = await ran(args);
    const command = args[0] === "help" ? args[1] : args[0];
    expect(exit).toBe(0);
    expect(out.startsWith(`tallywright ${command} <job>`)).toBe(true);
    expect(out).toMatch(/^Exit: 0 done, 1 .* 2 .* 3 .*\n4 .* by signal/m);
    expect(Math.max(...out.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
    for (const option of ["--json", "--seed", "--tables"]) expect(out).toContain(option);
    expect(out.includes("--steps") && out.includes("--seconds")).toBe(!UNTIMED.has(command ?? ""));
    expect(err).toBe("");
  });

  it.each(COMMANDS)("of %s shows a command line that the program takes", async (command) => {
    const { out } = await ran([command, "--help"]);
    const words = /^Example: tallywright (.+)$/m.exec(out)?.[1]?.split(" ") ?? [];
    expect(words.slice(0, 2)).toEqual([command, JOB]);
    expect((await parseCommand(words)).kind).toBe("command");
  });

  it.each([["--help"], ["-h"], ["help"]])(
    "%s names every command, with an example",
    async (...args) => {
      const { exit, out, err } = await ran(args);
      expect(exit).toBe(0);
      expect(out.startsWith("tallywright <command> <job>")).toBe(true);
      for (const command of COMMANDS) expect(out).toContain(`tallywright ${command} <job>`);
      expect(out).toContain("tallywright quote demo-data/marsh-birds");
      expect(err).toBe("");
    },
  );

  it("tells the version", async () => {
    expect(await ran(["--version"])).toMatchObject({
      exit: 0,
      out: expect.stringMatching(/^\d+\.\d+\.\d+\n/),
      err: "",
    });
  });
});

describe("wrong usage ends with 2, says what is wrong on stderr and does nothing", () => {
  it.each<readonly [readonly string[], RegExp]>([
    [["quoet", JOB], /did you mean quote\?/],
    [["lots", JOB, "--pieces", "1,x"], /--pieces takes up to 12 whole numbers with commas between/],
    [["lots", JOB, "--pieces", "0"], /--pieces takes up to 12 whole numbers/],
    [["nset", JOB], /did you mean nest\?/],
    [["quote"], /needs a JOB/],
    [["explain", "--figure", "quote.net", JOB], /no option --figure: write the figure itself/],
    [["quote", JOB, JOB], /"demo-data\/marsh-birds" is a word too many/],
    [["quote", JOB, "--stpes", "3"], /no option --stpes; did you mean --steps\?/],
    [["quote", JOB, "--SEED=3"], /no option --SEED=3; did you mean --seed\?/],
    [["nest", JOB, "--frobnicate"], /no option --frobnicate\n/],
    [["nest", JOB, "-json"], /no option -json; did you mean --json\?/],
    [["nest", JOB, "-x"], /no option -x\n/],
    [["nest", JOB, "--json=5"], /--json takes no value/],
    [["nest", JOB, "--json=false"], /--json takes no value/],
    [["nest", JOB, "--no-json"], /no option --no-json/],
    [["nest", JOB, "--json.x"], /no option --json\.x/],
    [["nest", JOB, "--seed", "1", "--seed=2"], /--seed is given twice/],
    [["quote", JOB, "--out", "a", "--out", "a"], /--out is given twice/],
    [["nest", JOB, "--job", "x"], /no option --job: write the job itself/],
    [["nest", JOB, "--", "--json"], /-- has no use here/],
    [["check", JOB, "--steps", "1"], /takes no --steps/],
    [["nest", JOB, "--out", "x"], /takes no --out/],
    [["nest", JOB, "--steps", "abc"], /--steps takes a whole number .*"abc"/],
    [["nest", JOB, "--steps", "0"], /--steps takes/],
    [["nest", JOB, "--steps", "1e3"], /--steps takes/],
    [["nest", JOB, "--steps", "2.5"], /--steps takes/],
    [["nest", JOB, "--steps"], /steps/],
    [["nest", JOB, "--seconds", "-1"], /--seconds takes a number of seconds .*"-1"/],
    [["nest", JOB, "--seconds", "soon"], /--seconds takes/],
    [["nest", JOB, "--seed", "1.5"], /--seed takes a whole number .*"1.5"/],
    [["nest", JOB, "--seed", "-3"], /--seed takes/],
    [["nest", JOB, "--seed", "0x10"], /--seed takes/],
    [["nest", JOB, "--seed", "99999999999999999999"], /--seed takes .* at most 9 digits/],
    [["nest", JOB, "--seconds", "1e9"], /--seconds takes/],
    [["nest", JOB, "--seconds", "Infinity"], /--seconds takes/],
    [["quote", JOB, "--out"], /--out needs a value/],
    [["quote", JOB, "--out", "--json"], /--out needs a value/],
    [["quote", JOB, "--out="], /out is empty/],
    [["nest", JOB, "--steps", "1", "--seconds", "1"], /exclude each other/],
    [["quote", JOB, "--out", ""], /out is empty/],
    [["nest", JOB, "--tables", ""], /tables is empty/],
    [["nest", ""], /job is empty/],
    [["price", JOB], /"price" is neither a command nor a job on this disk\n/],
    [["quoet", JOB, "--out", "x"], /did you mean quote\?/],
    [["--json", "quoet"], /did you mean quote\?/],
    [["help", "quoet"], /did you mean quote\?/],
    [["no-such-job"], /neither a command nor a job/],
    [[JOB, JOB], /one job at a time/],
    [[JOB, "--steps", "abc"], /--steps takes/],
  ])("%j", async (args, wanted) => {
    const { exit, out, err } = await ran(args);
    expect(exit).toBe(2);
    expect(out).toBe("");
    expect(err).toMatch(wanted);
    expect(err.split("\n").length).toBeLessThan(6);
  });

  it.each([[[]], [[JOB]]])(
    "%j without a terminal: names a command, starts no screen",
    async (args) => {
      const { exit, out, err } = await ran(args);
      expect([exit, out]).toEqual([2, ""]);
      expect(err).toContain(`tallywright quote ${args[0] ?? "JOB"}`);
    },
  );

  it("a figure that is not there: the nearest, and those with that in their name", async () => {
    const path = await folder(SMALL_FILES);
    const asked = async (figure: string): Promise<Awaited<ReturnType<typeof ran>>> =>
      ran(["explain", `${path}/job`, figure, "--tables", `${path}/price-tables`, "--steps", "1"]);
    const near = await asked("quote.nett");
    expect([near.exit, near.out]).toEqual([2, ""]);
    expect(near.err).toMatch(/no figure "quote\.nett"; did you mean quote\.net\?/);
    const part = await asked("overhead");
    expect([part.exit, part.out]).toEqual([2, ""]);
    expect(part.err).toContain("  cost.overhead\n  cost.with-overhead\n");
    const many = await asked("e");
    expect(many.err).toMatch(/^ {2}and \d+ more/m);
    const none = await asked("zzz");
    expect([none.exit, none.out]).toEqual([2, ""]);
    expect(none.err).toContain("costing.csv");
  });
});

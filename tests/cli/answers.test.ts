import { symlink, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { outputFiles } from "../../src/exports/output-files.ts";
import { contents, folder } from "../files/folder.ts";
import { estimated, SMALL } from "../helpers/job.ts";
import { TABLES } from "../job/texts.ts";
import { ran, SMALL_FILES } from "./shell.ts";
import type { Ran, World } from "./shell.ts";

async function small(changed: Readonly<Record<string, string>> = {}): Promise<string> {
  return folder({ ...SMALL_FILES, ...changed });
}

function at(path: string, command: readonly string[], ...more: readonly string[]): string[] {
  const [name = "", ...rest] = command;
  return [name, `${path}/job`, ...rest, "--tables", `${path}/price-tables`, ...more];
}

const COMMANDS = [["quote"], ["nest"], ["sheets"], ["time"], ["explain", "quote.net"]];

describe("results go to stdout, the rest to stderr", () => {
  it.each(COMMANDS)("%s", async (...command) => {
    const path = await small();
    const text = await ran(at(path, command, "--steps", "1"));
    expect([text.exit, text.err]).toEqual([0, ""]);
    expect(text.out.length).toBeGreaterThan(100);
    expect(text.out.endsWith("\n")).toBe(true);
    const json = await ran(at(path, command, "--steps", "1", "--json"));
    expect([json.exit, json.err]).toEqual([0, ""]);
    expect(JSON.parse(json.out)).toMatchObject({ version: 1 });
  });

  it.each(COMMANDS)(
    "%s shows progress on a terminal only, and wipes it away",
    async (...command) => {
      const path = await small();
      const plain = await ran(at(path, command, "--steps", "2"), { tickMs: 400 });
      const shown = await ran(at(path, command, "--steps", "2"), { tickMs: 400, terminal: true });
      expect(plain.err).toBe("");
      expect(shown.err).toMatch(/nesting birch plywood 4 mm/);
      expect(shown.err.endsWith("\r\u001B[K")).toBe(true);
      expect(shown.out).toBe(plain.out);
    },
  );

  it("has no control characters in what a pipe reads", async () => {
    const path = await small();
    for (const command of COMMANDS) {
      const { out } = await ran(at(path, command, "--steps", "1"));
      expect(out.replaceAll("\n", "")).not.toMatch(/\p{Cc}/u);
    }
  });
});

describe("the same input, seed and steps", () => {
  it.each(COMMANDS)("%s says the same, byte for byte", async (...command) => {
    const path = await small();
    for (const form of [[], ["--json"]]) {
      const again = async (): Promise<Ran> =>
        ran(at(path, command, "--steps", "3", "--seed", "7", ...form));
      expect(await again()).toEqual(await again());
    }
  });

  it("are recorded in the answer", async () => {
    const path = await small();
    const { out } = await ran(at(path, ["nest"], "--steps", "3", "--seed", "7", "--json"));
    expect(JSON.parse(out)).toMatchObject({ figures: { steps: 3, seed: 7 } });
  });

  it("are repeated by --steps with the number that --seconds made", async () => {
    const path = await small();
    const timed: World = { tickMs: 4 };
    const first = await ran(at(path, ["nest"], "--seconds", "1", "--json"), timed);
    const { figures }: { figures: { steps: number } } = JSON.parse(first.out);
    expect(first.exit).toBe(0);
    expect(figures.steps).toBeGreaterThan(1);
    expect(figures.steps).toBeLessThan(200);
    const again = await ran(at(path, ["nest"], "--steps", String(figures.steps), "--json"));
    expect(again.out).toBe(first.out);
    const none = await ran(at(path, ["nest"], "--seconds", "0", "--json"), timed);
    expect(JSON.parse(none.out)).toMatchObject({ unplaced: [], figures: { steps: 1 } });
  });
});

describe("quote", () => {
  it("writes every file it names, and the same ones again", async () => {
    const path = await small();
    const args = at(path, ["quote"], "--out", `${path}/out`, "--steps", "1");
    const first = await ran(args);
    const written = await contents(`${path}/out`);
    const wanted = outputFiles(estimated({ ...SMALL, jobName: "job" }));
    expect(first.exit).toBe(0);
    expect(Object.keys(written).toSorted()).toEqual(wanted.map(({ name }) => name).toSorted());
    for (const { name, content } of wanted)
      expect(withoutHashes(written[name])).toBe(withoutHashes(Buffer.from(content).toString()));
    for (const name of ["quote.csv", "costing.csv", "shopping.csv", "cutlist.csv"])
      expect(first.out).toContain(name);
    expect((await ran(args)).out).toBe(first.out);
    expect(await contents(`${path}/out`)).toEqual(written);
  });

  it("keeps what an earlier quote wrote when the job has changed", async () => {
    const path = await small();
    const args = at(path, ["quote"], "--out", `${path}/out`, "--steps", "1");
    await ran(args);
    const before = await contents(`${path}/out`);
    const more = (SMALL_FILES["job/job.yaml"] ?? "").replace("pieces: 3", "pieces: 4");
    await writeFile(`${path}/job/job.yaml`, more);
    const second = await ran(args);
    const after = await contents(`${path}/out`);
    expect(second.exit).toBe(0);
    expect(after["quote.csv"]).not.toBe(before["quote.csv"]);
    for (const [name, text] of Object.entries(before))
      expect(after[`earlier/001/${name}`]).toBe(text);
    const count = Object.keys(before).length;
    expect(second.err).toMatch(
      new RegExp(
        `^note: the ${count} files that were there before, \\d+ of them .* kept in .*/001\\n$`,
      ),
    );
    expect(second.err).toContain(`${path}/out/earlier/001`);
    await writeFile(`${path}/job/job.yaml`, SMALL_FILES["job/job.yaml"] ?? "");
    const third = await ran([...args, "--json"]);
    expect(JSON.parse(third.out)).toMatchObject({
      written: { earlier: { folder: "earlier/002", files: Object.keys(after).filter(isInPlace) } },
    });
  });

  it.each(["job", "job/", "job/drawings", "job/tables", "price-tables", "linked"])(
    "does not write among what it reads: --out %s",
    async (out) => {
      const path = await small({ "job/drawings/a.svg": "<svg/>" });
      await symlink(`${path}/job`, `${path}/linked`);
      const before = await contents(path);
      const { exit, out: said, err } = await ran(at(path, ["quote"], "--out", `${path}/${out}`));
      expect([exit, said]).toEqual([2, ""]);
      expect(err).toMatch(/^error: --out .* is .* Take .*\/job\/quote or a folder of its own/);
      expect(await contents(path)).toEqual(before);
    },
  );

  it.each(["job/tables", "job/drawings"])(
    "keeps free what a job is to have: --out %s before there is one",
    async (out) => {
      const path = await small();
      const { exit, err } = await ran(at(path, ["quote"], "--out", `${path}/${out}`));
      expect(exit).toBe(2);
      expect(err).toContain("a folder that belongs to the job");
    },
  );

  it("writes anywhere else in the job folder, and does not read it back", async () => {
    const path = await small();
    for (const out of ["job/quote", "job/offers/first", "job/drawings/offer", "."]) {
      const args = at(path, ["quote"], "--out", `${path}/${out}`, "--steps", "1");
      expect(await ran(args)).toMatchObject({ exit: 0, err: "" });
    }
    expect(await ran(at(path, ["check"]))).toMatchObject({ out: "0 errors, 0 warnings.\n" });
  });

  it("writes beside the job unless it is told where", async () => {
    const path = await small();
    await ran(at(path, ["quote"], "--steps", "1"));
    expect(Object.keys(await contents(`${path}/job/quote`))).toContain("quote.csv");
    const before = await contents(`${path}/job`);
    // Its own files are no part of the job when it is read again.
    expect((await ran(at(path, ["quote"], "--steps", "1"))).exit).toBe(0);
    expect(await contents(`${path}/job`)).toEqual(before);
  });

  it("--json is the estimate and what was written, without outlines", async () => {
    const path = await small();
    const { out } = await ran(
      at(path, ["quote"], "--out", `${path}/out`, "--steps", "1", "--json"),
    );
    const document: Record<string, unknown> = JSON.parse(out);
    expect(document).toMatchObject({
      version: 1,
      pieces: 3,
      currency: { code: "EUR", minorDigits: 2 },
      written: { dir: `${path}/out`, files: expect.arrayContaining(["quote.csv"]) },
    });
    expect(out).not.toMatch(/"geometry"|"outline"|"order"/);
  });

  it("says which folder it can not write, with 3", async () => {
    const path = await small({ blocked: "a file, no folder" });
    const args = at(path, ["quote"], "--out", `${path}/blocked`, "--steps", "1");
    const { exit, err } = await ran(args);
    expect(exit).toBe(3);
    expect(err).toContain("blocked");
    const json = await ran([...args, "--json"]);
    expect(JSON.parse(json.out)).toMatchObject({ problems: [{ code: "system-eexist" }] });
  });

  it("looks at the folder before the long work", async () => {
    const path = await small({ blocked: "a file, no folder" });
    const args = at(path, ["quote"], "--out", `${path}/blocked/x`, "--steps", "999999");
    expect(await ran(args)).toMatchObject({ exit: 3, out: "" });
  });
});

describe("fit", () => {
  it("writes combs into a folder of the job again and again, and says what they replace", async () => {
    const path = await folder({
      "job/parts.csv":
        "part,qty,material,thickness,shape,width,height\na,3,acrylic cast,3,rectangle,100,50\n",
    });
    const args = ["fit", `${path}/job`, "--out", `${path}/job/trial`];
    const first = await ran(args);
    expect([first.exit, first.err]).toEqual([0, ""]);
    expect(await ran(args)).toEqual(first);
    const [comb = ""] = Object.keys(await contents(`${path}/job/trial`));
    expect(comb).toMatch(/^combs\/01-/);
    await writeFile(`${path}/job/trial/${comb}`, "edited");
    const json = await ran([...args, "--json"]);
    expect(json.err).toMatch(/^note: the \d+ files that were there before, 1 of them .*\/001\n$/);
    expect(JSON.parse(json.out)).toMatchObject({
      written: { earlier: { folder: "earlier/001", replaced: [comb] } },
    });
    expect(await ran(["check", `${path}/job`])).toMatchObject({ out: "0 errors, 0 warnings.\n" });
  });
});

describe("Ctrl-C", () => {
  const ENDLESS = ["--steps", "999999"];
  it.each(COMMANDS)("%s says the best so far, and ends by the signal", async (...command) => {
    const path = await small();
    const args = at(path, command, "--out", `${path}/out`).slice(
      0,
      command[0] === "quote" ? 99 : -2,
    );
    const once: World = { tickMs: 60, signals: ["SIGINT"] };
    const { exit, out, err } = await ran([...args, ...ENDLESS], once);
    expect(exit).toBe("SIGINT");
    expect(err).toBe(
      "Interrupted: finishing with the best nest so far. Press Ctrl-C again to end at once.\n",
    );
    expect(out).toBe((await ran([...args, "--steps", "1"])).out);
  });

  it.each([
    [["SIGINT", "SIGINT"], "SIGINT"],
    [["SIGTERM"], "SIGTERM"],
    [["SIGINT", "SIGHUP"], "SIGHUP"],
  ] as const)("%j ends at once", async (signals, ending) => {
    const path = await small();
    const before = await contents(path);
    const args = at(path, ["quote"], ...ENDLESS);
    const { exit, out } = await ran(args, { tickMs: 60, signals });
    expect([exit, out]).toEqual([ending, ""]);
    expect(await contents(path)).toEqual(before);
  });

  it("wipes the progress away before it says so", async () => {
    const path = await small();
    const world: World = { tickMs: 600, terminal: true, signals: ["SIGINT"] };
    const { err } = await ran(at(path, ["nest"], ...ENDLESS), world);
    expect(err).toContain("\r\u001B[KInterrupted: ");
    expect(err.endsWith("\r\u001B[K")).toBe(true);
  });
});

function isInPlace(name: string): boolean {
  return !name.startsWith("earlier/");
}

describe("explain", () => {
  it("gives the tree, and as JSON the figures under it", async () => {
    const path = await small();
    const text = await ran(at(path, ["explain", "quote.net"], "--steps", "1"));
    expect(text.out).toMatch(/\[quote\.net\]/);
    const sheet = await ran(at(path, ["explain", "sheet.birch_plywood_4.cost"], "--steps", "1"));
    expect(sheet.out).toMatch(/price-tables\/sheets\.csv, line 2, price/);
    const json = await ran(at(path, ["explain", "quote.net"], "--steps", "1", "--json"));
    const document: { figure: string; figures: { id: string }[] } = JSON.parse(json.out);
    expect(document.figure).toBe("quote.net");
    expect(document.figures.at(-1)?.id).toBe("quote.net");
    expect(document.figures.length).toBeGreaterThan(50);
  });

  it("lists every figure of a group by the beginning of their ids", async () => {
    const path = await small();
    const ids = estimated({ ...SMALL, jobName: "job" }).figures.map(({ id }) => id);
    for (const asked of ["machine", "quote", "hardware.m5-bolt", "quote."]) {
      const begun = ids.filter((id) => id.startsWith(`${asked.replace(/\.$/, "")}.`));
      expect(begun.length).toBeGreaterThan(5);
      const text = await ran(at(path, ["explain", asked], "--steps", "1"));
      const listed = [...text.out.matchAll(/^ {2}(\S+) /gm)].map(([, id]) => id);
      expect([text.exit, listed]).toEqual([0, begun]);
      const json = await ran(at(path, ["explain", asked], "--steps", "1", "--json"));
      const document: { figures: { id: string }[] } = JSON.parse(json.out);
      expect(document.figures.map(({ id }) => id)).toEqual(begun);
    }
  });

  it("lists the figures without one, and as JSON all of them", async () => {
    const path = await small();
    const text = await ran(at(path, ["explain"], "--steps", "1"));
    expect([text.exit, text.err]).toEqual([0, ""]);
    expect(text.out).toMatch(/^ {2}quote\.net +\d+ EUR {2}net total$/m);
    expect(text.out).toContain("costing.csv");
    const json = await ran(at(path, ["explain"], "--steps", "1", "--json"));
    const document: { version: number; figures: object[] } = JSON.parse(json.out);
    expect(document.version).toBe(1);
    expect(document.figures).toEqual(estimated({ ...SMALL, jobName: "job" }).figures);
  });
});

describe("nest and sheets need no more tables than sheets.csv", () => {
  it.each([["nest"], ["sheets"]])("%s", async (command) => {
    const path = await folder({
      "parts.csv":
        "part,qty,material,thickness,shape,width,height\na,3,birch plywood,4,rectangle,100,50\n",
      "tables/sheets.csv": (TABLES["sheets.csv"] ?? []).join("\n"),
    });
    // Not the job folder itself: its tables/ would be read as well.
    const { exit, out, err } = await ran([
      command,
      `${path}/parts.csv`,
      "--tables",
      `${path}/tables`,
      "--json",
      "--steps",
      "1",
    ]);
    expect([exit, err]).toEqual([0, ""]);
    expect(JSON.parse(out)).toMatchObject({ version: 1, choices: [{ sheet: "ply-4" }] });
  });
});

/** Texts of a test have no true hashes, and lie in another order than on the disk. */
function withoutHashes(text: string | undefined): string | undefined {
  return text?.replace(/"madeFrom": \[.*?\]/s, "");
}

import { mkdir, readdir, rename, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { writeOutputs } from "../../src/files/write.ts";
import { sentence } from "../../src/problem.ts";
import { contents, folder } from "./folder.ts";

/**
 * A disk that refuses: the calls that change it are counted, and from a certain one on fail, that
 * one alone (a full disk, a right withdrawn) or all after it too (the run was killed). A write that
 * fails has written half.
 */
const disk = vi.hoisted(() => ({ calls: 0, failAt: Infinity, dies: false }));

/** Waits cost no time here. */
vi.mock("node:timers/promises", () => ({ setTimeout: async () => Promise.resolve() }));

vi.mock("node:fs/promises", async (original) => {
  const real = await original<typeof import("node:fs/promises")>();
  // Without the wait for the disk itself, which no failure here depends on.
  const write = async (path: string, data: string, options?: object): Promise<void> =>
    real.writeFile(path, data, { ...options, flush: false });
  const refuse = async (name: string, [path, data]: readonly string[]): Promise<never> => {
    const isHalfDone = name === "writeFile" && path !== undefined && data !== undefined;
    if (isHalfDone) await write(path, data.slice(0, data.length / 2)).catch(() => undefined);
    throw Object.assign(new Error("planted"), { code: "ENOSPC" });
  };
  const { mkdir: make, mkdtemp, rename: move, rm, utimes } = real;
  const changing = { mkdir: make, mkdtemp, writeFile: write, rename: move, rm, utimes };
  const refusing = Object.entries(changing).map(
    ([name, call]: [string, (...args: never[]) => Promise<unknown>]) => [
      name,
      async (...args: never[]): Promise<unknown> => {
        disk.calls += 1;
        const fails = disk.dies ? disk.calls >= disk.failAt : disk.calls === disk.failAt;
        return fails ? refuse(name, args) : call(...args);
      },
    ],
  );
  return { ...real, ...Object.fromEntries(refusing) };
});

const OLD = files("old", ["quote.csv", "costing.csv", "layouts/01-a.svg", "layouts/02-a.svg"]);
const NEW = [
  ...files("new", ["quote.csv", "costing.csv", "new.csv", "layouts/01-a.svg", "layouts/01-b.svg"]),
  { name: "same.csv", content: "same" },
];
const SAME = { name: "same.csv", content: "same" };
const OLD_SET = asRecord([...OLD, SAME]);
const NEW_SET = asRecord(NEW);

function files(text: string, names: readonly string[]): { name: string; content: string }[] {
  return names.map((name) => ({ name, content: `${text} ${name}` }));
}

async function oldSet(): Promise<string> {
  disk.failAt = Infinity;
  return folder(OLD_SET);
}

/** Writes the new set over the old one on a disk that fails; gives what lies there afterwards. */
async function failing(
  failAt: number,
  dies: boolean,
): Promise<{ dir: string; wrong: boolean; lies: Readonly<Record<string, string>> }> {
  const dir = await oldSet();
  Object.assign(disk, { calls: 0, failAt, dies });
  const { problems } = await writeOutputs(dir, NEW);
  const wrong = problems.length > 0;
  Object.assign(disk, { failAt: Infinity, dies: false });
  return { dir, wrong, lies: await contents(dir) };
}

function inPlace(lies: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(lies).filter(([name]) => !/^(earlier|\.writing)/.test(name)),
  );
}

function asRecord(set: readonly { name: string; content: string }[]): Record<string, string> {
  return Object.fromEntries(set.map(({ name, content }) => [name, content]));
}

/** Of each folder earlier/NNN: its files by their names inside it. */
function earlierSets(
  lies: Readonly<Record<string, string>>,
): readonly Readonly<Record<string, string>>[] {
  const sets = new Map<string, Record<string, string>>();
  for (const [name, text] of Object.entries(lies)) {
    const [, number, rest] = /^earlier\/(\d+)\/(.+)$/.exec(name) ?? [];
    if (number === undefined || rest === undefined) continue;
    sets.set(number, { ...sets.get(number), [rest]: text });
  }
  return [...sets.values()];
}

async function callsInAll(): Promise<number> {
  await failing(Infinity, false);
  return disk.calls;
}

describe("when the disk refuses one call, whichever", () => {
  it("the old set or the new one is in place, whole, and no other", async () => {
    const calls = await callsInAll();
    expect(calls).toBeGreaterThan(25);
    let refused = 0;
    for (let failAt = 1; failAt <= calls; failAt += 1) {
      const { wrong, lies } = await failing(failAt, false);
      expect(inPlace(lies)).toEqual(wrong ? OLD_SET : NEW_SET);
      for (const set of earlierSets(lies)) expect(set).toEqual(OLD_SET);
      expect(wrong || earlierSets(lies).length === 1).toBe(true);
      refused += wrong ? 1 : 0;
    }
    expect(refused).toBeGreaterThan(20);
  });
});

describe("when the run dies at a call, whichever", () => {
  it("nothing is lost or half written, and the next run puts it in order", async () => {
    const calls = await callsInAll();
    let between = 0;
    for (let failAt = 1; failAt <= calls; failAt += 1) {
      const { dir, lies } = await failing(failAt, true);
      const texts = new Set(Object.values(lies));
      for (const text of Object.values(OLD_SET)) expect(texts).toContain(text);
      for (const [name, text] of Object.entries(inPlace(lies)))
        expect([OLD_SET[name], NEW_SET[name]]).toContain(text);
      for (const set of earlierSets(lies)) expect(set).toEqual(OLD_SET);
      const isMixed =
        String(Object.entries(inPlace(lies))) !== String(Object.entries(OLD_SET)) &&
        earlierSets(lies).length === 1;
      between += isMixed ? 1 : 0;
      await killOwner(dir);
      const again = await writeOutputs(dir, NEW);
      expect(again.problems).toEqual([]);
      expect(inPlace(await contents(dir))).toEqual(NEW_SET);
      await writeOutputs(dir, [...NEW, { name: "more.csv", content: "more" }]);
      const after = await contents(dir);
      expect(Object.keys(after).filter((name) => name.startsWith(".writing"))).toEqual([]);
    }
    // Some of them died between the first file that came to its place and the last.
    expect(between).toBeGreaterThan(3);
  });
});

describe("a folder that another run writes into", () => {
  it("is left alone, with the folder to delete should there be none", async () => {
    const dir = await oldSet();
    await mkdir(join(dir, ".writing"));
    await writeFile(join(dir, ".writing", "another-machine-7"), "");
    const { problems, written } = await writeOutputs(dir, NEW);
    expect(problems.map(({ code, file }) => [code, file])).toEqual([["system-erunning", dir]]);
    expect(sentence(problems[0]!)).toContain("delete the folder .writing");
    expect(written).toEqual([]);
    expect(inPlace(await contents(dir))).toEqual(OLD_SET);
    expect((await readdir(dir)).filter((name) => name.startsWith(".writing-"))).toEqual([]);
    // The same set again needs no writing, so that nobody has to wait for it.
    expect((await writeOutputs(dir, [...OLD, SAME])).problems).toEqual([]);
  });
});

/** Process ids end at 2^22 on Linux: this one is nobody's. */
const DEAD = `${encodeURIComponent(hostname())}-${2 ** 22 + 1}`;

/** What was left behind bears the name of this very process, which lives: give it another. */
async function killOwner(dir: string): Promise<void> {
  const me = `${encodeURIComponent(hostname())}-${process.pid}`;
  const left = (await readdir(dir)).filter((name) => name.startsWith(`.writing-${me}`));
  for (const name of left) await rename(join(dir, name), join(dir, name.replace(me, DEAD)));
  await rename(join(dir, ".writing", me), join(dir, ".writing", DEAD)).catch(() => undefined);
}

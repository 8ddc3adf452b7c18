import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readIntake } from "../../src/job/intake.ts";
import { isError, sentence } from "../../src/problem.ts";
import { pageFrom, textsOf } from "./malformed/pages.ts";
import type { Page, Slip } from "./malformed/pages.ts";
import { tables } from "./texts.ts";

/**
 * Inputs as people get them wrong, each with the sentences it gets, word for word: the files in
 * `malformed/` are for reading. `GOLDEN_UPDATE=1` writes the sentences anew; read every one that
 * changes as somebody would who has to mend that file.
 */

function pageOf(name: string): Page & { readonly name: string; readonly path: string } {
  const path = fileURLToPath(new URL(`malformed/${name}.txt`, import.meta.url));
  return { name, path, ...pageFrom(readFileSync(path, "utf8")) };
}

function said(slip: Slip): {
  readonly stopped: boolean;
  readonly sentences: readonly string[];
} {
  const job = textsOf(slip);
  const { value, problems } = readIntake({ jobName: "gate", job, tables: tables() }, "quote");
  expect(value === null).toBe(problems.some(isError));
  return { stopped: value === null, sentences: problems.map(sentence) };
}

function pageText({ intro, slips }: Page): string {
  const blocks = slips.map((slip) => {
    const files = slip.files.map(([name, lines]) => `--- ${name}\n${lines}\n`).join("");
    return `=== ${slip.name}\n${files}${said(slip)
      .sentences.map((one) => `> ${one}\n`)
      .join("")}`;
  });
  return `${intro}${blocks.join("\n")}`;
}

const NAMES = ["lists", "job-file", "tables"];

if (process.env["GOLDEN_UPDATE"] === "1")
  for (const page of NAMES.map(pageOf)) writeFileSync(page.path, pageText(page));

const PAGES = NAMES.map(pageOf);

for (const { name, slips } of PAGES)
  describe(`slips in ${name}`, () => {
    it.each(slips)("$name", (slip) => {
      const { sentences } = said(slip);
      expect(sentences.length).toBeGreaterThan(0);
      expect(sentences).toEqual(slip.sentences);
    });
  });

describe("the sentences", () => {
  const all = PAGES.flatMap(({ slips }) => slips.flatMap(({ sentences }) => sentences));

  it("are for 85 slips and more, each told once", () => {
    const slips = PAGES.flatMap((page) => page.slips);
    expect(slips.length).toBeGreaterThanOrEqual(85);
    expect(new Set(slips.map(({ name }) => name)).size).toBe(slips.length);
    expect(all.length).toBeGreaterThanOrEqual(150);
  });

  it.each(all.map((one) => [one]))(
    "say where, what was read, what was wanted and what to do: %s",
    (one) => {
      expect(one).toMatch(
        /^[\w/.-]+(, line \d+)?(, [^:]+)?: read (nothing|".*"), expected .+\. [A-Z].*\.$/,
      );
      expect(one).not.toMatch(/undefined|null|NaN|\[object|\bInfinity\b| {2}|\.\.$/);
      expect(one.length).toBeLessThan(420);
    },
  );

  it("stop an estimate unless they are notes", () => {
    const notes = PAGES.flatMap(({ slips }) => slips.filter((slip) => !said(slip).stopped));
    expect(notes.map(({ name }) => name)).toEqual([
      "parts: columns and cells that nothing reads",
      "hand work: no tasks",
      "a list under another name",
      "a machine that is wanted on the same day",
      "a machine that is wanted later than it is ready",
      "sheets: prices that hold only later",
      "sheets: an id that is a slip away from another",
      "a table under another name",
    ]);
  });
});

import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { readIntake } from "../../src/job/intake.ts";
import type { SourceText } from "../../src/job/types.ts";
import { isError, sentence } from "../../src/problem.ts";
import { tables, text } from "./texts.ts";

/**
 * Inputs as people get them wrong, each with the sentences it gets, word for word: the files in
 * `malformed/` are for reading. `GOLDEN_UPDATE=1` writes the sentences anew; read every one that
 * changes as somebody would who has to mend that file.
 */

interface Slip {
  readonly name: string;
  /** As they stand in the file: name and lines. */
  readonly files: readonly (readonly [name: string, lines: string])[];
  readonly sentences: readonly string[];
}

const SOUND = "part,qty,material,thickness,shape,diameter\nplate,1,card,1,disc,90";

interface Page {
  readonly name: string;
  readonly path: string;
  readonly intro: string;
  readonly slips: readonly Slip[];
}

function pageOf(name: string): Page {
  const path = fileURLToPath(new URL(`malformed/${name}.txt`, import.meta.url));
  const [intro = "", ...blocks] = readFileSync(path, "utf8").split(/^=== /m);
  return { name, path, intro, slips: blocks.map(slipOf) };
}

function slipOf(block: string): Slip {
  const [name = "", ...lines] = block.trimEnd().split("\n");
  const sentences = lines.filter((line) => line.startsWith("> ")).map((line) => line.slice(2));
  const files = lines
    .filter((line) => !line.startsWith("> "))
    .join("\n")
    .split(/^--- /m)
    .slice(1)
    .map((file): [string, string] => {
      const [fileName = "", ...body] = file.split("\n");
      return [fileName, body.join("\n").trimEnd()];
    });
  return { name, files, sentences };
}

function said({ files }: Slip): {
  readonly stopped: boolean;
  readonly sentences: readonly string[];
} {
  const given = files.map(([name, lines]) => text(name, plain(lines)));
  const hasList = given.some(({ name }) => name === "parts.csv");
  const job: readonly SourceText[] = hasList ? given : [text("parts.csv", SOUND), ...given];
  const { value, problems } = readIntake({ jobName: "gate", job, tables: tables() }, "quote");
  expect(value === null).toBe(problems.some(isError));
  return { stopped: value === null, sentences: problems.map(sentence) };
}

/** `\t` and `\uFF11` stand for themselves, so that the page can be read. */
function plain(lines: string): string {
  return lines
    .replaceAll(String.raw`\t`, "\t")
    .replace(/\\u([0-9A-F]{4})/g, (_, code: string) =>
      String.fromCodePoint(Number.parseInt(code, 16)),
    );
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
      "sheets: prices that hold only later",
      "sheets: an id that is a slip away from another",
      "a table under another name",
    ]);
  });
});

import { createHash } from "node:crypto";
import { chmod, mkdir, symlink, truncate, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/files/decode.ts";
import { builtInTables, readJobFolder, readTableFolder } from "../../src/files/read.ts";
import { readIntake } from "../../src/job/intake.ts";
import { readJob } from "../../src/job/job.ts";
import { sentence } from "../../src/problem.ts";
import { parts } from "../job/texts.ts";
import { folder } from "./folder.ts";

const LIST = parts().text;

describe("a job folder", () => {
  it("gives its CSV, YAML, SVG and DXF files, by name", async () => {
    const path = await folder({
      "parts.csv": LIST,
      "job.yaml": "title: x",
      "drawings/Z.svg": "<svg/>",
      "drawings/a.DXF": "0",
      "tables/sheets.csv": "id",
      "photo.png": "x",
      "README.md": "x",
      "node_modules/x/y.csv": "x",
      ".git/z.csv": "x",
      ".hidden.csv": "x",
      "quote/shopping.csv": "x",
      "out/quote.csv": "x",
      "out/layouts/01.svg": "x",
      "drawings/quote/q.svg": "x",
    });
    const { value, problems } = await readJobFolder(path);
    expect(problems).toEqual([]);
    expect(value?.jobName).toBe(basename(path));
    expect(value?.texts.map(({ name }) => name)).toEqual([
      "drawings/Z.svg",
      "drawings/a.DXF",
      "drawings/quote/q.svg",
      "job.yaml",
      "parts.csv",
      "tables/sheets.csv",
    ]);
  });

  it("may be named by its parts.csv; a lone list is read alone", async () => {
    const path = await folder({ "parts.csv": LIST, "order-12.csv": LIST, "a.svg": "<svg/>" });
    const whole = await readJobFolder(join(path, "parts.csv"));
    expect(whole.value).toEqual((await readJobFolder(path)).value);
    const lone = await readJobFolder(join(path, "order-12.csv"));
    expect(lone.value?.jobName).toBe("order-12");
    expect(lone.value?.texts.map(({ name }) => name)).toEqual(["order-12.csv"]);
    expect(readJob("order-12", lone.value?.texts ?? []).value?.parts.length).toBe(1);
  });

  it("that is not there is a problem with the name that may be meant", async () => {
    const path = await folder({ "marsh-birds/parts.csv": LIST });
    const { value, problems } = await readJobFolder(join(path, "marsh-brids"));
    expect(value).toBeNull();
    expect(problems.map(({ code }) => code)).toEqual(["path-missing"]);
    expect(sentence(problems[0]!)).toContain(`Write "${join(path, "marsh-birds")}"`);
    const deep = await readJobFolder(join(path, "none", "none"));
    expect(deep.problems.map(({ code }) => code)).toEqual(["path-missing"]);
  });

  it("is no drawing", async () => {
    const path = await folder({ "heron.svg": "<svg/>" });
    const { problems } = await readJobFolder(join(path, "heron.svg"));
    expect(problems.map(({ code }) => code)).toEqual(["no-job"]);
    const through = await readJobFolder(join(path, "heron.svg", "parts.csv"));
    expect(through.problems.map(({ code }) => code)).toEqual(["system-enotdir"]);
  });

  it("is named where a file of it was named instead", async () => {
    const path = await folder({
      "parts.csv": LIST,
      "job.yaml": "title: x",
      "hardware.csv": "item",
      "drawings/heron.svg": "<svg/>",
    });
    for (const name of ["job.yaml", "hardware.csv", "drawings/heron.svg"]) {
      const { value, problems } = await readJobFolder(join(path, name));
      expect([value, problems.map(({ code }) => code)]).toEqual([null, ["no-job"]]);
      expect(sentence(problems[0]!)).toContain(`Name the folder of the job: ${path}.`);
    }
  });

  it("is named where the folder of several was named instead", async () => {
    const path = await folder({ "birds/parts.csv": LIST, "shade/parts.csv": LIST });
    const { value, problems } = await readJobFolder(path);
    expect([value, problems.map(({ code }) => code)]).toEqual([null, ["no-job"]]);
    expect(sentence(problems[0]!)).toContain(
      `Name ${join(path, "birds")} or ${join(path, "shade")}.`,
    );
  });

  it("does not follow links, and says so", async () => {
    const path = await folder({ "parts.csv": LIST });
    const other = await folder({ "heron.svg": "<svg/>" });
    await symlink(join(other, "heron.svg"), join(path, "heron.svg"));
    await symlink(other, join(path, "drawings"));
    const { value, problems } = await readJobFolder(path);
    expect(value?.texts.map(({ name }) => name)).toEqual(["parts.csv"]);
    expect(problems.map(({ code, file, severity }) => [code, file, severity])).toEqual([
      ["not-a-regular-file", "heron.svg", "warning"],
    ]);
  });

  it("has limits of count and size", async () => {
    const path = await folder({ "parts.csv": LIST, "big.svg": "" });
    await truncate(join(path, "big.svg"), 64 * 1024 * 1024 + 1);
    const large = await readJobFolder(path);
    expect(large.problems.map(({ code, file }) => [code, file])).toEqual([
      ["file-too-large", "big.svg"],
    ]);
    await mkdir(join(path, "many"));
    const names = Array.from({ length: 2000 }, (_, index) => join(path, "many", `${index}.svg`));
    await Promise.all(names.map((name) => writeFile(name, "")));
    const many = await readJobFolder(path);
    expect(many.value).toBeNull();
    expect(many.problems.map(({ code }) => code)).toEqual(["too-many-files"]);
  });

  it.skipIf(process.getuid?.() === 0)("reports what it has no right to read", async () => {
    const path = await folder({ "parts.csv": LIST, "locked.csv": "x" });
    await chmod(join(path, "locked.csv"), 0);
    const { problems } = await readJobFolder(path);
    expect(problems.map(({ code, file }) => [code, file])).toEqual([
      ["system-eacces", "locked.csv"],
    ]);
  });
});

describe("the demo job", () => {
  it("is read and agrees with the tables that come with the program", async () => {
    const demo = fileURLToPath(new URL("../../demo-data/marsh-birds", import.meta.url));
    const [job, tables] = [await readJobFolder(demo), await builtInTables()];
    expect([...job.problems, ...tables.problems]).toEqual([]);
    const { jobName = "", texts = [] } = job.value ?? {};
    const read = readIntake({ jobName, job: texts, tables: tables.value ?? [] }, "quote");
    expect(read.problems.map(sentence)).toEqual([]);
    const { parts = [], pieces = 0 } = read.value?.job ?? {};
    expect(parts.length).toBeGreaterThanOrEqual(8);
    const copies = parts.reduce((sum, { quantity }) => sum + quantity * pieces, 0);
    expect(copies).toBeGreaterThanOrEqual(60);
  });
});

describe("the text of a file", () => {
  it("is UTF-8 without its byte order mark, and hashed as it lies on the disk", () => {
    const bytes = Buffer.from("\uFEFFpart;Größe\r\n", "utf8");
    expect(decodeText("a.csv", bytes)).toEqual({
      value: {
        name: "a.csv",
        text: "part;Größe\r\n",
        sha256: createHash("sha256").update(bytes).digest("hex"),
      },
      problems: [],
    });
    // FIPS 180-2, appendix B.1: the digest of "abc".
    expect(decodeText("a", Buffer.from("abc")).value?.sha256).toBe(
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
  });

  it.each([
    ["UTF-16 with half a letter", Buffer.from([0xff, 0xfe, 0x61]), null, "UTF-16 that is broken"],
    ["UTF-16 with half a pair", Buffer.from([0xfe, 0xff, 0xd8, 8]), null, "UTF-16 that is broken"],
    ["text with a zero byte", Buffer.from("part,qty\na,1\nb\0,1"), 3, "a zero byte"],
    ["ISO 8859-1", Buffer.from("part\nqty\nGr\xf6\xdfe\n", "latin1"), 3, "byte F6"],
    ["an end too soon", Buffer.from([0x61, 0x0a, 0xe2, 0x82]), 2, "byte E2"],
    ["a surrogate", Buffer.from([0x61, 0xed, 0xa0, 0x80]), 1, "byte ED"],
    ["an overlong letter", Buffer.from([0x0a, 0xc0, 0xaf, 0x0a]), 2, "byte C0"],
  ])("is refused in %s", (_, bytes, line, found) => {
    const { value, problems } = decodeText("a.csv", bytes);
    expect(value).toBeNull();
    expect(problems.map((one) => [one.code, one.line, one.found])).toEqual([
      ["not-utf-8", line, found],
    ]);
    expect(sentence(problems[0]!)).toContain("Save the file with the encoding UTF-8");
  });
});

describe("a file that is no text, whatever its name says", () => {
  it.each([
    [
      "parts.csv",
      "PK\u0003\u0004\u0014\0",
      "a compressed file (zip)",
      "save the sheet as CSV in UTF-8",
    ],
    ["parts.csv", "%PDF-1.7\n", "a PDF", "save the sheet as CSV in UTF-8"],
    ["job.yaml", "PK\u0003\u0004\u0014\0", "a compressed file (zip)", "in a plain text editor"],
  ])("%s", (name, bytes, found, says) => {
    const { value, problems } = decodeText(name, Buffer.from(bytes, "latin1"));
    expect(value).toBeNull();
    expect(problems.map((one) => [one.code, one.found])).toEqual([["not-plain-text", found]]);
    expect(sentence(problems[0]!)).toContain(says);
  });
});

describe("price tables", () => {
  it("are the CSV files directly in their folder, named with it", async () => {
    const path = await folder({ "sheets.csv": "id", "old/sheets.csv": "id", "README.md": "x" });
    const { value } = await readTableFolder(path);
    expect(value?.map(({ name }) => name)).toEqual([`${basename(path)}/sheets.csv`]);
  });

  it("come with the program", async () => {
    const { value, problems } = await builtInTables();
    expect(problems).toEqual([]);
    expect(value?.map(({ name }) => name)).toContain("price-tables/sheets.csv");
  });

  it("are missed where there are none", async () => {
    const path = await folder({ "a.txt": "x" });
    for (const [given, code] of [
      [path, "no-tables"],
      [join(path, "a.txt"), "no-tables"],
      [join(path, "b"), "path-missing"],
    ] as const) {
      const { value, problems } = await readTableFolder(given);
      expect(value).toBeNull();
      expect(problems.map((problem) => problem.code)).toEqual([code]);
    }
  });
});

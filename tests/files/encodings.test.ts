import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { decodeText } from "../../src/files/decode.ts";
import { keepFile } from "../../src/files/keep.ts";
import { readDrawings, readJobFolder } from "../../src/files/read.ts";
import { page, part } from "../drawing/reading.ts";
import { folder } from "./folder.ts";

const PLATE = page(`<rect id="Stück" width="60" height="40"/>`);
const LIST = "part;qty\r\nGröße;1\r\n";

/** Big end first. */
function utf16be(text: string): Buffer {
  return Buffer.from(text, "utf16le").swap16();
}

function textOf(name: string, bytes: Uint8Array): string | undefined {
  const { value, problems } = decodeText(name, Buffer.from(bytes));
  expect(problems).toEqual([]);
  return value?.text;
}

describe("a text in UTF-16", () => {
  // The worked example of RFC 2781, section 5: U+12345 and "=Ra", with its mark.
  it.each([
    ["big end first", "fe ff d8 08 df 45 00 3d 00 52 00 61"],
    ["little end first", "ff fe 08 d8 45 df 3d 00 52 00 61 00"],
  ])("is read %s", (_, hex) => {
    const bytes = Buffer.from(hex.replaceAll(" ", ""), "hex");
    expect(textOf("a.csv", bytes)).toBe("\u{12345}=Ra");
  });

  it.each([
    ["a list with its mark", "parts.csv", Buffer.from(`\uFEFF${LIST}`, "utf16le"), LIST],
    ["a list with its mark, big end first", "parts.csv", utf16be(`\uFEFF${LIST}`), LIST],
    ["a list without a mark", "parts.csv", Buffer.from(LIST, "utf16le"), LIST],
    ["a list without a mark, big end first", "parts.csv", utf16be(LIST), LIST],
    ["a job file", "job.yaml", utf16be("\uFEFFtitle: Größe"), "title: Größe"],
    ["a drawing without a mark", "a.svg", utf16be(PLATE), PLATE],
  ])("is read as %s", (_, name, bytes, text) => {
    expect(textOf(name, bytes)).toBe(text);
  });

  it("stays so, with its mark or without, when numbers are written back", async () => {
    for (const written of [
      Buffer.from(`\uFEFF${LIST}`, "utf16le"),
      Buffer.from(LIST, "utf16le"),
      utf16be(`\uFEFF${LIST}`),
      utf16be(LIST),
      Buffer.from(LIST),
    ]) {
      const job = await folder({ "parts.csv": written });
      const read = (await readJobFolder(job)).value?.texts[0];
      expect(read?.text).toBe(LIST);
      const sha256 = read?.sha256 ?? "";
      expect(await keepFile(job, { name: "parts.csv", sha256, text: LIST })).toEqual([]);
      expect((await readFile(join(job, "parts.csv"))).toString("hex")).toBe(
        written.toString("hex"),
      );
    }
  });
});

describe("a drawing in the letters that it names", () => {
  // The bytes of these letters in the tables of ISO 8859-1, 8859-5 and of code pages 1250 and 1252.
  it.each([
    ["ISO-8859-1", "fc", "\u00fc"],
    ["iso-8859-5", "d6", "\u0436"],
    ["windows-1250", "9c", "\u015b"],
    ["windows-1252", "80", "\u20ac"],
  ])("%s", (name, byte, letter) => {
    const first = `<?xml version="1.0" encoding="${name}"?><svg id="`;
    const bytes = Buffer.concat([Buffer.from(first), Buffer.from(byte, "hex"), Buffer.from(`"/>`)]);
    expect(textOf("a.svg", bytes)).toBe(`${first}${letter}"/>`);
  });

  it("is refused where nobody knows them, or where a list names them", () => {
    const bytes = Buffer.from(
      `<?xml version="1.0" encoding="none-such"?><svg id="\u00fc"/>`,
      "latin1",
    );
    const known = Buffer.from(
      `<?xml version="1.0" encoding="ISO-8859-1"?><svg id="\u00fc"/>`,
      "latin1",
    );
    for (const [file, content] of [
      ["a.svg", bytes],
      ["a.csv", known],
    ] as const)
      expect(decodeText(file, content).problems).toMatchObject([
        { code: "not-utf-8", found: "byte FC" },
      ]);
  });
});

describe("a packed drawing", () => {
  // Packed by another library than the one that unpacks it.
  const packed = gzipSync(Buffer.from(PLATE));

  it("is read under both names, also in UTF-16, and drawn", () => {
    for (const name of ["a.svgz", "a.SVGZ", "a.svg"]) expect(textOf(name, packed)).toBe(PLATE);
    expect(textOf("a.svgz", gzipSync(utf16be(`\uFEFF${PLATE}`)))).toBe(PLATE);
    expect(textOf("a.svgz", Buffer.from(PLATE))).toBe(PLATE);
    const text = decodeText("a.svgz", Buffer.from(packed)).value;
    const drawn = part({ kind: "drawing", path: "a.svgz", id: null });
    const { value } = readPartGeometry([drawn], text === null ? [] : [text], []);
    expect(value?.[0]?.areaMm2).toBeCloseTo(2400, 9);
  });

  it("is found in a folder", async () => {
    const path = await folder({ "parts.csv": LIST, "d/a.svgz": packed });
    const job = await readJobFolder(path);
    expect(job.value?.texts.map(({ name }) => name)).toEqual(["d/a.svgz", "parts.csv"]);
    expect((await readDrawings(path)).value?.texts.map(({ text }) => text)).toEqual([PLATE]);
  });

  it("never fills the memory, and must be whole", () => {
    const bomb = gzipSync(new Uint8Array(64 * 1024 * 1024 + 1));
    expect(bomb.length).toBeLessThan(100_000);
    expect(decodeText("a.svgz", Buffer.from(bomb)).problems).toMatchObject([
      { code: "drawing-packed", found: "a packed drawing of more than 64 MiB" },
    ]);
    expect(decodeText("a.svgz", Buffer.from(packed.subarray(0, -9))).problems).toMatchObject([
      { code: "drawing-packed", found: "a packed drawing (gzip) that is broken" },
    ]);
  });

  it("is refused where a picture or another packed file is inside", () => {
    for (const inside of [packed, Buffer.from("\u0089PNG\r\n", "latin1")])
      expect(decodeText("a.svgz", Buffer.from(gzipSync(inside))).problems).toMatchObject([
        { code: "not-a-drawing" },
      ]);
  });
});

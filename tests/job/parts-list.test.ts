import { parse } from "csv-parse/sync";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeCsv } from "../../src/csv.ts";
import { readJob } from "../../src/job/job.ts";
import { readPartsList } from "../../src/job/parts-list.ts";
import { isError, sentence } from "../../src/problem.ts";
import { parts, PARTS_HEADER, PLATE, spots, text } from "./texts.ts";

/** The last column as csv-parse reads it, on one line as ours is kept. */
function parsedNotes(csv: string): readonly string[] {
  const rows = parse(csv, { trim: true }).slice(1);
  return rows.map((row) => (row.at(-1) ?? "").replace(/\s+/g, " ").trim());
}

describe("a parts list", () => {
  it("reads shapes, drawings and defaults", () => {
    const list = parts(
      "ring,2,Acrylic Cast,3,,Ring,,,22,5.5,,any,yes,reed green,left  over",
      String.raw`heron,1,mdf,6,.\drawings\heron.svg#bird,,,,,,,half,no,,`,
    );
    const { parts: read, problems } = readPartsList(list, [text("drawings/heron.svg", "")]);
    expect(problems).toEqual([]);
    expect(read).toEqual([
      {
        name: "plate",
        quantity: 4,
        material: "birch plywood",
        thicknessMm: 4,
        form: { kind: "rectangle", widthMm: 120, heightMm: 80, cornerRadiusMm: 0 },
        turn: "quarter",
        flip: false,
        finish: null,
        spare: null,
        note: "",
        place: { file: "parts.csv", line: 2, column: null },
      },
      {
        name: "ring",
        quantity: 2,
        material: "Acrylic Cast",
        thicknessMm: 3,
        form: { kind: "ring", diameterMm: 22, boreMm: 5.5 },
        turn: "any",
        flip: true,
        finish: "reed green",
        spare: null,
        note: "left over",
        place: { file: "parts.csv", line: 3, column: null },
      },
      {
        name: "heron",
        quantity: 1,
        material: "mdf",
        thicknessMm: 6,
        form: { kind: "drawing", path: "drawings/heron.svg", id: "bird" },
        turn: "half",
        flip: false,
        finish: null,
        spare: null,
        note: "",
        place: { file: "parts.csv", line: 4, column: null },
      },
    ]);
  });

  // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
  it.each([
    ["1/8 in", 3.175],
    ["1 1/2 in", 38.1],
    ['"3/16"""', 4.7625],
    ["0.5in", 12.7],
    ["0.3 cm", 3],
    ["0.018 m", 18],
    ["3.0 mm", 3],
  ])("reads the thickness %s as %d mm", (written, mm) => {
    const { parts: read } = readPartsList(parts(`a,1,mdf,${written},,disc,,,9,,,,,,`), []);
    expect(read[1]?.thicknessMm).toBe(mm);
  });

  it("takes columns in any order and case, with _ or blank, and semicolons", () => {
    const list = text("parts.csv", [
      "Corner_Radius;HEIGHT;Width;shape;Thickness;Material;QTY;Part",
      "2;80;120;rectangle;4;mdf;1;a",
    ]);
    const { parts: read, problems } = readPartsList(list, []);
    expect(problems).toEqual([]);
    expect(read[0]?.form).toEqual({
      kind: "rectangle",
      widthMm: 120,
      heightMm: 80,
      cornerRadiusMm: 2,
    });
  });

  it("keeps line numbers across quoted line breaks, blank lines and every kind of line end", () => {
    const lines = [
      PARTS_HEADER,
      `${PLATE}"two`,
      'lines"',
      "",
      "b,0,mdf,3,,disc,,,9,,,,,,",
      "c,1,mdf,3,,disc,,,9,,,,,,",
      "d,1,mdf,0,,disc,,,9,,,,,,",
    ];
    const endings = ["\n", "\r\n", "\r"];
    const texts = endings.map((ending) => lines.join(ending));
    const mixed = lines.map((line, index) => line + endings[index % 2]).join("");
    for (const body of [...texts, mixed, `\uFEFF${lines.join("\r\n")}`]) {
      const { parts: read, problems } = readPartsList(text("parts.csv", body), []);
      expect(spots(problems)).toEqual([
        ["not-a-whole-number", 5, "qty"],
        ["not-a-length", 7, "thickness"],
      ]);
      expect(read.map(({ name, note }) => [name, note])).toEqual([
        ["plate", "two lines"],
        ["c", ""],
      ]);
    }
  });

  it("keeps unknown columns and says so, with the name that may be meant", () => {
    const list = text("parts.csv", [
      "part,qty,material,thickness,shape,diameter,shelf,finnish,remark",
      "a,1,mdf,3,disc,9,B2,reed,x",
    ]);
    const { parts: read, problems } = readPartsList(list, []);
    expect(problems.some(isError)).toBe(false);
    expect(read[0]?.other).toEqual({ shelf: "B2", finnish: "reed", remark: "x" });
    expect(spots(problems)).toEqual([
      ["unknown-column", 1, "shelf"],
      ["unknown-column", 1, "finnish"],
      ["unknown-column", 1, "remark"],
    ]);
    const [shelf, finnish, remark] = problems.map(sentence);
    expect(shelf).toContain("Nothing needs to be done if it is a remark");
    expect(finnish).toContain('Write "finish" if that is meant');
    expect(remark).toContain('Write "note" if that is meant');
  });

  it("notices cells under a column without a name", () => {
    const list = text("parts.csv", [
      "part,qty,material,thickness,shape,diameter,",
      "a,1,mdf,3,disc,9,",
      "b,1,mdf,3,disc,9,half of it",
    ]);
    expect(spots(readPartsList(list, []).problems)).toEqual([["unnamed-column", 3, null]]);
  });

  it("takes quantities from the screen instead of its own", () => {
    const list = parts("b,2,mdf,3,,disc,,,9,,,,,,");
    expect(
      readJob("j", [list], { quantities: { B: 7 } }).value?.parts.map(({ quantity }) => quantity),
    ).toEqual([4, 7]);
    const { value, problems } = readJob("j", [list], {
      quantities: { b: 0, plate: 1.5, plat: 3, constructor: 1 },
    });
    expect(value).toBeNull();
    expect(spots(problems)).toEqual([
      ["not-a-whole-number", 3, "qty"],
      ["not-a-whole-number", 2, "qty"],
      ["unknown-part", null, "part"],
      ["unknown-part", null, "part"],
    ]);
    expect(sentence(problems[2]!)).toContain('"plate"');
  });

  it("refuses more copies than could be meant", () => {
    const list = parts("b,9000,mdf,3,,disc,,,9,,,,,,");
    const twelve = text("job.yaml", "pieces: 12");
    expect(spots(readJob("j", [list, twelve]).problems)).toEqual([["too-many-copies", 3, "qty"]]);
    const many = text("job.yaml", "title: x\npieces: 90000");
    expect(spots(readJob("j", [parts(), many]).problems)).toEqual([
      ["too-many-copies", 2, "pieces"],
    ]);
  });

  it("says what a job needs when there is no parts list", () => {
    const { problems } = readJob("j", [text("partslist.csv", PARTS_HEADER), text("job.yaml", "")]);
    expect(spots(problems.filter(isError))).toEqual([["no-parts-list", null, null]]);
    expect(sentence(problems[0]!)).toContain("Rename partslist.csv to parts.csv");
    const lone = readJob("j", [text("lengths.csv", "name")]).problems;
    expect(spots(lone)[0]).toEqual(["no-parts-list", null, null]);
  });

  it("reads a lone list of any name, and says that name", () => {
    const lone = { ...parts("b,0,mdf,3,,disc,,,9,,,,,,"), name: "order-12.csv" };
    const { problems } = readJob("order-12", [lone]);
    expect(problems.map(({ file, line }) => [file, line])).toEqual([["order-12.csv", 3]]);
  });

  it("warns of files that look like a part of the job and are not read", () => {
    const { value, problems } = readJob("j", [
      parts(),
      text("hardwear.csv", "item,qty"),
      text("tables/sheets.csv", ""),
    ]);
    expect(value).not.toBeNull();
    expect(problems.map(sentence)).toEqual([
      'hardwear.csv: read "hardwear.csv", expected one of parts.csv, job.yaml, job.yml, hardware.csv, joints.csv, lengths.csv, hand-work.csv, offcuts.csv. Write "hardware.csv" if that is meant, or leave it: it is not used in the estimate.',
    ]);
  });

  // Oracle: csv-parse, a reader of RFC 4180 that shares no code with ours.
  it("comes back from a written CSV as an independent reader reads it", () => {
    const header = PARTS_HEADER.split(",");
    const note = fc.string({ unit: "grapheme", maxLength: 12 });
    const awkward = fc.constantFrom(
      ",",
      ";",
      '"',
      '""',
      "a,b",
      "\r\n",
      "x\ny",
      "'",
      "=1+1",
      "-3 mm",
    );
    const notes = fc.array(fc.tuple(note, awkward, note), { minLength: 1, maxLength: 5 });
    let judged = 0;
    fc.assert(
      fc.property(notes, (texts) => {
        const rows = texts.map((words, index) => {
          const row = `p${index},1,mdf,3,,disc,,,9,,,,,,`.split(",");
          return [...row.slice(0, -1), words.join("")];
        });
        const written = writeCsv(header, rows);
        const read = readPartsList(text("parts.csv", written), []);
        expect(read.problems).toEqual([]);
        const theirs = parsedNotes(written);
        expect(read.parts.map((part) => part.note)).toEqual(theirs);
        judged += theirs.length;
      }),
      { numRuns: 150, seed: 20261125 },
    );
    expect(judged).toBeGreaterThan(200);
  });

  it("never throws and never gives a part with an impossible size, whatever is in the cells", () => {
    const cell = fc.oneof(
      fc.constantFrom(
        "",
        "3",
        "0",
        "-1",
        "1/8 in",
        "1e999",
        "NaN",
        "ring",
        "disc",
        "rectangle",
        "a.svg",
      ),
      fc.string({ maxLength: 5 }),
    );
    const rows = fc.array(fc.array(cell, { minLength: 15, maxLength: 15 }), { maxLength: 4 });
    let read = 0;
    fc.assert(
      fc.property(rows, (cells) => {
        const sound = ["z", "1", "mdf", "3", "", "disc", "", "", "9", "", "", "", "", "", ""];
        const all = [sound, ...cells];
        const { value } = readJob("j", [text("parts.csv", writeCsv(PARTS_HEADER.split(","), all))]);
        for (const part of value?.parts ?? []) {
          read += 1;
          const sizes = Object.values(part.form).filter((size) => typeof size === "number");
          expect(part.thicknessMm).toBeGreaterThan(0);
          expect(
            [part.quantity, ...sizes].every((size) => Number.isFinite(size) && size >= 0),
          ).toBe(true);
        }
      }),
      { numRuns: 300, seed: 20261125 },
    );
    expect(read).toBeGreaterThan(20);
  });
});

import { parse } from "csv-parse/sync";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { keepChanges, keepPieces, keepQuantities } from "../../src/job/keep.ts";
import { readJobFile } from "../../src/job/job-file.ts";
import { readJob } from "../../src/job/job.ts";
import { parts, text } from "./texts.ts";

const NONE = { quantities: {}, pieces: null };

/** A cell as a person or a spreadsheet may have written it, with what must stand in it afterwards. */
interface Written {
  readonly before: string;
  readonly after: string;
}

function same(cell: string): Written {
  return { before: cell, after: cell };
}

/** Blanks around a bare cell, or RFC 4180 quotes. */
const shell = fc.constantFrom(
  (inner: string) => inner,
  (inner: string) => ` ${inner}  `,
  (inner: string) => `"${inner}"`,
  (inner: string) => `" ${inner} "`,
);

const note = fc.constantFrom(
  "",
  "plain",
  '"a, b; c\td"',
  '"two\nlines"',
  '"say ""hi"" 7"',
  "7",
  "né",
);

const writtenList = fc.record({
  separator: fc.constantFrom(",", ";", "\t"),
  lineEnd: fc.constantFrom("\n", "\r\n", "\r"),
  endsInLineEnd: fc.boolean(),
  order: fc.shuffledSubarray(["part", "qty", "note", "spare column"], { minLength: 4 }),
  blankLine: fc.boolean(),
  rows: fc.array(
    fc.record({
      quantity: fc.integer({ min: 1, max: 99_999 }),
      wanted: fc.option(fc.integer({ min: 1, max: 99_999 })),
      shell,
      nameShell: shell,
      note,
      spare: note,
    }),
    { minLength: 1, maxLength: 6 },
  ),
});

describe("quantities in a parts list", () => {
  it("change their digits and no other byte, however the list is written", () => {
    let judged = 0;
    fc.assert(
      fc.property(writtenList, ({ separator, lineEnd, endsInLineEnd, order, blankLine, rows }) => {
        const cells = rows.map((row, index): Readonly<Record<string, Written>> => ({
          part: same(row.nameShell(`Part ${index}`)),
          qty: {
            before: row.shell(String(row.quantity)),
            after: row.shell(String(row.wanted ?? row.quantity)),
          },
          note: same(row.note),
          "spare column": same(row.spare),
        }));
        const whole = (side: keyof Written): string => {
          const lines = cells.map((row) =>
            order.map((name) => row[name]?.[side] ?? "").join(separator),
          );
          const blank = blankLine ? [""] : [];
          const head = order.map((name) => (name === "qty" ? " QTY" : name)).join(separator);
          return [head, ...blank, ...lines].join(lineEnd) + (endsInLineEnd ? lineEnd : "");
        };
        const wanted = Object.fromEntries(
          rows.flatMap((row, index) =>
            row.wanted === null ? [] : [[`part ${index}`, row.wanted]],
          ),
        );
        const source = text("parts.csv", whole("before"));
        expect(keepQuantities(source, wanted)).toEqual({ value: whole("after"), problems: [] });
        judged += Object.keys(wanted).length;
      }),
      { numRuns: 400, seed: 5 },
    );
    expect(judged).toBeGreaterThan(400);
  });

  it("are where another reader of CSV finds them, csv-parse", () => {
    const source = [
      "part;qty;note",
      '"shelf; long";"2";"holds ""12"" jars"',
      "bracket; 3 ;left",
      "",
      '"shelf";4;"a\nb"',
    ].join("\r\n");
    const list = keepQuantities(text("parts.csv", source), { "shelf; long": 12, shelf: 1 });
    const read: unknown = parse(list.value ?? "", {
      delimiter: ";",
      columns: true,
      trim: true,
      record_delimiter: "\r\n",
      skip_empty_lines: true,
    });
    expect(read).toEqual([
      { part: "shelf; long", qty: "12", note: 'holds "12" jars' },
      { part: "bracket", qty: "3", note: "left" },
      { part: "shelf", qty: "1", note: "a\nb" },
    ]);
  });

  it("of a part that is not in the list are refused, with nothing changed", () => {
    const list = keepQuantities(text("parts.csv", "part,qty\na,1\n"), { b: 2 });
    expect(list.value).toBeNull();
    expect(list.problems[0]).toMatchObject({ code: "not-kept", file: "parts.csv", found: "b 2" });
  });
});

function kept(file: string): string | null {
  return keepPieces(text("job.yaml", file), 20).value;
}

describe("pieces in a job file", () => {
  it("change their digits and nothing else", () => {
    expect(kept("# twelve\r\ntitle: T # 12\r\npieces:   12   # of 12\r\nmachine: m\r\n")).toBe(
      "# twelve\r\ntitle: T # 12\r\npieces:   20   # of 12\r\nmachine: m\r\n",
    );
    expect(kept('Pieces: "12"\n')).toBe('Pieces: "20"\n');
    expect(kept("{title: T, pieces: 12}")).toBe("{title: T, pieces: 20}");
  });

  it("come as a last line where the file does not say them", () => {
    expect(kept("title: T")).toBe("title: T\npieces: 20\n");
    expect(kept("title: T\r\n")).toBe("title: T\r\npieces: 20\r\n");
    expect(kept("")).toBe("pieces: 20\n");
    expect(readJobFile(text("job.yaml", kept("notes:\n  - a") ?? "")).file).toMatchObject({
      pieces: 20,
      notes: ["a"],
    });
  });

  it("are refused where there is no place for a line of their own", () => {
    for (const file of [
      "{title: T}",
      "pieces:\n",
      "title: T\n...\n",
      "title: |+\n  x\n\npieces: many",
    ])
      expect(kept(file)).toBeNull();
  });
});

describe("pieces from the screen", () => {
  const file = text("job.yaml", "title: T\npieces: 12\n");

  it("take the place of the job file's, and say where they come from", () => {
    const job = readJob("j", [parts(), file], { pieces: 20 }).value;
    expect(job?.pieces).toBe(20);
    expect(job?.piecesPlace).toEqual({
      file: "job.yaml",
      line: 2,
      column: "pieces, changed on screen",
    });
    expect(readJob("j", [parts()], { pieces: 3 }).value?.piecesPlace).toEqual({
      file: "job.yaml",
      line: null,
      column: "pieces, changed on screen",
    });
  });

  it("count for what is too many, too", () => {
    const { problems } = readJob("j", [parts(), file], { pieces: 99_999 });
    expect(problems.map(({ code }) => code)).toEqual(["too-many-copies"]);
  });
});

describe("changes of a job", () => {
  const list = text("parts.csv", "part,qty\na,1\n");
  const file = text("job.yaml", "pieces: 2\n");

  it("touch only the files that have to change, each with the hash of what it was made from", () => {
    const both = keepChanges([list, file], { quantities: { a: 3 }, pieces: 5 });
    expect(both.value).toEqual([
      { name: "parts.csv", sha256: list.sha256, text: "part,qty\na,3\n" },
      { name: "job.yaml", sha256: file.sha256, text: "pieces: 5\n" },
    ]);
    const one = keepChanges([list, file], { quantities: {}, pieces: 5 });
    expect(one.value?.map(({ name }) => name)).toEqual(["job.yaml"]);
    expect(keepChanges([list, file], NONE).value).toEqual([]);
  });

  it("make a job file where a folder has none, and none beside a lone list", () => {
    expect(keepChanges([list], { quantities: {}, pieces: 5 }).value).toEqual([
      { name: "job.yaml", sha256: null, text: "pieces: 5\n" },
    ]);
    const lone = keepChanges([{ ...list, name: "signs.csv" }], { quantities: { a: 2 }, pieces: 5 });
    expect(lone.value).toBeNull();
    expect(lone.problems.map(({ code }) => code)).toEqual(["no-job-file"]);
  });
});

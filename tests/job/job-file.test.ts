import { describe, expect, it } from "vitest";
import { readJobFile } from "../../src/job/job-file.ts";
import { readJob } from "../../src/job/job.ts";
import { sentence } from "../../src/problem.ts";
import { parts, spots, text } from "./texts.ts";

const FULL = `# way-markers
title: Marsh birds
customer: "Saltreed: the marsh"
reference: MB-7
date: 2026-11-20
pieces: 12
piece_name: way-marker
machine: own
lines:
  - class: engraved
    do: engrave
  - { stroke: "#ff0000", do: Score }
price:
  markup_percent: 12.50
  delivery: 0
notes:
  - first
  - >
    second, over
    two lines
`;

describe("a job file", () => {
  it("reads every field, money with its zeros", () => {
    const { file, problems } = readJobFile(text("job.yaml", FULL));
    expect(problems).toEqual([]);
    expect(file).toMatchObject({
      title: "Marsh birds",
      customer: "Saltreed: the marsh",
      reference: "MB-7",
      date: "2026-11-20",
      pieces: 12,
      piecesPlace: { file: "job.yaml", line: 6, column: "pieces" },
      pieceName: "way-marker",
      machine: "own",
      lineRules: [
        { by: "class", value: "engraved", operation: "engrave" },
        { by: "stroke", value: "#ff0000", operation: "score" },
      ],
      notes: ["first", "second, over two lines"],
    });
    const markup = file.settings.get("markup_percent");
    expect(markup?.value.toFixed(2)).toBe("12.50");
    expect(markup?.place).toEqual({ file: "job.yaml", line: 14, column: "price.markup_percent" });
    expect(file.settings.get("delivery")?.value.isZero()).toBe(true);
    expect(file.settings.has("tax_percent")).toBe(false);
  });

  it("is not needed, may be empty, and keys without a value say nothing", () => {
    for (const body of [null, "", "# nothing yet", "title:\nprice:\nlines:\nnotes:\npieces:"]) {
      const texts = body === null ? [] : [text("job.yaml", body)];
      const { value, problems } = readJob("birds", [parts(), ...texts]);
      expect(problems).toEqual([]);
      expect(value).toMatchObject({ title: "birds", pieces: 1, pieceName: "piece", date: null });
    }
  });

  it("may end in .yml, but not be there twice", () => {
    const yml = text("job.yml", "pieces: 3");
    expect(readJob("j", [parts(), yml]).value?.pieces).toBe(3);
    const { problems } = readJob("j", [parts(), yml, text("job.yaml", "")]);
    expect(spots(problems)).toEqual([["job-file-twice", null, null]]);
  });

  it.each([
    ["unknown key", "title: x\npeices: 3", "unknown-key", 2, "peices", 'Write "pieces"'],
    ["unknown key, far", "colour: red", "unknown-key", 1, "colour", "a comment with a #"],
    ["unknown price", "price:\n  markup: 20", "unknown-key", 2, "price.markup", '"markup_percent"'],
    ["decimal comma", "price:\n  delivery: 12,50", "not-an-amount", 2, "price.delivery", "12.50"],
    [
      "percent sign",
      "price:\n  tax_percent: 20 %",
      "not-an-amount",
      2,
      "price.tax_percent",
      "Write 20, without the percent sign",
    ],
    [
      "currency",
      "price:\n  delivery: EUR 9",
      "not-an-amount",
      2,
      "price.delivery",
      "Write 9, without the currency",
    ],
    [
      "negative",
      "price:\n  markup_percent: -5",
      "not-an-amount",
      2,
      "price.markup_percent",
      "0 or more",
    ],
    ["empty price", "price:\n  delivery:", "empty-value", 2, "price.delivery", "take the table's"],
    ["price is no map", "price: 20", "not-fields", 1, "price", "names and values"],
    ["pieces 0", "pieces: 0", "not-a-whole-number", 1, "pieces", "1 or more"],
    ["pieces is a list", "pieces:\n  - 3", "not-a-whole-number", 1, "pieces", '"a list"'],
    ["day", "date: 20.11.2026", "not-a-day", 1, "date", "2026-11-25"],
    ["no such day", "date: 2026-02-29", "not-a-day", 1, "date", "of the calendar"],
    ["list", "notes: only one", "not-a-list", 1, "notes", "`- `"],
    ["a note is a map", "notes:\n  - a: b", "no-text", 2, "notes.1", "expected a text"],
    [
      "operation",
      "lines:\n  - class: a\n    do: enrgave",
      "not-a-choice",
      3,
      "lines.1.do",
      '"engrave"',
    ],
    ["no operation", "lines:\n  - class: a", "empty-value", 2, "lines.1", "do: cut"],
    [
      "colour in comment",
      "lines:\n  - do: cut\n    stroke: #f00",
      "empty-value",
      3,
      "lines.1.stroke",
      "quotes",
    ],
    ["no lines meant", "lines:\n  - do: cut", "empty-value", 2, "lines.1", "Name a class"],
    [
      "two kinds",
      "lines:\n  - {class: a, id: b, do: cut}",
      "one-of-them",
      2,
      "lines.1.id",
      "two items",
    ],
    ["reference", "title: &t x\ncustomer: *t", "no-text", 2, "customer", "another place"],
    ["twice", "title: a\ntitle: b", "not-yaml", 2, null, "Remove one of the two lines"],
    ["colon in text", "title: a\ncustomer: b: c", "not-yaml", 2, null, "in quotes"],
    ["tab", "price:\n\tdelivery: 3", "not-yaml", 2, null, "blanks instead of tabs"],
    ["two documents", "title: a\n---\ntitle: b", "not-yaml", 2, null, "---"],
    ["a list of all", "- title: a", "not-fields", null, null, "`name: value`"],
  ])("%s", (_, body, code, line, column, says) => {
    const { problems } = readJobFile(text("job.yaml", body));
    expect(spots(problems)).toEqual([[code, line, column]]);
    expect(sentence(problems[0]!)).toContain(says);
  });

  it("refuses nesting that would end the process", () => {
    const deep = [
      "[\n".repeat(30_000),
      "- ".repeat(900),
      `${" ".repeat(2000)}a: 1`,
      "x".repeat(70_000),
    ];
    for (const body of deep) {
      const { problems } = readJobFile(text("job.yaml", body));
      expect(spots(problems)).toEqual([["file-too-large", null, null]]);
    }
  });
});

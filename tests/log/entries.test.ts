import { describe, expect, it } from "vitest";
import type { SourceText } from "../../src/job/types.ts";
import { readLog, withTaken } from "../../src/log/book.ts";
import type { Planned, Taken } from "../../src/log/entries.ts";
import { formText, readForm } from "../../src/log/form.ts";
import { sentence } from "../../src/problem.ts";
import { rowsOf } from "../helpers/rows.ts";
import { text } from "../job/texts.ts";

const CUT: Planned = {
  what: "machine",
  item: "acrylic cast 3 mm",
  operation: "cut",
  unit: "min",
  estimated: 80,
  machine: "bureau",
  material: "acrylic cast",
  thicknessMm: 3,
  workingMin: 75,
  halfFeedMin: null,
  twiceFeedMin: null,
  feedMmS: 12.5,
  passes: 1,
  eachMin: null,
};
const SCORE: Planned = { ...CUT, operation: "score", estimated: 5, workingMin: 4, feedMmS: 100 };
const WHOLE: Planned = { ...CUT, operation: "all", estimated: 85, workingMin: null, feedMmS: null };
const CANS: Planned = {
  ...CUT,
  what: "paint",
  item: "primer",
  operation: null,
  unit: "cans of 400 ml",
  estimated: 2,
  machine: "",
  material: "",
  thicknessMm: null,
  workingMin: null,
  feedMmS: null,
  passes: null,
};

/** The form with what was noted, by operation or item. */
function filled(took: Readonly<Record<string, string>>): SourceText {
  const lines = formText([SCORE, CUT, WHOLE, CANS]).split("\r\n");
  const written = lines.map((line) => {
    const cells = line.split(",");
    const noted = took[cells[2] || cells[1]!];
    return noted === undefined ? line : cells.with(5, noted).join(",");
  });
  return text("took.csv", written);
}

function takenBy(took: Readonly<Record<string, string>>): readonly Taken[] {
  return readForm(filled(took)).value!;
}

function log(of: string): SourceText {
  return text("shop-log.csv", of);
}

function added(before: SourceText | null, took: Readonly<Record<string, string>>, done: string) {
  return withTaken(before, "birds", done, takenBy(took)).value!;
}

describe("the form", () => {
  it("comes with what was estimated and is read as it was filled in", () => {
    const rows = rowsOf(formText([SCORE, CUT, WHOLE, CANS]));
    expect(
      rows.map((row) => [row["item"], row["operation"], row["estimated"], row["took"]]),
    ).toEqual([
      ["acrylic cast 3 mm", "score", "5", ""],
      ["acrylic cast 3 mm", "cut", "80", ""],
      ["acrylic cast 3 mm", "all", "85", ""],
      ["primer", "", "2", ""],
    ]);
    const [score, cut, , cans] = takenBy({ cut: "95.5", primer: "3" });
    expect(score).toMatchObject({ ...SCORE, took: null });
    expect(cut).toMatchObject({ ...CUT, took: 95.5, note: "" });
    expect(cans).toMatchObject({ ...CANS, took: 3 });
  });

  it.each([
    [{ cut: "an hour" }, 'took.csv, line 3, took: read "an hour", expected a number above 0. '],
    [{ cut: "0" }, 'took.csv, line 3, took: read "0", expected a number above 0. '],
    [
      { cut: "80", all: "85" },
      'took.csv, line 4, took: read "85", expected the minutes of the whole run, or those of its operations, but not both for acrylic cast 3 mm. ',
    ],
  ])("filled in as %o is told what is wrong", (took, says) => {
    const { value, problems } = readForm(filled(took));
    expect(value).toBeNull();
    expect(problems.map(sentence)).toEqual([expect.stringContaining(says)]);
  });
});

describe("what the form says is read again", () => {
  it("also with a task of 0 minutes in the table", () => {
    const task: Planned = { ...CANS, what: "hand work", item: "pack", estimated: 0, eachMin: 0 };
    const form = formText([task]).replace("pack,,0,cans of 400 ml,,", "pack,,0,min,4,");
    const { value, problems } = readForm(text("took.csv", form));
    expect(problems).toEqual([]);
    expect(value).toMatchObject([{ took: 4, eachMin: 0 }]);
  });

  it.each(["0.0004", "0.00000000012"])("also %s, which rounds to 0", (took) => {
    const { value, problems } = readLog(log(added(null, { cut: took }, "2026-11-01").text));
    expect(problems).toEqual([]);
    expect(value!.flatMap((row) => row.took ?? [])).toEqual([Number(took)]);
  });
});

describe("a time far from its estimate", () => {
  it.each([
    [{ cut: "960" }, ["far-off", "warning", 3]],
    [{ cut: "20" }, ["far-off", "warning", 3]],
    [{ primer: "7" }, ["far-off", "warning", 5]],
    [{ cut: "239" }, null],
    [{ cut: "27" }, null],
  ])("as %o is warned of, more than three times off", (took, told) => {
    const { value, problems } = readForm(filled(took));
    expect(value).not.toBeNull();
    const said = problems.map(({ code, severity, line }) => [code, severity, line]);
    expect(said).toEqual(told === null ? [] : [told]);
  });

  it("is told with how much, and what to do", () => {
    const [problem] = readForm(filled({ cut: "960" })).problems;
    expect(sentence(problem!)).toBe(
      'took.csv, line 3, took: read "960", expected about the 80 min that were estimated for the machine of acrylic cast 3 mm, cut, and it is 12.0 times as much. If it is a slip, correct it in the form and record it with the same day again; if it is so, write the reason under note.',
    );
  });
});

describe("a form that was emptied", () => {
  it("takes back the last time of a job", () => {
    const one = log(added(null, { cut: "90" }, "2026-11-01").text);
    const { value, problems } = withTaken(one, "birds", "2026-11-01", takenBy({}));
    expect(problems.map(({ code, severity }) => [code, severity])).toEqual([
      ["taken-back", "warning"],
    ]);
    expect(readLog(log(value!.text)).value!.flatMap(({ took }) => took ?? [])).toEqual([]);
    expect(added(log(value!.text), {}, "2026-11-01")).toEqual({ text: value!.text, added: 0 });
  });

  it("is told so where the log has nothing of that job and day", () => {
    const one = log(added(null, { cut: "90" }, "2026-11-01").text);
    for (const [before, day, job] of [
      [null, "2026-11-01", "birds"],
      [one, "2026-11-02", "birds"],
      [one, "2026-11-01", "others"],
    ] as const) {
      const { value, problems } = withTaken(before, job, day, takenBy({}));
      expect(value).toBeNull();
      expect(problems.map(sentence)).toEqual([
        "took.csv, took: read nothing, expected what the job really took, in one row at least: the log has nothing of this job and day that emptied cells could take back. Fill in took where you noted it, and leave the other cells empty; to take back what was recorded, give the day that it was recorded with.",
      ]);
    }
  });
});

describe("a log of before there were half_feed_min and twice_feed_min", () => {
  it("is read, and gets the columns with the next row", () => {
    const one = older(added(null, { cut: "90" }, "2026-11-01").text);
    expect(one).not.toContain("half");
    expect(readLog(log(one)).problems).toEqual([]);
    const two = added(log(one), { cut: "95" }, "2026-11-08");
    const [head = "", ...rows] = two.text.split("\n");
    expect(head.endsWith(",each_min,half_feed_min,twice_feed_min")).toBe(true);
    expect(rows.slice(0, 3)).toEqual(one.split("\n").slice(1, 4));
    expect(rows[3]).toContain("2026-11-08");
    const { value, problems } = readLog(log(two.text));
    expect([value!.flatMap(({ took }) => took ?? []), problems]).toEqual([[90, 95], []]);
  });

  it("takes a form with them for the same estimate", () => {
    const one = log(older(added(null, { cut: "90" }, "2026-11-01").text));
    const newer = takenBy({ cut: "95" }).map((row) => ({
      ...row,
      halfFeedMin: row.workingMin && row.workingMin * 2,
      twiceFeedMin: row.workingMin && row.workingMin / 2,
    }));
    const { value, problems } = withTaken(one, "birds", "2026-11-01", newer);
    expect([value!.text.includes(",95,"), problems]).toEqual([true, []]);
  });
});

describe("the log", () => {
  it("gets what was noted, with all operations of a run that was timed as a whole", () => {
    const { text: whole, added: count } = added(null, { all: "100" }, "2026-11-01");
    expect(count).toBe(3);
    const { value } = readLog(log(whole));
    expect(value!.map(({ operation, took }) => [operation, took])).toEqual([
      ["score", null],
      ["cut", null],
      ["all", 100],
    ]);
    expect(value![1]).toMatchObject({ ...CUT, took: null, done: "2026-11-01", job: "birds" });
    expect(added(null, { primer: "3" }, "2026-11-01").added).toBe(1);
  });

  it("keeps every row that stands there, byte by byte", () => {
    const by = added(null, { cut: "90" }, "2026-11-01").text;
    const { text: two } = added(log(by), { cut: "95" }, "2026-11-08");
    expect(two.startsWith(by)).toBe(true);
    const crlf = log(by.replaceAll("\n", "\r\n").trimEnd());
    expect(added(crlf, { cut: "95" }, "2026-11-08").text).toBe(two);
  });

  it("is not written twice, and a later correction holds, also one back to what was", () => {
    const one = added(null, { cut: "90" }, "2026-11-01").text;
    expect(added(log(one), { cut: "90" }, "2026-11-01")).toEqual({ text: one, added: 0 });
    const two = added(log(one), { cut: "95" }, "2026-11-01");
    expect(two.added).toBe(1);
    const three = added(log(two.text), { cut: "90" }, "2026-11-01");
    expect(three.added).toBe(1);
    const took = (of: string) =>
      readLog(log(of)).value!.flatMap((row) => (row.operation === "cut" ? [row.took] : []));
    expect([took(one), took(two.text), took(three.text)]).toEqual([[90], [95], [90]]);
  });

  it("takes back a whole run where its operations are noted instead", () => {
    const one = added(null, { all: "100" }, "2026-11-01").text;
    const two = added(log(one), { cut: "90", score: "8" }, "2026-11-01").text;
    expect(readLog(log(two)).value!.map(({ operation, took }) => [operation, took])).toEqual([
      ["score", 8],
      ["cut", 90],
      ["all", null],
    ]);
  });

  it("takes no other job of the same name and day for a correction", () => {
    const one = log(added(null, { cut: "90" }, "2026-11-01").text);
    const other = takenBy({ cut: "95" }).map((row) => ({ ...row, estimated: row.estimated * 2 }));
    const { value, problems } = withTaken(one, "birds", "2026-11-01", other);
    expect(value).toBeNull();
    expect(problems.map(({ code, found }) => [code, found])).toEqual([["other-estimate", "10"]]);
    expect(withTaken(one, "birds", "2026-11-02", other).value!.added).toBe(3);
  });

  it("takes back what is emptied in the form, and tells so", () => {
    const one = log(added(null, { cut: "90", primer: "3" }, "2026-11-01").text);
    const { value, problems } = withTaken(one, "birds", "2026-11-01", takenBy({ cut: "90" }));
    expect(problems.map(({ code, severity }) => [code, severity])).toEqual([
      ["taken-back", "warning"],
    ]);
    expect(value!.added).toBe(1);
    const primer = readLog(log(value!.text)).value!.find(({ item }) => item === "primer");
    expect(primer!.took).toBeNull();
    expect(added(log(value!.text), { cut: "90" }, "2026-11-01").added).toBe(0);
  });

  it("tells of an emptied operation, but not of one that is noted in the whole now", () => {
    const one = log(added(null, { cut: "90", score: "8" }, "2026-11-01").text);
    const codes = (took: Readonly<Record<string, string>>) =>
      withTaken(one, "birds", "2026-11-01", takenBy(took)).problems.map(({ code }) => code);
    expect(codes({ cut: "90" })).toEqual(["taken-back"]);
    expect(codes({ all: "98" })).toEqual([]);
  });

  it("warns of the same time under another day", () => {
    const one = log(added(null, { cut: "90" }, "2026-11-01").text);
    const codes = (took: string) =>
      withTaken(one, "birds", "2026-11-02", takenBy({ cut: took })).problems.map(
        ({ code, severity }) => [code, severity],
      );
    expect(codes("90")).toEqual([["on-another-day", "warning"]]);
    expect(codes("91")).toEqual([]);
  });

  it("warns of the same time under the name that an earlier log knew the folder by", () => {
    const one = log(added(null, { cut: "90" }, "2026-11-01").text);
    const codes = (job: string) =>
      withTaken(one, job, "2026-11-01", takenBy({ cut: "90" })).problems.map(({ code }) => code);
    expect(codes("../shop/birds")).toEqual(["under-another-name"]);
    expect(codes("../shop/other")).toEqual([]);
  });

  it("knows a job again whose folder has a tab or two blanks in its name", () => {
    const one = withTaken(null, "two  birds\tand more", "2026-11-01", takenBy({ cut: "90" }));
    const again = withTaken(
      log(one.value!.text),
      "two  birds\tand more",
      "2026-11-01",
      takenBy({ cut: "90" }),
    );
    expect(again).toEqual({ value: { text: one.value!.text, added: 0 }, problems: [] });
  });

  it("stands in the order of the days", () => {
    const late = added(null, { cut: "90" }, "2026-11-08").text;
    const both = added(log(late), { cut: "95" }, "2026-11-01").text;
    const { value } = readLog(log(both));
    expect([...new Set(value!.map(({ done }) => done))]).toEqual(["2026-11-01", "2026-11-08"]);
  });

  it("is not added to where it is none, or can not be read", () => {
    const other = withTaken(log("a;b\n1;2\n"), "birds", "2026-11-01", []);
    expect(other.problems.map(({ code, line }) => [code, line])).toEqual([["other-log", 1]]);
    const spoilt = added(null, { cut: "90" }, "2026-11-01").text.replace("80", "eighty");
    const { value, problems } = withTaken(log(spoilt), "b", "2026-11-01", []);
    expect(value).toBeNull();
    expect(problems.map(({ code, column }) => [code, column])).toEqual([
      ["not-a-number", "estimated"],
    ]);
  });
});

function older(of: string): string {
  return of.replace(",half_feed_min,twice_feed_min", "").replaceAll(/,,$/gm, "");
}

import { parse } from "csv-parse/sync";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnName, DECIMAL_COMMA, DECIMAL_POINT, readCsv, writeCsv } from "../src/csv.ts";
import { parseDecimal } from "../src/money.ts";

/** An independent reader of RFC 4180. */
function readIndependently(text: string, delimiter = ","): string[][] {
  return parse(text, { relax_column_count: false, record_delimiter: "\r\n", delimiter });
}

/** Cells with everything that a CSV writer can stumble over. */
const AWKWARD = fc.oneof(
  fc.string({ maxLength: 6 }),
  fc.string({ unit: "binary", maxLength: 4 }),
  fc
    .array(
      fc.constantFrom(
        '"',
        '""',
        ",",
        ";",
        "\r\n",
        "\n",
        "\r",
        "=",
        "+",
        "-",
        "@",
        "\t",
        " ",
        "a",
        "1",
        "\uFEFF",
      ),
      { maxLength: 6 },
    )
    .map((pieces) => pieces.join("")),
);
const ROWS = fc.integer({ min: 2, max: 4 }).chain((width) =>
  fc.array(fc.array(AWKWARD, { minLength: width, maxLength: width }), {
    minLength: 1,
    maxLength: 5,
  }),
);

const VISIBLE = "=+-@\uFF1D\uFF0B\uFF0D\uFF20";

/** ASVS 5.0, 1.2.10, and CWE-1236: what a spreadsheet may work out; a plain number is none. */
function isFormula(cell: string): boolean {
  const [first = ""] = cell;
  return `${VISIBLE}\t\r\n\0`.includes(first) && cell !== "" && !isNumber(cell);
}

/** An apostrophe that takes the force out of a formula. */
const ADDED = /'(?=[=+\-@\t\r\n\0\uFF1D\uFF0B\uFF0D\uFF20])/g;

function isNumber(cell: string): boolean {
  return /^[+-]?\d+(\.\d+)?$/.test(cell);
}

function quoted(cell: string): string {
  return `"${cell.replaceAll('"', '""')}"`;
}

/** A byte order mark at the head of a file belongs to the file, not to its first cell. */
function startsWithMark(rows: readonly (readonly string[])[]): boolean {
  return rows[0]?.[0]?.startsWith("\uFEFF") === true;
}

describe("writeCsv", () => {
  it.each([
    ["commas", DECIMAL_POINT],
    ["semicolons", DECIMAL_COMMA],
  ])("with %s is read by an independent reader as it was written", (_, style) => {
    let [special, formulas] = [0, 0];
    fc.assert(
      fc.property(ROWS, ([header = [], ...rows]) => {
        fc.pre(!startsWithMark([header]));
        const text = writeCsv(header, rows, style);
        const read = readIndependently(text, style.separator);
        expect(read).toHaveLength(rows.length + 1);
        for (const [y, row] of [header, ...rows].entries())
          for (const [x, cell] of row.entries()) {
            // RFC 4180 keeps every character; formulas alone gain an apostrophe.
            const got = read[y]?.[x] ?? "";
            expect(got.replace(ADDED, "")).toBe(cell.replace(ADDED, ""));
            const plain = !isFormula(cell) && !/[,;\t\r\n]|^[ "]/.test(cell);
            expect(got.startsWith("'") || !isFormula(cell)).toBe(true);
            expect(got === cell || !plain).toBe(true);
            if (isFormula(cell)) formulas += 1;
            if (/[",\r\n]/.test(cell)) special += 1;
          }
      }),
      { numRuns: 1500, seed: 1 },
    );
    expect(special).toBeGreaterThan(1000);
    expect(formulas).toBeGreaterThan(500);
  });

  // OWASP, "CSV Injection": separators and quotes in a text may begin a cell for another program.
  it.each([DECIMAL_POINT, DECIMAL_COMMA])(
    "begins no formula, whatever the separator: %j",
    (style) => {
      let harmful = 0;
      fc.assert(
        fc.property(ROWS, ([header = [], ...rows]) => {
          const text = writeCsv(header, rows, style);
          const others = [",", ";", "\t"].filter((mark) => mark !== style.separator);
          // Torn apart where another program would, whether it knows of quotes or not.
          const torn = text.split(new RegExp(`[${others.join("")}\\r\\n]`));
          for (const cell of torn) {
            const [first = ""] = cell.replace(/^[ "]+/, "");
            const number = isNumber(cell.split(style.separator)[0] ?? "");
            expect(VISIBLE.includes(first) && first !== "" && !number).toBe(false);
            if (first === "'") harmful += 1;
          }
        }),
        { numRuns: 1500, seed: 2 },
      );
      expect(harmful).toBeGreaterThan(500);
    },
  );

  it("writes numbers with the decimal mark of the style, and texts as they are", () => {
    const rows = [[{ decimal: "-12.50" }, "12.50 mm", "M5; M6", { decimal: "3" }]];
    const head = ["a", "b", "c", "d"];
    expect(writeCsv(head, rows, DECIMAL_COMMA)).toBe('a;b;c;d\r\n-12,50;12.50 mm;"M5; M6";3\r\n');
    expect(writeCsv(head, rows)).toBe("a,b,c,d\r\n-12.50,12.50 mm,M5; M6,3\r\n");
  });

  // ASVS 5.0, 1.2.10: = + - @, tab and null as first character are escaped with a single quote;
  // the CSV injection page of the same project adds line ends and full-width signs (CWE-1236).
  it.each([
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\tx",
    "\rx",
    "\nx",
    "\0=1+1",
    "\uFF1D1+1",
    "\uFF0B1",
    "\uFF0D1",
    "\uFF20A1",
    "-",
    "--1",
    "-1,5",
    "+1 in",
    '=HYPERLINK("http://x","y")',
  ])("takes the force out of %j", (cell) => {
    const [, [first] = []] = readIndependently(writeCsv(["a", "b"], [[cell, "x"]]));
    expect(first).toBe(`'${cell}`);
  });

  it.each(["-1", "-12.50", "+3", "0", "12.50", "-0.001"])("leaves %s a number", (cell) => {
    const [, [first = ""] = []] = readIndependently(writeCsv(["a", "b"], [[cell, "x"]]));
    expect(first).toBe(cell);
    expect(parseDecimal(first)?.toNumber()).toBe(Number(cell));
  });

  it("leaves signs inside a text alone", () => {
    expect(writeCsv(["a"], [["M5x20 = +1"], ["a-b@c"]])).toBe("a\r\nM5x20 = +1\r\na-b@c\r\n");
  });

  it("ends every line with CRLF and quotes only where it must (RFC 4180)", () => {
    expect(
      writeCsv(
        ["a", "b"],
        [
          ['say "x"', "1,5"],
          ["", "plain"],
        ],
      ),
    ).toBe('a,b\r\n"say ""x""","1,5"\r\n,plain\r\n');
  });
});

describe("readCsv", () => {
  it("reads what an independent reader reads, trimmed, on the right lines", () => {
    let [rowsRead, breaks] = [0, 0];
    const cells = fc
      .array(fc.constantFrom('"', ",", "\n", "\r\n", " ", "a", "b;", "1.5", "\u00e9"), {
        maxLength: 5,
      })
      .map((pieces) => pieces.join(""));
    const row = fc.tuple(cells, cells, cells);
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 6 }),
        fc.constantFrom("\n", "\r\n"),
        (rows, end) => {
          const lines = [["x", "y", "z"], ...rows].map((one) => one.map(quoted).join(",") + end);
          const wanted = parse(lines.join(""), { record_delimiter: end })
            .slice(1)
            .map((one: string[], index) => ({
              line:
                1 +
                lines
                  .slice(0, index + 1)
                  .join("")
                  .split(/\r\n|\n/).length -
                1,
              cells: one.map((cell) => cell.trim()),
            }))
            .filter((one) => one.cells.some((cell) => cell !== ""));
          const table = readCsv("x.csv", lines.join(""));
          expect(table.problems).toEqual([]);
          expect(
            table.rows.map(({ line, cells: { x, y, z } }) => ({ line, cells: [x, y, z] })),
          ).toEqual(wanted);
          rowsRead += wanted.length;
          breaks += rows.flat().filter((cell) => cell.includes("\n")).length;
        },
      ),
      { numRuns: 800, seed: 1 },
    );
    expect(rowsRead).toBeGreaterThan(1000);
    expect(breaks).toBeGreaterThan(500);
  });

  it("passes over a byte order mark, blank lines and lines of empty cells", () => {
    const table = readCsv("x.csv", "\uFEFF\r\n\r\npart,qty\r\n\r\n,\r\na,1\r\n\r\nb,2");
    expect(table.header).toEqual(["part", "qty"]);
    expect(table.rows).toEqual([
      { line: 6, cells: { part: "a", qty: "1" } },
      { line: 8, cells: { part: "b", qty: "2" } },
    ]);
    expect(table.problems).toEqual([]);
  });

  it.each([
    ["a;b\n1,5;2\n", { a: "1,5", b: "2" }],
    ["a\tb\n1,5\t2;3\n", { a: "1,5", b: "2;3" }],
    ["a,b\n1;5,2\n", { a: "1;5", b: "2" }],
    ["a\n1\n", { a: "1" }],
  ])("takes the separator from the header alone: %j", (text, cells) => {
    expect(readCsv("x.csv", text).rows).toEqual([{ line: 2, cells }]);
  });

  it.each([
    ["\n\na;b\n1,5;2\n", 4],
    ["\r\n;;;\r\na;b;;\r\n1,5;2;;\r\n", 4],
    [" \t \n,,\na;b\n1,5;2\n", 4],
    ['\uFEFF\n"a,x,y";b\n1,5;2\n', 3],
    ["a;b\r1,5;2\r", 2],
  ])("looks for it below lines of blanks and separators, outside of quotes: %j", (text, line) => {
    const { separator, rows, problems } = readCsv("x.csv", text);
    expect(separator).toBe(";");
    expect(problems).toEqual([]);
    expect(rows).toHaveLength(1);
    expect(rows[0]?.line).toBe(line);
    expect(Object.values(rows[0]?.cells ?? {}).slice(0, 2)).toEqual(["1,5", "2"]);
  });

  it("takes surplus cells that are empty for nothing", () => {
    expect(readCsv("x.csv", "a,b\nx,2,,\n").problems).toEqual([]);
  });

  it.each([
    ["1,5,2", "1.5 or 5.2"],
    ["x,12,5 mm", "12.5 mm"],
    ['12,5",x', '12.5"'],
    ["12,5,,", "12.5 with a decimal point if that is meant. Remove the surplus"],
    ["x,y,z", "Put a cell that holds a comma in quotes, or remove"],
    ["1,2,3,4,5,6", "1.2 or 2.3 or 3.4 with"],
  ])("names the numbers that a decimal comma may have split: %s", (row, says) => {
    const [problem] = readCsv("x.csv", `a,b\n${row}\n`).problems;
    expect(problem?.code).toBe("csv-surplus-cells");
    expect(problem?.mend).toContain(says);
  });

  it("loses only the row of a quote that never closes, and says where it opened", () => {
    const lines = [
      "a,b",
      '1,"two',
      'lines"',
      '2,"open',
      '3,"3/16""',
      '4,"fine, too"',
      '5,"two',
      'more" lines,"open',
      "6,x",
      '7,""',
    ];
    const { rows, problems } = readCsv("x.csv", lines.join("\n"));
    expect(problems.map(({ code, line, found }) => [code, line, found])).toEqual([
      ["csv-quotes", 4, '"open'],
      ["csv-quotes", 5, '"3/16""'],
      ["csv-quotes", 7, '"two'],
      ["csv-quotes", 8, '"open'],
    ]);
    expect(rows.map(({ line, cells }) => [line, cells["a"], cells["b"]])).toEqual([
      [2, "1", "two\nlines"],
      [6, "4", "fine, too"],
      [9, "6", "x"],
      [10, "7", ""],
    ]);
  });

  // csv-parse refuses what RFC 4180 does; we must agree on which files have a fault.
  it("agrees with an independent reader on which files have quotes amiss", () => {
    const piece = fc.constantFrom('"', '"', '""', ",", "\n", "a", "1");
    const texts = fc.array(piece, { maxLength: 14 }).map((pieces) => pieces.join(""));
    let [sound, amiss] = [0, 0];
    fc.assert(
      fc.property(texts, (text) => {
        // A quote inside a bare cell is an inch mark to us, and an error to RFC 4180.
        fc.pre(!/(^|[,\n])[^",\n]+"/.test(text));
        const ours = readCsv("x.csv", `h\n${text}`).problems.some((p) => p.code === "csv-quotes");
        let theirs = false;
        try {
          parse(text, { relax_column_count: true });
        } catch {
          theirs = true;
        }
        expect(ours).toBe(theirs);
        if (theirs) amiss += 1;
        else sound += 1;
      }),
      { numRuns: 2000, seed: 1 },
    );
    expect(Math.min(sound, amiss)).toBeGreaterThan(300);
  });

  it("fills missing cells and reports what a row has too much, the row with it", () => {
    const table = readCsv("x.csv", "a,b\n1\n1,2,3\n");
    expect(table.rows.map(({ cells }) => cells)).toEqual([
      { a: "1", b: "" },
      { a: "1", b: "2" },
    ]);
    expect(table.problems.map(({ code, line }) => [code, line])).toEqual([
      ["csv-surplus-cells", 3],
    ]);
  });

  it.each([
    ['a,b\n1,2\n"open,3\n', "csv-quotes", 3],
    ['a,b\n"1"x,2\n', "csv-quotes", 2],
    ["a, A ,b\n1,2,3\n", "column-twice", 1],
  ])("reports %j as %s", (text, code, line) => {
    const found = readCsv("x.csv", text).problems.map((one) => [one.code, one.severity, one.line]);
    expect(found).toContainEqual([code, "error", line]);
  });

  it("reads an empty file as a table without columns", () => {
    expect(readCsv("x.csv", "")).toMatchObject({ header: [], rows: [], problems: [] });
  });

  it("takes names of columns as people write them", () => {
    expect(columnName("  Corner \t Radius ")).toBe("corner radius");
  });
});

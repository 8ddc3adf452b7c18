import { describe, expect, it } from "vitest";
import { readPartsList } from "../../src/job/parts-list.ts";
import { amount, length, positive, text as words } from "../../src/job/cells.ts";
import { optional, readRows, required } from "../../src/job/rows.ts";
import { sentence } from "../../src/problem.ts";
import { spots, text } from "./texts.ts";

const COLUMNS = {
  name: required("name", words),
  lengthMm: required("length", length),
  price: optional("price", amount, null),
};

function read(...lines: readonly string[]): ReturnType<typeof readRows<typeof COLUMNS>> {
  return readRows(text("x.csv", lines), COLUMNS);
}

function list(...lines: readonly string[]): ReturnType<typeof readPartsList> {
  return readPartsList(text("parts.csv", lines), []);
}

describe("a column that is not there", () => {
  it("is said once, and hides nothing of what can be read", () => {
    const { rows, readable, problems } = read("name,price", "a,1", ",x", "b,2");
    expect(rows).toEqual([]);
    expect(spots(problems)).toEqual([
      ["missing-column", 1, "length"],
      ["empty-cell", 3, "name"],
      ["not-an-amount", 3, "price"],
    ]);
    expect(readable.map(({ values }) => [values.name, values.lengthMm])).toEqual([
      ["a", undefined],
      [undefined, undefined],
      ["b", undefined],
    ]);
  });

  it("is judged under its misspelt name", () => {
    const { rows, readable, texts, problems } = read("name,lenght,price", "a,0,1", "b,9,2");
    expect(rows).toEqual([]);
    expect(spots(problems)).toEqual([
      ["missing-column", 1, "length"],
      ["not-a-length", 2, "length"],
    ]);
    expect(readable[1]?.values.lengthMm).toBe(9);
    expect(texts[1]?.cells).toEqual({ name: "b", length: "9", price: "2" });
  });

  it("does not keep a parts list from being read to its end", () => {
    const { parts, materials, problems } = list(
      "part,quantity,materal,thickness,shape,diameter,bore",
      "a,1,mdf,3,ring,9,9",
      "A,x,pvc,3,disc,,",
      "b,1,mdf,-3,blob,9,",
    );
    expect(parts).toEqual([]);
    expect(spots(problems)).toEqual([
      ["missing-column", 1, "qty"],
      ["missing-column", 1, "material"],
      ["not-a-whole-number", 3, "qty"],
      ["not-a-length", 4, "thickness"],
      ["not-a-choice", 4, "shape"],
      ["part-twice", 3, "part"],
      ["size-too-large", 2, "bore"],
      ["size-missing", 3, "diameter"],
    ]);
    expect(materials.map(({ material }) => material)).toEqual(["mdf", "pvc", "mdf"]);
  });

  it.each<[string, string, string, readonly string[]]>([
    ["shape misspelt", "drawing,shpae,diameter", ",disc,9", ["Rename the column shpae to shape"]],
    ["drawing misspelt", "drawng,shape", "a.svg,", ["Rename the column drawng to drawing"]],
    ["neither", "note", "x", ["Add the column drawing, or shape with width, height and so on"]],
    ["a size", "shape,note", "disc,x", ["Add the column diameter"]],
    [
      "sizes misspelt",
      "shape,widht,hieght",
      "rectangle,9,9",
      ["Rename the column widht to width", "Rename the column hieght to height"],
    ],
  ])("and that all rows need is said once: %s", (_, columns, cells, mends) => {
    const rows = ["a", "b", "c"].map((name) => `${name},1,mdf,3,${cells}`);
    const { parts, problems } = list(`part,qty,material,thickness,${columns}`, ...rows);
    expect(parts).toEqual([]);
    expect(problems.map(({ code, line, mend }) => [code, line, mend])).toEqual(
      mends.map((mend) => ["missing-column", 1, mend]),
    );
  });
});

describe("a cell that can not be read", () => {
  it("hides no fault of the other cells, and no other follows from it", () => {
    const { problems } = list(
      "part,qty,material,thickness,drawing,shape,width,height,diameter,bore,corner radius",
      "a,0,mdf,3,,rectangle,30,10,,,9",
      "b,1,mdf,3,,ring,,,x,9,",
      "c,1,mdf,3,../c.svg,rign,,,,,",
      "d,1,mdf,3,,rectangle,x,,,,",
    );
    expect(spots(problems)).toEqual([
      ["not-a-whole-number", 2, "qty"],
      ["not-a-length", 3, "diameter"],
      ["not-a-choice", 4, "shape"],
      ["not-a-length", 5, "width"],
      ["size-too-large", 2, "corner radius"],
      ["drawing-outside", 4, "drawing"],
      ["size-missing", 5, "height"],
    ]);
  });
});

describe("the first line", () => {
  it.each([
    ["a title", ["Garden gate,,", "for the Marsh Centre,,", "", "name,length,price", "a,9,1"], 4],
    ["a hint to a spreadsheet", ["sep=;", "name;length;price", "a;9;1"], 2],
  ])("that is %s is one problem", (_, lines, line) => {
    const { rows, unreadable, problems } = read(...lines);
    expect([rows.length, unreadable]).toEqual([0, true]);
    expect(spots(problems)).toEqual([["header-not-first", 1, null]]);
    expect(problems[0]?.mend).toBe(`Remove what stands above line ${line}`);
  });

  it.each(["name|length|price", "name:length:price", "name   length   price"])(
    "parted by something else is one problem: %s",
    (header) => {
      expect(spots(read(header, "a", "b").problems)).toEqual([["unknown-separator", 1, null]]);
    },
  );

  it("loses nothing to characters that nobody sees", () => {
    const { rows, problems } = read(
      "na\u200Bme,\uFEFFlength",
      "a\u00AD,9\u2060 mm",
      "\u00A0b,3\u00A0mm",
    );
    expect(problems).toEqual([]);
    expect(rows.map(({ values }) => [values.name, values.lengthMm])).toEqual([
      ["a", 9],
      ["b", 3],
    ]);
  });
});

function lengths(...lines: readonly string[]): readonly (number | undefined)[] {
  return read(...lines).readable.map(({ values }) => values.lengthMm);
}

describe("decimal commas", () => {
  it("are read in a file with semicolons or tabs whose numbers have them", () => {
    const semicolons = ["name;length;price", "a;12,5;1,50", "b;3,175 mm;", "c;0,5 in;1200"];
    expect(lengths(...semicolons)).toEqual([12.5, 3.175, 12.7]);
    expect(read(...semicolons).problems).toEqual([]);
    expect(read(...semicolons).rows[0]?.values.price?.toFixed(2)).toBe("1.50");
    const tabs = semicolons.map((line) => line.replaceAll(";", "\t"));
    expect(lengths(...tabs)).toEqual([12.5, 3.175, 12.7]);
  });

  it("are not guessed from a comma that may part thousands", () => {
    const { rows, problems } = read("name;length", "a;1,200");
    expect(rows).toEqual([]);
    expect(sentence(problems[0]!)).toContain("Write 1200 for thousands or 1.2 with a decimal");
  });

  it("leave no point beside them, which may part thousands", () => {
    const { problems } = read("name;length;price", "a;12,5;1.200", "b;9;1,5", "c;1.200,5;");
    expect(problems.map(sentence)).toEqual([
      'x.csv, line 2, price: read "1.200", expected an amount, 0 or more, such as 12.50, with a decimal comma as in line 2, length. Write one decimal mark in the whole file, and no marks between thousands.',
      'x.csv, line 4, length: read "1.200,5", expected a length above 0 such as 3.2, 3.2 mm, 1.5 cm or 1/8 in, with a decimal comma as in line 2, length. Write one decimal mark in the whole file, and no marks between thousands.',
    ]);
  });

  it("are the slip where most numbers have points, and in a file with commas", () => {
    const most = read("name;length;price", "a;12,5;1.20", "b;9.5;1.5");
    expect(spots(most.problems)).toEqual([["not-a-length", 2, "length"]]);
    expect(most.problems[0]?.mend).toBe("Write 12.5, with a decimal point");
    expect(spots(read("name,length", 'a,"12,5"').problems)).toEqual([
      ["not-a-length", 2, "length"],
    ]);
  });

  it("in a text stay as they are", () => {
    const columns = { name: required("name", words), much: required("much", positive) };
    const { rows } = readRows(text("x.csv", ["name;much", "1,5;2,5"]), columns);
    expect(rows[0]?.values).toEqual({ name: "1,5", much: 2.5 });
  });
});

/** What is said of a length with semicolons, and the same to mend with tabs. */
function asked(cell: string): readonly string[] {
  const lines = ["name;length", `a;${cell}`, "b;9"];
  const tabs = lines.map((line) => line.replaceAll(";", "\t"));
  const mends = [lines, tabs].map((one) => read(...one).problems.map(({ mend }) => mend));
  expect(mends[0]).toEqual(mends[1]);
  return read(...lines).problems.map(sentence);
}

describe("a point that may part thousands", () => {
  it("is asked about in a list with semicolons or tabs where no number tells", () => {
    expect(asked("1.250")).toEqual([
      'x.csv, line 2, length: read "1.250", expected a length above 0 such as 3.2, 3.2 mm, 1.5 cm or 1/8 in; in a list with semicolons a point may part thousands, and no other number here tells. Write 1250 if thousands are meant, or 1.25.',
    ]);
    expect(asked("3.175 mm")[0]).toContain("Write 3175 mm if thousands are meant, or 3.1750 mm.");
    expect(asked("2.000")[0]).toContain("Write 2000 if thousands are meant, or 2.");
  });

  it("is read where its answer is written", () => {
    for (const [cell, mm] of [
      ["1250", 1250],
      ["1.25", 1.25],
      ["3.1750", 3.175],
      ["2", 2],
    ] as const)
      expect(lengths("name;length", `a;${cell}`, "b;9")).toEqual([mm, 9]);
  });

  it("is a decimal one where another number says so, between commas, and where thousands are too many", () => {
    expect(lengths("name;length;price", "a;1.250;2.5", "b;9;1")).toEqual([1.25, 9]);
    expect(lengths("name,length", "a,1.250")).toEqual([1.25]);
    // 200 m: no part is as long.
    expect(lengths("name;length", "a;200.000", "b;0.125")).toEqual([200, 0.125]);
    expect(lengths("name;length", "a;200.000")).toEqual([200]);
  });
});

function radiiOf(thickness: string, radii: string): unknown {
  const { parts } = list(
    "part;qty;material;thickness;shape;width;height;corner radius",
    `a;1;MDF;${thickness};rectangle;200;100;${radii}`,
  );
  return parts.map(({ form }) => (form.kind === "rectangle" ? form.cornerRadiusMm : null));
}

describe("decimal commas in a cell of several numbers", () => {
  const HEAD = "part;qty;material;thickness;shape;width;height;holes";
  const plate = (thickness: string, holes: string): ReturnType<typeof list> =>
    list(HEAD, `a;1;MDF;${thickness};rectangle;200;100;"${holes}"`);
  const holesOf = (thickness: string, holes: string): unknown => {
    const { parts, problems } = plate(thickness, holes);
    expect(problems).toEqual([]);
    const [form] = parts.map((one) => one.form);
    return form?.kind === "drawing" ? null : form?.holes;
  };

  it.each([
    ["5,5 corners 12", "5.5 corners 12"],
    ["5,5 corners 12,25; 3,5 mm centre", "5.5 corners 12.25; 3.5 centre"],
    ["6 x 4,2 circle 60,5", "6 x 4.2 circle 60.5"],
    ["3 x 2 x 5 grid 40,5 30,5 mm", "3 x 2 x 5 grid 40.5 30.5"],
    ["8,5 at 20 10 60 10", "8.5 at 20 10 60 10"],
    ["8 at 20,5 10", "8 at 20.5 10"],
    ["8 at 20.5 10.5", "8 at 20.5 10.5"],
  ])("are read as the other numbers: %s", (holes, plain) => {
    expect(holesOf("6,5", holes)).toEqual(holesOf("6.5", plain));
    // The holes alone tell as well.
    expect(holesOf("6", holes)).toEqual(holesOf("6", plain));
  });

  it("are read in corner radii", () => {
    const radii = { topLeft: 6.5, topRight: 6.5, bottomRight: 0, bottomLeft: 0 };
    expect(radiiOf("3", "6,5 6,5 0 0")).toEqual([radii]);
    expect(radiiOf("3,5", "6,5 6,5 0 0")).toEqual([radii]);
    expect(radiiOf("3,5", "6,5")).toEqual([6.5]);
    expect(radiiOf("3,5", "6,5,0,0")).toEqual([]);
  });

  it("are asked about where a comma may part two numbers", () => {
    for (const holes of ["8 at 20,5 10,5", "8 at 20,10 60,10", "3 x 2 x 5 grid 40,30"]) {
      const { problems } = plate("6,5", holes);
      expect(spots(problems)).toEqual([["not-holes", 2, "holes"]]);
      expect(problems[0]?.mend).toContain("with blanks between the numbers and decimal points");
    }
  });

  it("leave no point beside them that may part thousands", () => {
    expect(spots(plate("6,5", "5,5 at 1.250 60").problems)).toEqual([
      ["mixed-decimal-marks", 2, "holes"],
    ]);
    expect(spots(plate("6", "5 at 1.250 60").problems)).toEqual([
      ["thousands-or-decimals", 2, "holes"],
    ]);
    expect(holesOf("6", "5.5 at 1.250 60")).toEqual(holesOf("6", "5.50 at 1.25 60"));
  });
});

import { describe, expect, it } from "vitest";
import { checkJob } from "../../src/estimate.ts";
import { isError } from "../../src/problem.ts";
import { readWorked, TABLES, toolBoard } from "../worked/tool-board.ts";
import { planted, PLANTS, told } from "./planted.ts";

function errors(...changed: Parameters<typeof toolBoard>): readonly string[] {
  return checkJob(toolBoard(...changed))
    .filter(isError)
    .map(told);
}

describe("slips in a job and its tables", () => {
  it("are planted in every file", () => {
    const { job, tables } = toolBoard();
    const files = new Set(PLANTS.map(({ file }) => file));
    expect(files.size).toBe(job.length + tables.length);
    expect(errors()).toEqual([]);
  });

  it.each(PLANTS)("$said is said alone, with nothing that only follows from it", (plant) => {
    const found = checkJob(planted([plant]))
      .filter(isError)
      .map(told);
    expect(found).toEqual([plant.said]);
  });

  it("are all said in one run, each once", () => {
    const found = checkJob(planted(PLANTS)).filter(isError).map(told);
    expect(found.toSorted()).toEqual(PLANTS.map(({ said }) => said).toSorted());
  });
});

const LISTS = ["parts.csv", "hardware.csv", "lengths.csv", "hand-work.csv"];
const CSVS = [...LISTS.map((name) => `job/${name}`), ...TABLES.map((name) => `tables/${name}`)];

describe("a file that can not be read in part or at all", () => {
  it("is said once for a column that is missing, whatever needs its rows", () => {
    let judged = 0;
    for (const file of CSVS) {
      const [head = "", ...rows] = readWorked(file).split("\n");
      for (const column of head.split(",")) {
        const renamed = head.replace(new RegExp(`\\b${column}\\b`), "zzz");
        const found = errors({ [file]: [renamed, ...rows].join("\n") });
        if (!found.some((one) => one.startsWith("missing-column"))) continue;
        expect([file, column, found]).toEqual([file, column, [found[0]]]);
        judged++;
      }
    }
    expect(judged).toBeGreaterThan(60);
  });

  it.each(CSVS)("is said once where a quote in %s does not close", (file) => {
    const [head = "", first = "", ...rows] = readWorked(file).split("\n");
    const found = errors({ [file]: [head, `"${first}`, ...rows].join("\n") });
    expect(found.map((one) => one.split(" ")[0])).toEqual(["csv-quotes"]);
  });

  it.each(CSVS)(
    "is said once where %s has a title, another separator or a row too long",
    (file) => {
      const text = readWorked(file);
      const changed: readonly (readonly [string, string])[] = [
        ["header-not-first", `Spring list\n${text}`],
        ["unknown-separator", text.replaceAll(",", "|")],
        ["csv-surplus-cells", text.replace(/\n(.*)\n/, "\n$1,more,cells\n")],
      ];
      for (const [code, lines] of changed)
        expect(errors({ [file]: lines }).map((one) => one.split(" ")[0])).toEqual([code]);
    },
  );

  it.each(CSVS)("is said once where a row of %s has no name", (file) => {
    const [head = "", first = "", ...rows] = readWorked(file).split("\n");
    // Hand work is all blank but for its name; a row of blanks is passed over.
    const unnamed = first.replace(/^[^,]*/, "").replace(/^,,,,$/, ",,1,,");
    const found = errors({ [file]: [head, unnamed, ...rows].join("\n") });
    expect(found.map((one) => one.split(" ")[0])).toEqual(["empty-cell"]);
  });

  it.each(CSVS)("is said once where %s is empty", (file) => {
    expect(errors({ [file]: "" }).map((one) => one.split(" ")[0])).toEqual(["empty-file"]);
  });

  it.each(["", "reference", "price.margin_percent"])(
    "is said once where job.yaml is broken",
    (at) => {
      const text = readWorked("job/job.yaml");
      const broken = {
        "": `${text}\nprice: [`,
        reference: text.replace("reference: TB-1", "reference: a: b"),
        "price.margin_percent": `${text}\nprice:\n  margin_percent: 100 %\n`,
      }[at];
      expect(errors({ "job/job.yaml": broken ?? "" })).toHaveLength(1);
    },
  );
});

/** What is said of a plate of acrylic, 180 mm wide. */
function plateErrors(qty: string, turn: string, height: number): readonly string[] {
  const head = "part,qty,material,thickness,shape,width,height,turn";
  const row = `big,${qty},acrylic cast,3,rectangle,180,${height},${turn}`;
  return errors({ ...NO_LISTS, "job/parts.csv": `${head}\n${row}\n` });
}

const NO_LISTS = { "job/hardware.csv": "item,qty\n", "job/hand-work.csv": "task,qty\n" };

describe("a row of the parts list with a faulty cell", () => {
  const HEAD =
    "part,qty,material,thickness,drawing,shape,width,height,diameter,bore,corner radius,turn,flip,finish,note";
  const SOUND = "nose,1,acrylic cast,3,drawings/name-plate.svg,,,,,,,,,,".split(",");
  const OPEN = readWorked("job/drawings/name-plate.svg").replace(
    "</svg>",
    `<text>nose</text><polyline class="cut" points="0,0 9,0 9,9" fill="none" stroke="red"/></svg>`,
  );

  it.each([
    ["part", "", "empty-cell parts.csv part"],
    ["qty", "two", "not-a-whole-number parts.csv qty"],
    ["material", "", "empty-cell parts.csv material"],
    ["thickness", "nine", "not-a-length parts.csv thickness"],
    ["turn", "sideways", "not-a-choice parts.csv turn"],
    ["flip", "perhaps", "not-yes-or-no parts.csv flip"],
  ])("has its drawing read: %s", (column, cell, said) => {
    const row = SOUND.map((one, index) => (HEAD.split(",")[index] === column ? cell : one));
    const list = `${HEAD}\n${row.join(",")}\n`;
    const lists = { ...NO_LISTS, "job/parts.csv": list };
    expect(errors({ ...lists, "job/drawings/name-plate.svg": OPEN }).toSorted()).toEqual(
      [
        said,
        "contour-open drawings/name-plate.svg polyline",
        "svg-uncuttable drawings/name-plate.svg text",
      ].toSorted(),
    );
    expect(errors(lists)).toEqual([said]);
    // Nothing follows from a thickness that is not known, as that a web is thin for it.
    const warnings = checkJob(toolBoard(lists)).filter((one) => !isError(one));
    expect(warnings.map(({ code }) => code)).not.toContain("web-thin");
  });

  it("is told when it is larger than every sheet, but not where that hangs on the cell", () => {
    const [quantity, turn] = ["not-a-whole-number parts.csv qty", "not-a-choice parts.csv turn"];
    expect(plateErrors("1", "fixed", 250)).toEqual(["does-not-fit parts.csv part"]);
    expect(plateErrors("two", "any", 2000)).toEqual([quantity, "does-not-fit parts.csv part"]);
    expect(plateErrors("1", "sideways", 2000)).toEqual([turn, "does-not-fit parts.csv part"]);
    expect(plateErrors("1", "sideways", 250)).toEqual([turn]);
  });
});

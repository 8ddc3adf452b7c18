import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { findJobFolders } from "../../../src/files/find-jobs.ts";
import { readJobFolder } from "../../../src/files/read.ts";
import { keepChanges } from "../../../src/job/keep.ts";
import { SMALL_PARTS } from "../../helpers/job.ts";
import { ran, SMALL_FILES } from "../../cli/shell.ts";
import { contents, folder } from "../folder.ts";
import { sheetOf } from "./writer.ts";
import type { Cell } from "./writer.ts";

/** The small job's parts list as cells, its numbers as numbers; read by a reader of others. */
function asWorkbook(csv: string): Uint8Array {
  const cells: readonly (readonly Cell[])[] = parse(csv, {
    relax_column_count: true,
  }).map((row: readonly string[]) =>
    row.map((cell) => (/^[\d.]+$/.test(cell) ? Number(cell) : cell || null)),
  );
  return sheetOf(...cells);
}

const LIST = asWorkbook(SMALL_PARTS.text);

const { "job/parts.csv": CSV = "", ...REST } = SMALL_FILES;

async function worked(
  files: Readonly<Record<string, string | Uint8Array>>,
  args: readonly string[],
): Promise<string> {
  const path = await folder(files);
  const tables = ["--tables", join(path, "price-tables"), "--steps", "1"];
  const [command = "", job = "", ...more] = args;
  const { exit, out, err } = await ran([command, join(path, job), ...more, ...tables]);
  if (exit !== 0) throw new Error(err);
  const written = await contents(path);
  // The workbook is packed; its texts are those of costing.csv.
  const results = Object.entries(written).filter(
    ([name]) => /(^|\/)quote\//.test(name) && !name.endsWith(".xlsx"),
  );
  return [out, ...results.flat()]
    .join("\n")
    .replaceAll(path, "")
    .replaceAll(".xlsx, row", ".csv, line")
    .replaceAll(".xlsx", ".csv")
    .replaceAll(/"sha256": ?"[0-9a-f]+"/g, "");
}

describe("a parts list in a workbook", () => {
  it.each([[["quote", "job"]], [["quote", "job", "--json"]], [["explain", "job", "quote.total"]]])(
    "%s answers and writes as with the same list in a CSV",
    async (args) => {
      const [ofWorkbook, ofCsv] = [
        await worked({ ...REST, "job/parts.xlsx": LIST }, args),
        await worked({ ...REST, "job/parts.csv": CSV }, args),
      ];
      expect(ofCsv.length).toBeGreaterThan(args[0] === "quote" ? 10_000 : 1000);
      expect(ofWorkbook).toBe(ofCsv);
    },
  );

  it("is read by its path too, and alone under any name", async () => {
    const path = await folder({ ...REST, "job/parts.xlsx": LIST, "lone/stand 2.xlsx": LIST });
    const byPath = await readJobFolder(join(path, "job/parts.xlsx"));
    expect(byPath.value?.jobName).toBe("job");
    expect(byPath.value?.texts.length).toBeGreaterThan(1);
    const lone = await readJobFolder(join(path, "lone/stand 2.xlsx"));
    expect(lone.value).toMatchObject({ jobName: "stand 2", texts: [{ name: "stand 2.xlsx" }] });
    expect(await findJobFolders(path)).toEqual([join(path, "job")]);
  });

  it("is not read beside a CSV: which of the two holds is not for us to say", async () => {
    const path = await folder({ "parts.xlsx": LIST, "parts.csv": CSV });
    const { exit, out } = await ran(["check", path]);
    expect(exit).toBe(3);
    expect(out).toContain(
      'read "parts.csv and parts.xlsx", expected one parts list. Keep the one that is up to date',
    );
  });

  it("is not changed from the screen, while the job file is", async () => {
    const path = await folder({ "parts.xlsx": LIST, "job.yaml": "pieces: 2\n" });
    const { value } = await readJobFolder(path);
    const texts = value?.texts ?? [];
    expect(keepChanges(texts, { quantities: {}, pieces: 5 })).toMatchObject({
      value: [{ name: "job.yaml", text: "pieces: 5\n" }],
    });
    const refused = keepChanges(texts, { quantities: { ring: 9 }, pieces: null });
    expect(refused).toMatchObject({ value: null, problems: [{ code: "workbook-not-written" }] });
  });
});

describe("the lists beside the parts", () => {
  const names = ["hardware", "lengths", "hand-work"];

  it("are quoted from workbooks as from the same CSVs", async () => {
    const lists = names.map((name) => [name, SMALL_FILES[`job/${name}.csv`] ?? ""] as const);
    const others = Object.entries(SMALL_FILES).filter(
      ([file]) => !names.some((name) => file === `job/${name}.csv`),
    );
    const books = lists.map(([name, csv]) => [`job/${name}.xlsx`, asWorkbook(csv)] as const);
    const [ofWorkbooks, ofCsvs] = [
      await worked(Object.fromEntries([...others, ...books]), ["quote", "job"]),
      await worked(SMALL_FILES, ["quote", "job"]),
    ];
    expect(ofCsvs).toContain("hardware.csv, line");
    expect(ofWorkbooks).toBe(ofCsvs);
  });

  it("are refused as both, each named once", async () => {
    for (const name of names) {
      const csv = SMALL_FILES[`job/${name}.csv`] ?? "";
      const path = await folder({
        "parts.csv": CSV,
        [`${name}.csv`]: csv,
        [`${name}.xlsx`]: asWorkbook(csv),
      });
      const { exit, out } = await ran(["check", path]);
      expect(exit).toBe(3);
      expect(out).toContain(`read "${name}.csv and ${name}.xlsx", expected one of ${name}.csv and`);
    }
  });
});

describe("workbooks that are not read", () => {
  it.each([
    ["parts.xls", {}, 'read "parts.xls", expected a parts list named parts.csv or parts.xlsx'],
    ["parts.ods", {}, 'read "parts.ods", expected a parts list named parts.csv or parts.xlsx'],
    ["Parts.XLSM", {}, "Save the workbook as parts.xlsx, or its sheet as parts.csv"],
    [
      "hardware.ods",
      { "parts.csv": CSV },
      "expected hardware.csv or hardware.xlsx. Save it as one",
    ],
  ])("%s is named", async (name, files, says) => {
    const path = await folder({ ...files, [name]: "?" });
    const { out } = await ran(["check", path]);
    expect(out).toContain(says);
    expect(out.match(new RegExp(`^\\w+: ${name}`, "gm"))).toHaveLength(1);
  });

  it("are passed over where the list is there as a CSV, or they seem to be something else", async () => {
    const path = await folder({ "parts.csv": CSV, "parts.ods": "?", "hours.xlsx": "?" });
    expect((await readJobFolder(path)).problems).toEqual([]);
  });

  it("are told how to become one", async () => {
    const path = await folder({ "stand.ods": "?" });
    const { exit, err } = await ran(["quote", join(path, "stand.ods")]);
    expect(exit).toBe(3);
    expect(err).toContain("save the parts list as .xlsx or CSV");
  });
});

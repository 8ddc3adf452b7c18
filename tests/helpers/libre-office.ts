import { execFile, spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { parse } from "csv-parse/sync";

/** LibreOffice without a window, as a reader of what we write that shares nothing with us. */

export const HAS_LIBRE_OFFICE = spawnSync("soffice", ["--version"]).status === 0;

/** Added to the name of a test that needs it. */
export const WHERE_THERE = HAS_LIBRE_OFFICE ? "" : " (skipped: no soffice here)";

/** It takes a second to start, and longer on a busy machine. */
export const OFFICE_TIMEOUT_MS = 120_000;

/** Rows of a sheet as LibreOffice shows them, numbers with all their digits and a point. */
export type Rows = readonly (readonly string[])[];

/** Separator 44, quote 34, UTF-8, en-US; neither as shown nor formulas. */
const ONE_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,1033,false,false,false,false,false";
/** Each into a file of its own. */
const ALL_SHEETS = `${ONE_SHEET},-1`;

/** Opens workbooks and has all of their formulas worked out. @returns sheets by name, in the same order. */
export async function recalculated(
  books: readonly Uint8Array[],
): Promise<readonly Readonly<Record<string, Rows>>[]> {
  return inFolder(async (dir) => {
    const names = books.map((_, index) => `b${index}.xlsx`);
    for (const [index, bytes] of books.entries()) await writeFile(join(dir, names[index]!), bytes);
    await convert(dir, names, ALL_SHEETS);
    const written = await readdir(join(dir, "out"));
    return Promise.all(
      books.map(async (_, index) => {
        const sheets = written.filter((name) => name.startsWith(`b${index}-`));
        const read = sheets.map(async (name) => {
          const text = await readFile(join(dir, "out", name), "utf8");
          const rows: Rows = parse(text, { relax_column_count: true });
          return [name.slice(name.indexOf("-") + 1, -".csv".length), rows] as const;
        });
        return Object.fromEntries(await Promise.all(read));
      }),
    );
  });
}

/** A profile of its own, in which nothing is taken from the file that can be worked out. */
const ALWAYS_ANEW = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>`;

/** Opens CSV files as where people write in that language. @returns rows, decimals with a point. */
export async function openedCsv(
  texts: readonly string[],
  separator: "," | ";",
  language: keyof typeof LANGUAGES,
): Promise<readonly Rows[]> {
  return inFolder(async (dir) => {
    const names = texts.map((_, index) => `t${index}.csv`);
    for (const [index, text] of texts.entries()) await writeFile(join(dir, names[index]!), text);
    const as = `CSV:${separator.charCodeAt(0)},34,76,1,,${LANGUAGES[language]}`;
    await convert(dir, names, ONE_SHEET, [`--infilter=${as}`]);
    return Promise.all(
      names.map(async (name): Promise<Rows> =>
        parse(await readFile(join(dir, "out", name), "utf8"), { relax_column_count: true }),
      ),
    );
  });
}

/** Language identifiers that its filters take. */
const LANGUAGES = { German: 1031, "English (USA)": 1033 } as const;

async function convert(
  dir: string,
  names: readonly string[],
  to: string,
  more: readonly string[] = [],
): Promise<void> {
  await mkdir(join(dir, "profile/user"), { recursive: true });
  await writeFile(join(dir, "profile/user/registrymodifications.xcu"), ALWAYS_ANEW);
  const profile = `-env:UserInstallation=file://${dir}/profile`;
  const args = [
    "--headless",
    profile,
    ...more,
    "--convert-to",
    to,
    "--outdir",
    join(dir, "out"),
    ...names,
  ];
  await promisify(execFile)("soffice", args, { cwd: dir });
}

async function inFolder<T>(use: (dir: string) => Promise<T>): Promise<T> {
  const dir = await mkdtemp(join(tmpdir(), "office-"));
  try {
    return await use(dir);
  } finally {
    await rm(dir, { recursive: true, force: true });
  }
}

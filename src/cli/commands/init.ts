import { basename, resolve } from "node:path";
import { alreadyThere, createFiles } from "../../files/create.ts";
import { builtInTables, readDrawings, readTableFolder } from "../../files/read.ts";
import { stockFault } from "../../job/stocked.ts";
import { readTables } from "../../job/tables.ts";
import { counted } from "../../names.ts";
import { errorAt, inFile, isError } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { starterFor } from "../../stages/starter.ts";
import type { Starter, StarterSheet } from "../../stages/starter.ts";
import { trimmed } from "../../units.ts";
import { UsageError } from "../arguments.ts";
import type { CommandArguments } from "../arguments.ts";
import { asTyped } from "../as-typed.ts";
import { EXIT } from "../exit.ts";
import type { ExitCode } from "../exit.ts";
import { refuse, sayJson, sayProblems } from "../report.ts";
import type { Shell } from "../shell.ts";

/** `init FOLDER`: parts.csv and job.yaml to begin with, for the drawings of a folder. */
export async function init(
  args: CommandArguments & { readonly sheet: StarterSheet },
  shell: Shell,
): Promise<ExitCode> {
  const wrong = await sheetFault(args);
  if (wrong !== null) throw new UsageError(wrong);
  const folder = await readDrawings(args.job);
  if (!folder.value) return refuse(folder.problems, args.json, shell);
  const { texts, jobFiles, unread } = folder.value;
  if (jobFiles.length > 0) return refuse(jobFiles.map(alreadyThere), args.json, shell);
  const starter = starterFor(basename(resolve(args.job)), texts, args.sheet);
  const found = [...unread, ...starter.drawings.flatMap((drawing) => drawing.problems)];
  if (starter.drawings.every(({ pieces }) => pieces.length === 0))
    return refuse([...found, nothingFound(args.job, texts.length)], args.json, shell);
  const problems = await createFiles(args.job, starter.files);
  if (problems.length > 0) return refuse(problems, args.json, shell);
  sayProblems(
    found.map((problem) => ({ ...problem, severity: "warning" })),
    shell,
  );
  if (args.json) sayJson({ version: 1, ...starter, problems: found }, shell);
  else shell.out(starterText(starter, args));
  return EXIT.done;
}

/** The sheet must be one that the tables sell; null when it is, or is left open. */
async function sheetFault({
  sheet: { material, thickness },
  tables: dir,
}: Parameters<typeof init>[0]): Promise<string | null> {
  if (material === "" && thickness === "") return null;
  const texts = await (dir === null ? builtInTables() : readTableFolder(dir));
  const tables = readTables(texts.value ?? [], [], null);
  return tables.value === null ? null : stockFault({ material, thickness }, tables.value);
}

function starterText({ drawings }: Starter, { job, sheet }: Parameters<typeof init>[0]): string {
  const parts = drawings.flatMap((drawing) => drawing.parts);
  const open = [
    sheet.material === "" ? "material" : "",
    sheet.thickness === "" ? "thickness" : "",
    "qty",
  ].filter((column) => column !== "");
  return [
    ...drawings.map(drawingText),
    "",
    `Written in ${job}: parts.csv with ${counted(parts.length, "part")}, and job.yaml.`,
    `Next: fill in ${open.join(", ")} in parts.csv, say in job.yaml which lines are not cut, then`,
    `  tallywright check ${asTyped(job)}`,
    "",
  ].join("\n");
}

function drawingText({ file, pieces, parts, problems }: Starter["drawings"][number]): string {
  const sizes = pieces.map(
    ({ widthMm, heightMm, holes }, index) =>
      `  ${parts[index] ?? ""}: ${trimmed(widthMm, 1)} x ${trimmed(heightMm, 1)} mm, ${counted(holes, "hole")}`,
  );
  const errors = problems.filter(isError).length;
  const state = pieces.length === 0 ? "no piece: see above" : counted(pieces.length, "piece");
  return [
    `${file}: ${state}${errors > 0 && pieces.length > 0 ? ", see above" : ""}`,
    ...sizes,
  ].join("\n");
}

function nothingFound(folder: string, drawings: number): Problem {
  return errorAt(inFile(folder), {
    code: "no-drawings",
    found: drawings === 0 ? "" : `${counted(drawings, "drawing")} without a piece`,
    expected: "a folder with .svg or .dxf drawings of parts",
    mend: "Put the drawings into the folder, or write a parts.csv of shapes yourself",
  });
}

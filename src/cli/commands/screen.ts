import { outputFiles } from "../../exports/output-files.ts";
import { findJobFolders } from "../../files/find-jobs.ts";
import { keepFile } from "../../files/keep.ts";
import { outputClash, usualOutputFolder } from "../../files/output-folder.ts";
import { writeOutputs } from "../../files/write.ts";
import { keepChanges } from "../../job/keep.ts";
import type { Problem } from "../../problem.ts";
import type { Changes } from "../../tui/changes.ts";
import type { ExportOutcome, OpenedJob, SaveOutcome, Services } from "../../tui/services.ts";
import { commandArguments, UsageError } from "../arguments.ts";
import type { CommandArguments, RawArguments } from "../arguments.ts";
import { EXIT } from "../exit.ts";
import type { Ending } from "../exit.ts";
import { loadInput } from "../load.ts";
import type { Shell } from "../shell.ts";

/** Without a command: the job on screen, or, where there is no terminal, a word on what to do. */
export async function screen(
  words: readonly string[],
  raw: RawArguments,
  shell: Shell,
): Promise<Ending> {
  const args = commandArguments(raw);
  const [job = null, surplus] = words;
  if (surplus !== undefined) throw new UsageError(`one job at a time, not also "${surplus}"`);
  if (!shell.terminal.stdin || !shell.terminal.stdout) {
    const example = `tallywright quote ${job ?? "JOB"}`;
    throw new UsageError(
      `without a terminal there is no screen to show; use a command such as ${example}`,
    );
  }
  return show(job, args, shell);
}

async function show(job: string | null, args: CommandArguments, shell: Shell): Promise<Ending> {
  const [{ runTui }, { workerRunner }] = await Promise.all([
    import("../../tui/run.tsx"),
    import("../../tui/worker-runner.ts"),
  ]);
  const runner = workerRunner();
  try {
    const left = await runTui(servicesFor(args, runner), job, process);
    for (const line of left.lastLines) shell.out(`${line}\n`);
    return left.signal ?? EXIT.done;
  } finally {
    await runner.close();
  }
}

function servicesFor(
  args: CommandArguments,
  runner: { start: Services["startEstimate"] },
): Services {
  let opened = args.job;
  return {
    openJob: async (path) => {
      const input = await loadInput({ ...args, job: path });
      if (input.value) opened = path;
      return { value: input.value && { path, input: input.value }, problems: input.problems };
    },
    startEstimate: (input, onProgress) => runner.start(input, onProgress),
    exportQuote: async (estimate, dir = usualOutputFolder(opened)): Promise<ExportOutcome> => {
      const clash = await outputClash(dir, { job: opened, tables: args.tables });
      if (clash !== null) return { kind: "refused", problems: [clash] };
      const { problems } = await writeOutputs(dir, outputFiles(estimate));
      if (problems.length > 0) return { kind: "refused", problems };
      return { kind: "written", dir, files: outputFiles(estimate).map(({ name }) => name) };
    },
    saveChanges,
    findJobs: () => findJobFolders("."),
  };
}

/** Nothing is written unless a place was found for every number. */
async function saveChanges({ path, input }: OpenedJob, changes: Changes): Promise<SaveOutcome> {
  const kept = keepChanges(input.job, changes);
  if (!kept.value) return { files: [], problems: kept.problems };
  const files: string[] = [];
  const problems: Problem[] = [];
  for (const file of kept.value) {
    const faults = await keepFile(path, file);
    if (faults.length === 0) files.push(file.name);
    problems.push(...faults);
  }
  return { files, problems };
}

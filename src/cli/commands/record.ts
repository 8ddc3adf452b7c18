import { estimate } from "../../estimate.ts";
import { tookForm } from "../../exports/took-form.ts";
import { createFiles } from "../../files/create.ts";
import {
  addToLog,
  formInTheWay,
  formPath,
  jobFolderOf,
  nameInLog,
  noJobFolder,
  readIfThere,
  shopLogPath,
} from "../../files/shop-log.ts";
import { dayMeant, isDay } from "../../job/day.ts";
import { FORM } from "../../job/file-names.ts";
import { withTaken } from "../../log/book.ts";
import { readForm } from "../../log/form.ts";
import { counted } from "../../names.ts";
import { errorAt, inFile } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { answer } from "../answer.ts";
import { UsageError } from "../arguments.ts";
import type { CommandArguments } from "../arguments.ts";
import { asTyped } from "../as-typed.ts";
import { EXIT, exitFor } from "../exit.ts";
import type { Ending, ExitCode } from "../exit.ts";
import { refuse, sayJson, sayProblems } from "../report.ts";
import type { Shell } from "../shell.ts";

type RecordArguments = CommandArguments & {
  /** Day on which the job was made; null to get the form. */
  readonly done: string | null;
  /** The log; null for that of the folder which the job is in. */
  readonly log: string | null;
};

/** `record JOB`: a form of what was estimated; `record JOB --done DAY`: the filled-in form to the log. */
export async function record(args: RecordArguments, shell: Shell): Promise<Ending> {
  if (args.done === null) return giveForm(args, shell);
  return takeForm({ ...args, done: dayOf(args.done, shell.today()) }, shell);
}

async function giveForm(args: RecordArguments, shell: Shell): Promise<Ending> {
  const { job, json } = args;
  return answer(
    args,
    shell,
    estimate,
    async (estimated) => {
      const file = { name: FORM, content: tookForm(estimated) };
      const problems = await createFiles(jobFolderOf(job), [file]);
      if (problems.length > 0) return refuse(problems, json, shell);
      if (json) sayJson({ version: 1, form: formPath(job) }, shell);
      else
        shell.out(
          `Written: ${formPath(job)}\nWhen the job is made, fill in what you noted under took, then\n  tallywright record ${asTyped(job)} --done DAY\n`,
        );
      return EXIT.done;
    },
    async () => formInTheWay(job),
  );
}

async function takeForm(
  { job, done, log, json }: RecordArguments & { readonly done: string },
  shell: Shell,
): Promise<ExitCode> {
  const homeless = await noJobFolder(job);
  if (homeless !== null) return refuse([homeless], json, shell);
  const read = await readIfThere(formPath(job));
  if (read === null) return refuse([noForm(job)], json, shell);
  const form = read.value && readForm({ ...read.value, name: FORM });
  if (!form) return refuse(read.problems, json, shell);
  const { value: taken } = form;
  if (!taken) return refuse(form.problems, json, shell);
  const path = shopLogPath(job, log);
  const name = nameInLog(job, path);
  const added = await addToLog(path, (before) => withTaken(before, name, done, taken));
  const problems = [...form.problems, ...added.problems];
  if (added.value === null) return refuse(problems, json, shell);
  sayProblems(problems, shell);
  if (json) sayJson({ version: 1, log: path, added: added.value }, shell);
  else
    shell.out(
      added.value === 0
        ? `Nothing new: ${path} has it all already.\n`
        : `${counted(added.value, "row")} added to ${path}\nWhat all jobs took:\n  tallywright log ${asTyped(job)}\n`,
    );
  return exitFor(problems);
}

/** @throws UsageError */
function dayOf(text: string, today: string): string {
  if (isDay(text)) {
    if (text <= today) return text;
    throw new UsageError(
      `--done takes the day on which the job was made, and ${text} is still to come: today is ${today}`,
    );
  }
  const meant = dayMeant(text);
  const hint = meant === null ? "" : `; write ${meant} if that is meant`;
  throw new UsageError(
    `--done takes the day on which the job was made, such as 2026-11-25, not "${text}"${hint}`,
  );
}

function noForm(job: string): Problem {
  return errorAt(inFile(formPath(job)), {
    code: "no-form",
    found: "",
    expected: "the form that was filled in",
    mend: `Get it by tallywright record ${asTyped(job)}, fill in took, and record again with --done`,
  });
}

import yargs from "yargs";
import type { Argv } from "yargs";
import { packageVersion } from "../files/package-version.ts";
import { nearest } from "../names.ts";
import { commandArguments, UsageError } from "./arguments.ts";
import type { RawArguments } from "./arguments.ts";
import type { Ending } from "./exit.ts";
import type { Shell } from "./shell.ts";

/** What the arguments ask for. */
export type Parsed =
  | { readonly kind: "help"; readonly text: string }
  | { readonly kind: "command"; readonly run: (shell: Shell) => Promise<Ending> };

type Run = (shell: Shell) => Promise<Ending>;
type Options = (parser: Argv) => Argv;

interface Command {
  readonly usage: string;
  readonly what: string;
  readonly options: Options;
  /** Loads the command's code only when it is asked for. */
  readonly begin: (raw: RawArguments) => Run;
}

const COMMANDS: readonly Command[] = [
  {
    usage: "quote <job>",
    what: "Work the job out and write the quote, costing, shopping list, cut list and layouts",
    options: (parser) =>
      searching(parser).option("out", text("Folder for the files; by default JOB/quote")),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), out: raw.out ?? null };
      return (await import("./commands/quote.ts")).quote(args, shell);
    },
  },
  {
    usage: "nest <job>",
    what: "Show what lies where on which sheets",
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/nest.ts")).nest(commandArguments(raw), shell),
  },
  {
    usage: "sheets <job>",
    what: "Compare the sizes of sheet that each material is sold in",
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/sheets.ts")).sheets(commandArguments(raw), shell),
  },
  {
    usage: "time <job>",
    what: "Show the machine's time for each sheet and operation",
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/time.ts")).time(commandArguments(raw), shell),
  },
  {
    usage: "check <job>",
    what: "Report every problem of the job, its drawings and its tables",
    options: (parser) => common(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/check.ts")).check(commandArguments(raw), shell),
  },
  {
    usage: "explain <job> [figure]",
    what: "Show where a figure comes from, down to file, row and column, or which figures there are",
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), figure: raw.figure ?? null };
      return (await import("./commands/explain.ts")).explain(args, shell);
    },
  },
];

/** @throws UsageError for unknown commands and options, with the nearest known one. */
export async function parseCommand(args: readonly string[]): Promise<Parsed> {
  const chosen: { run: Run | null } = { run: null };
  const help: { text: string | null } = { text: null };
  const parser = describe(chosen).version(await packageVersion());
  const rest = await parser.parseAsync([...args], {}, (error, _argv, output) => {
    if (error) throw new UsageError(usageText(error.message));
    if (output !== "") help.text = output;
  });
  if (help.text !== null) return { kind: "help", text: help.text };
  if (chosen.run) return { kind: "command", run: chosen.run };
  return { kind: "command", run: onScreen(rest._.map(String), rawOf(rest)) };
}

function describe(chosen: { run: Run | null }): Argv {
  const start = yargs()
    .scriptName("tallywright")
    .locale("en")
    .usage("$0 <command> <job>\n$0 [job]          in a terminal: the job on screen")
    .example("$0 quote demo-data/marsh-birds", "price the demo and write its files")
    .epilogue(EPILOGUE);
  const known = COMMANDS.reduce(
    (parser, { usage, what, options, begin }) =>
      parser.command(
        usage,
        what,
        (inner) => options(job(inner)).strict(),
        (raw) => {
          chosen.run = begin(rawOf(raw));
        },
      ),
    start,
  );
  return searching(known, false)
    .parserConfiguration({ "parse-positional-numbers": false, "duplicate-arguments-array": false })
    .strictOptions()
    .recommendCommands()
    .exitProcess(false)
    .help()
    .alias("help", "h")
    .wrap(80);
}

const EPILOGUE = `JOB is a folder with a parts.csv, or a lone parts list.
Exit: 0 done, 1 fault of ours, 2 wrong usage, 3 input has errors, 4 no feasible plan.`;

function job(parser: Argv): Argv {
  return parser.positional("job", {
    type: "string",
    describe: "Folder with a parts.csv, or a lone parts list",
  });
}

function common(parser: Argv): Argv {
  return parser
    .option("json", { type: "boolean", describe: "One JSON document on stdout" })
    .option("tables", text("Folder of price tables instead of the built-in ones"))
    .option("seed", text("Whole number that varied passes draw from (1)"));
}

/** Options of commands that nest. */
function searching(parser: Argv, global = true): Argv {
  return common(parser)
    .option("steps", {
      ...text("Passes that the nesting makes (4); more may nest tighter"),
      global,
    })
    .option("seconds", { ...text("Nest for about so long instead of so many passes"), global });
}

function text(describe: string): { type: "string"; describe: string; requiresArg: true } {
  return { type: "string", describe, requiresArg: true };
}

function rawOf(values: Readonly<Record<string, unknown>>): RawArguments {
  const textOf = (name: string): string | undefined => {
    const value = values[name];
    return typeof value === "string" ? value : undefined;
  };
  return {
    job: textOf("job"),
    figure: textOf("figure"),
    out: textOf("out"),
    tables: textOf("tables"),
    seed: textOf("seed"),
    steps: textOf("steps"),
    seconds: textOf("seconds"),
    json: values["json"] === true,
  };
}

/** What yargs found wrong, in our words. */
function usageText(message: string): string {
  const unknown = /^Unknown arguments?: (.+)$/.exec(message)?.[1];
  if (unknown !== undefined) {
    const [first = ""] = unknown.split(", ");
    if (OPTIONS.includes(first)) return `this command takes no --${first}`;
    const near = nearest(first, OPTIONS);
    return `unknown option or surplus word "${unknown}"${near === null ? "" : `; did you mean --${near}?`}`;
  }
  const suggested = /^Did you mean (.+)\?$/.exec(message)?.[1];
  if (suggested !== undefined) return `there is no such command; did you mean ${suggested}?`;
  if (message.startsWith("Not enough non-option")) return "the command needs a JOB";
  return message;
}

const OPTIONS = ["json", "tables", "seed", "steps", "seconds", "out", "help", "version"];

/** Without a command: the screen, where there is a terminal for it. */
function onScreen(words: readonly string[], raw: RawArguments): Run {
  return async (shell) => (await import("./commands/screen.ts")).screen(words, raw, shell);
}

import yargs from "yargs";
import type { Argv } from "yargs";
import { isThere } from "../files/is-there.ts";
import { packageVersion } from "../files/package-version.ts";
import { commandArguments, lotSizes, UsageError } from "./arguments.ts";
import type { RawArguments } from "./arguments.ts";
import type { Ending } from "./exit.ts";
import type { Shell } from "./shell.ts";
import { assertPlain, unknownWord, usageText } from "./usage-text.ts";

/** What the arguments ask for. */
export type Parsed =
  | { readonly kind: "help"; readonly text: string }
  | { readonly kind: "command"; readonly run: (shell: Shell) => Promise<Ending> };

type Run = (shell: Shell) => Promise<Ending>;
type Options = (parser: Argv) => Argv;

interface Command {
  readonly usage: string;
  readonly what: string;
  /** What the word after it leads to, where it is no job yet. */
  readonly job?: string;
  /** Words after the name. */
  readonly example: string;
  /** What else there is to know, before the exit codes. */
  readonly more: readonly string[];
  readonly options: Options;
  /** Loads the command's code only when it is asked for. */
  readonly begin: (raw: RawArguments) => Run;
}

const EARLIER = `The whole set of files that a new one replaces is kept in earlier/001, 002, ...
of the same folder.`;
const FIGURE = "FIGURE is an id from the first column of costing.csv; without one they are listed.";
const COMMAS = "CSV files with decimal commas, and semicolons between cells";
const COMB = `A comb is a strip with slots in steps: cut it from the sheet at hand and see
which one holds.`;
const CTRL_C = `Ctrl-C ends the search and goes on with the best nest so far; a second
one ends at once and writes nothing.`;

const EACH_LOT = `Each number is nested anew in as many rounds as quote would, the job's own among
them, so that the prices are those that quote would name.`;

const KEPT = `quote keeps estimate.json beside its files, and those of earlier quotes in
earlier/001, 002, ... of the same folder.`;

const LOG = "The log, by default shop-log.csv in the folder that the job is in";
const RECORD = `Without --done the form, took.csv, is put into the job: fill in took where you
noted it. The log only grows, and the tables are never changed.`;

const NEVER = `Folders inside it are read too. Nothing that exists is replaced: a folder that
is a job already is left alone.`;

const COMMANDS: readonly Command[] = [
  {
    usage: "init <job>",
    job: "Folder with the drawings, which becomes that of the job",
    what: "Make a parts list and a job file to begin with, from a folder of drawings",
    example: "my-drawings --material 'acrylic cast' --thickness 3mm",
    more: [NEVER],
    options: (parser) =>
      common(parser)
        .option("material", text("What all parts are cut from, as sheets.csv has it"))
        .option("thickness", text("How thick it is: 3, 3mm, 1/8in")),
    begin: (raw) => async (shell) => {
      const sheet = { material: raw.material ?? "", thickness: raw.thickness ?? "" };
      return (await import("./commands/init.ts")).init({ ...commandArguments(raw), sheet }, shell);
    },
  },
  {
    usage: "quote <job>",
    what: "Work the job out and write the quote, costing, shopping list, cut list and layouts",
    example: "demo-data/marsh-birds --out /tmp/birds",
    more: [EARLIER, CTRL_C],
    options: (parser) =>
      searching(parser)
        .option("out", text("Folder for the files; by default JOB/quote"))
        .option("decimal-comma", { type: "boolean", describe: COMMAS }),
    begin: (raw) => async (shell) => {
      const decimalComma = raw.decimalComma ?? false;
      const args = { ...commandArguments(raw), out: raw.out ?? null, decimalComma };
      return (await import("./commands/quote.ts")).quote(args, shell);
    },
  },
  {
    usage: "nest <job>",
    what: "Show what lies where on which sheets",
    example: "demo-data/marsh-birds --seconds 10",
    more: [CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/nest.ts")).nest(commandArguments(raw), shell),
  },
  {
    usage: "sheets <job>",
    what: "Compare the choices of sheets for each material",
    example: "demo-data/marsh-birds",
    more: [CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/sheets.ts")).sheets(commandArguments(raw), shell),
  },
  {
    usage: "lots <job>",
    what: "Price the job for other numbers of pieces, and tell what falls with the number",
    example: "demo-data/marsh-birds --pieces 6,12,24",
    more: [EACH_LOT, CTRL_C],
    options: (parser) =>
      searching(parser).option("pieces", text("How many, with commas between (1,2,5,10,25)")),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), pieces: lotSizes(raw.pieces) };
      return (await import("./commands/lots.ts")).lots(args, shell);
    },
  },
  {
    usage: "alternatives <job>",
    what: "Price the job with the other materials and finishes that job.yaml names",
    example: "demo-data/marsh-birds",
    more: [CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/alternatives.ts")).alternatives(commandArguments(raw), shell),
  },
  {
    usage: "time <job>",
    what: "Show the machine's time for each sheet and operation",
    example: "demo-data/marsh-birds",
    more: [CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/time.ts")).time(commandArguments(raw), shell),
  },
  {
    usage: "fit <job>",
    what: "Hold the slots of the parts against the sheets that are to stand in them",
    example: "demo-data/marsh-birds --out /tmp/combs",
    more: [COMB],
    options: (parser) =>
      common(parser).option("out", text("Folder for a comb of slots in steps, for each sheet")),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), out: raw.out ?? null };
      return (await import("./commands/fit.ts")).fit(args, shell);
    },
  },
  {
    usage: "check <job>",
    what: "Report every problem of the job, its drawings and its tables",
    example: "demo-data/marsh-birds",
    more: [],
    options: (parser) => common(parser),
    begin: (raw) => async (shell) =>
      (await import("./commands/check.ts")).check(commandArguments(raw), shell),
  },
  {
    usage: "explain <job> [figure]",
    what: "Show where a figure comes from, down to file, row and column, or which figures there are",
    example: "demo-data/marsh-birds quote.net",
    more: [FIGURE, CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), figure: raw.figure ?? null };
      return (await import("./commands/explain.ts")).explain(args, shell);
    },
  },
  {
    usage: "differences <job> <earlier>",
    what: "Tell what became dearer or cheaper since an earlier estimate, and what caused it",
    example: "demo-data/marsh-birds demo-out/marsh-birds",
    more: [KEPT, CTRL_C],
    options: (parser) => searching(parser),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), earlier: raw.earlier ?? "" };
      return (await import("./commands/differences.ts")).differences(args, shell);
    },
  },
  {
    usage: "record <job>",
    what: "Note what a job really took: a form to fill in, then into the log of all jobs",
    example: "my-job --done 2026-11-25",
    more: [RECORD],
    options: (parser) =>
      searching(parser)
        .option("done", text("Day on which it was made: adds the filled-in form to the log"))
        .option("log", text(LOG)),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), done: raw.done ?? null, log: raw.log ?? null };
      return (await import("./commands/record.ts")).record(args, shell);
    },
  },
  {
    usage: "log <job>",
    what: "Hold what all jobs took against their estimates, and propose rows for feeds.csv",
    example: "my-job",
    more: [],
    options: (parser) => common(parser).option("log", text(LOG)),
    begin: (raw) => async (shell) => {
      const args = { ...commandArguments(raw), log: raw.log ?? null };
      return (await import("./commands/log.ts")).log(args, shell);
    },
  },
];

/** @throws UsageError for unknown commands and options, with the nearest known one. */
export async function parseCommand(typed: readonly string[]): Promise<Parsed> {
  const args = typed[0] === "help" ? [...typed.slice(1), "--help"] : typed;
  if (args[0]?.startsWith("-") === false) await assertCommandOrJob(args[0]);
  assertPlain(args);
  const chosen: { run: Run | null } = { run: null };
  const help: { text: string | null } = { text: null };
  const parser = describe(chosen).version(await packageVersion());
  const rest = await parser.parseAsync([...args], {}, (error, _argv, output) => {
    if (error) throw new UsageError(usageText(error.message, args));
    if (output !== "") help.text = output;
  });
  if (help.text !== null) return { kind: "help", text: help.text };
  if (chosen.run) return { kind: "command", run: chosen.run };
  const words = rest._.map(String);
  if (words[0] !== undefined) await assertCommandOrJob(words[0]);
  return { kind: "command", run: onScreen(words, rawOf(rest)) };
}

async function assertCommandOrJob(word: string): Promise<void> {
  const commands = COMMANDS.map(({ usage }) => usage.split(" ", 1)[0] ?? "");
  if (!commands.includes(word) && !(await isThere(word)))
    throw new UsageError(unknownWord(word, commands));
}

function describe(chosen: { run: Run | null }): Argv {
  const start = yargs()
    .scriptName("tallywright")
    .locale("en")
    .usage("$0 <command> <job>\n$0 [job]          in a terminal: the job on screen")
    .example("$0 quote demo-data/marsh-birds", "price the demo and write its files")
    .epilogue(EPILOGUE);
  const known = COMMANDS.reduce(
    (parser, command) =>
      parser.command(
        command.usage,
        command.what,
        (inner) => described(command, inner),
        (raw) => {
          chosen.run = command.begin(rawOf(raw));
        },
      ),
    start,
  );
  return searching(known, false)
    .parserConfiguration({
      "parse-positional-numbers": false,
      "boolean-negation": false,
      "dot-notation": false,
    })
    .strictOptions()
    .exitProcess(false)
    .help()
    .alias("help", "h")
    .wrap(80);
}

const EXITS = `Exit: 0 done, 1 fault of ours, 2 wrong usage, 3 input has errors,
4 no feasible plan; by signal when interrupted.`;
const EPILOGUE = `JOB is a folder with a parts.csv or parts.xlsx, or a lone parts list.\n${EXITS}`;

function described({ usage, job, example, more, options }: Command, parser: Argv): Argv {
  const [name = "", , second = ""] = usage.split(" ");
  const withJob = parser.positional("job", {
    type: "string",
    describe: job ?? "Folder with a parts.csv or parts.xlsx, or a lone list",
  });
  const word = second.replace(/\W/g, "");
  const describe = SECOND_WORDS[word];
  const withWords =
    describe === undefined ? withJob : withJob.positional(word, { type: "string", describe });
  return options(withWords)
    .epilogue([`Example: $0 ${name} ${example}`, ...more, EXITS].join("\n"))
    .strict();
}

/** What may stand after the job. */
const SECOND_WORDS: Readonly<Record<string, string>> = {
  figure: "Id of a figure",
  earlier: "An estimate.json, a folder with one, or another job",
};

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
    earlier: textOf("earlier"),
    pieces: textOf("pieces"),
    out: textOf("out"),
    done: textOf("done"),
    log: textOf("log"),
    material: textOf("material"),
    thickness: textOf("thickness"),
    tables: textOf("tables"),
    seed: textOf("seed"),
    steps: textOf("steps"),
    seconds: textOf("seconds"),
    json: values["json"] === true,
    decimalComma: values["decimal-comma"] === true,
  };
}

/** Without a command: the screen, where there is a terminal for it. */
function onScreen(words: readonly string[], raw: RawArguments): Run {
  return async (shell) => (await import("./commands/screen.ts")).screen(words, raw, shell);
}

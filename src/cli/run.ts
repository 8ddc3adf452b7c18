import { UsageError } from "./arguments.ts";
import { EXIT } from "./exit.ts";
import type { Ending } from "./exit.ts";
import { Interrupted } from "./interruption.ts";
import { parseCommand } from "./parse.ts";
import type { Shell } from "./shell.ts";

/** Runs the program with its arguments; every way it can end is an exit code. */
export async function run(args: readonly string[], shell: Shell): Promise<Ending> {
  try {
    const parsed = await parseCommand(args);
    if (parsed.kind === "help") {
      shell.out(`${parsed.text}\n`);
      return EXIT.done;
    }
    return await parsed.run(shell);
  } catch (error) {
    if (error instanceof UsageError) {
      shell.err(`error: ${error.message}\nTry tallywright --help.\n`);
      return EXIT.wrongUsage;
    }
    if (error instanceof Interrupted) return error.signal;
    shell.err(faultText(error));
    return EXIT.faultOfOurs;
  }
}

/** A fault of ours, with what a report of it needs. */
function faultText(error: unknown): string {
  const what = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return `fault in tallywright; nothing was written. Please report it with your job:\n${what}\n`;
}

import { systemProblem } from "../files/system-problem.ts";
import { threadAide, type ThreadAide } from "../threads/thread-aide.ts";
import { sentence } from "../problem.ts";

/** The world as a command sees it, handed in so that it can be tested as terminal and as pipe. */
export interface Shell {
  /** Results only. */
  readonly out: (text: string) => void;
  /** Problems, progress and notes. */
  readonly err: (text: string) => void;
  /** Whether a person sits there, and control sequences are understood. */
  readonly terminal: {
    readonly stdin: boolean;
    readonly stdout: boolean;
    readonly stderr: boolean;
  };
  /** Milliseconds of a clock that only runs forward. */
  readonly now: () => number;
  /** The day by the clock on the wall, as ISO 8601. */
  readonly today: () => string;
  /** Lets signals be heard between two stretches of work. */
  readonly breathe: () => Promise<void>;
  /** Somebody to help with long work beside this thread; null for nobody. */
  readonly aide: () => ThreadAide | null;
  /** Has the signals that would end the process heard instead; gives back how to stop that. */
  readonly onSignal: (hear: (signal: NodeJS.Signals) => void) => () => void;
}

/** Back to the start of the line on a terminal, and nothing in it. */
export const CLEAR_LINE = "\r\u001B[K";

const SIGNALS: readonly NodeJS.Signals[] = ["SIGINT", "SIGTERM", "SIGHUP"];

export function processShell(): Shell {
  const { stdin, stdout, stderr } = process;
  const isDumb = process.env["TERM"] === "dumb";
  return {
    out: (text) => stdout.write(text),
    err: (text) => stderr.write(text),
    terminal: {
      stdin: stdin.isTTY,
      stdout: stdout.isTTY && !isDumb,
      stderr: stderr.isTTY && !isDumb,
    },
    now: () => performance.now(),
    today: () => dayOnTheWall(new Date()),
    breathe: async () => new Promise((done) => void setImmediate(done)),
    aide: threadAide,
    onSignal: (hear) => {
      for (const signal of SIGNALS) process.on(signal, hear);
      return () => {
        for (const signal of SIGNALS) process.off(signal, hear);
      };
    },
  };
}

function dayOnTheWall(time: Date): string {
  const [month, day] = [time.getMonth() + 1, time.getDate()];
  return [time.getFullYear(), month, day].map((one) => String(one).padStart(2, "0")).join("-");
}

/** For a stdout that takes nothing any more, such as a file on a full disk. */
export function lostOutputText(error: unknown): string {
  return `error: ${sentence(systemProblem("the output", error))}\n`;
}

/** The world as a command sees it, handed in so that it can be tested as terminal and as pipe. */
export interface Shell {
  /** Results only. */
  readonly out: (text: string) => void;
  /** Problems, progress and notes. */
  readonly err: (text: string) => void;
  readonly terminal: {
    readonly stdin: boolean;
    readonly stdout: boolean;
    readonly stderr: boolean;
  };
  /** Milliseconds of a clock that only runs forward. */
  readonly now: () => number;
}

export function processShell(): Shell {
  const { stdin, stdout, stderr } = process;
  return {
    out: (text) => stdout.write(text),
    err: (text) => stderr.write(text),
    terminal: { stdin: stdin.isTTY, stdout: stdout.isTTY, stderr: stderr.isTTY },
    now: () => performance.now(),
  };
}

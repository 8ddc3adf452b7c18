import "./interactive.ts";
import { render } from "ink";
import { App } from "./app.tsx";
import { lastLines } from "./last-lines.ts";
import { showsUnicode } from "./plain-signs.ts";
import type { Services } from "./services.ts";
import type { State } from "./state.ts";
import { themeFor } from "./theme.ts";

/** Takes the terminal over and gives it back as it was, however the screen ends. */

export interface Streams {
  readonly stdin: NodeJS.ReadStream;
  readonly stdout: NodeJS.WriteStream;
  readonly environment?: Readonly<Record<string, string | undefined>>;
}

export interface Left {
  /** For the normal screen, after the alternate one is gone. */
  readonly lastLines: readonly string[];
  /** The signal that ended it; the caller ends the process by the same one. */
  readonly signal: NodeJS.Signals | null;
}

/** Alternate screen, cursor to its corner, pastes told from typing (xterm's modes 1049 and 2004). */
const ENTER = "\u001B[?1049h\u001B[H\u001B[?2004h";
const LEAVE = "\u001B[?2004l\u001B[?25h\u001B[?1049l";
const WIPE = "\u001B[2J\u001B[H";
const ERASE_SCROLLBACK = "\u001B[3J";
const SIGNALS: readonly NodeJS.Signals[] = ["SIGINT", "SIGTERM", "SIGHUP"];

/** Both streams have to be terminals. Rejects with what went wrong when drawing itself failed. */
export async function runTui(
  services: Services,
  initialJob: string | null,
  { stdin, stdout, environment = process.env }: Streams,
): Promise<Left> {
  let last: State | null = null;
  let signal: NodeJS.Signals | null = null;
  const screen = takeScreen(stdout);
  const caught = new Map<NodeJS.Signals, () => void>();
  try {
    const instance = render(
      <App
        services={services}
        initialJob={initialJob}
        theme={themeFor(environment)}
        unicode={showsUnicode(environment)}
        onState={(state) => {
          last = state;
        }}
      />,
      { stdin, stdout: sparingScrollback(stdout), exitOnCtrlC: false },
    );
    for (const name of SIGNALS) {
      caught.set(name, () => {
        signal = name;
        instance.unmount();
      });
    }
    for (const [name, ended] of caught) process.on(name, ended);
    await instance.waitUntilExit();
  } finally {
    for (const [name, ended] of caught) process.off(name, ended);
    screen.giveBack();
  }
  return { lastLines: last === null ? [] : lastLines(last), signal };
}

/** On the alternate screen until given back, also when the process ends by a fault. */
function takeScreen(stdout: NodeJS.WriteStream): { giveBack(): void } {
  let taken = true;
  const wipe = (): void => {
    stdout.write(WIPE);
  };
  const giveBack = (): void => {
    if (taken) stdout.write(LEAVE);
    taken = false;
    stdout.off("resize", wipe);
    process.off("exit", giveBack);
    process.off("uncaughtExceptionMonitor", giveBack);
  };
  // Before Ink listens, so that it redraws on an empty screen.
  stdout.on("resize", wipe);
  process.on("exit", giveBack);
  process.on("uncaughtExceptionMonitor", giveBack);
  stdout.write(ENTER);
  return { giveBack };
}

/** When the window shrinks below a frame, Ink erases what the person had scrolled away: not here. */
function sparingScrollback(stdout: NodeJS.WriteStream): NodeJS.WriteStream {
  const write = (chunk: string | Uint8Array, ...rest: []): boolean =>
    stdout.write(
      typeof chunk === "string" ? chunk.replaceAll(ERASE_SCROLLBACK, "") : chunk,
      ...rest,
    );
  return new Proxy(stdout, {
    get(target, name): unknown {
      if (name === "write") return write;
      const value: unknown = Reflect.get(target, name);
      return typeof value === "function" ? value.bind(target) : value;
    },
  });
}

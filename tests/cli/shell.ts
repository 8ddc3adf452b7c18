import { run } from "../../src/cli/run.ts";
import type { Shell } from "../../src/cli/shell.ts";
import { SMALL_JOB, SMALL_TABLES } from "../helpers/job.ts";

export interface Ran {
  readonly exit: number | string;
  readonly out: string;
  readonly err: string;
}

export interface World {
  /** All three streams are terminals; else pipes. */
  readonly terminal?: boolean;
  /** By which the clock moves on each time that it is read. */
  readonly tickMs?: number;
  /** Signals that arrive one by one, each when the work next lets them be heard. */
  readonly signals?: readonly NodeJS.Signals[];
}

/** Runs the program as a command line would, in a world of the test's making. */
export async function ran(args: readonly string[], world: World = {}): Promise<Ran> {
  const said = { out: "", err: "" };
  let now = 0;
  const { terminal = false, tickMs = 0 } = world;
  const coming = [...(world.signals ?? [])];
  let hear: ((signal: NodeJS.Signals) => void) | null = null;
  const shell: Shell = {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    terminal: { stdin: terminal, stdout: terminal, stderr: terminal },
    now: () => (now += tickMs),
    today: () => "2026-11-26",
    breathe: async () => {
      const signal = coming.shift();
      if (signal !== undefined) hear?.(signal);
      return Promise.resolve();
    },
    aide: () => null,
    onSignal: (listener) => {
      hear = listener;
      return () => (hear = null);
    },
  };
  const exit = await run(args, shell);
  if (hear !== null) throw new Error("somebody still listens for signals");
  return { exit, ...said };
}

/** Files of the small commission in `job/` and of its tables in `price-tables/`. */
export const SMALL_FILES: Readonly<Record<string, string>> = Object.fromEntries([
  ...SMALL_JOB.map(({ name, text }) => [`job/${name}`, text] as const),
  ...SMALL_TABLES.map(({ name, text }) => [name, text] as const),
]);

import { CLEAR_LINE } from "./shell.ts";
import type { Shell } from "./shell.ts";

/** The work was ended at once by a signal: nothing was written, nothing is said. */
export class Interrupted extends Error {
  readonly signal: NodeJS.Signals;

  constructor(signal: NodeJS.Signals) {
    super(signal);
    this.signal = signal;
  }
}

/**
 * What the person at the keyboard wants of long work. The first Ctrl-C ends the search: the best so
 * far is worked out, said and written as always. A second one, or a signal that is no Ctrl-C, ends
 * the work at once. Files that are just being written are still brought to their places. Whichever
 * it was, the process ends by that signal.
 */
export class Interruption {
  readonly #shell: Shell;
  #signal: NodeJS.Signals | null = null;
  #atOnce = false;
  #stop = (): void => undefined;

  constructor(shell: Shell) {
    this.#shell = shell;
  }

  /** By which the process is to end; null when nobody interrupted. */
  get signal(): NodeJS.Signals | null {
    return this.#signal;
  }

  listen(): void {
    this.#stop = this.#shell.onSignal((signal) => {
      this.#atOnce = signal !== "SIGINT" || this.#signal !== null;
      this.#signal = signal;
      const { err, terminal } = this.#shell;
      if (!this.#atOnce) err(`${terminal.stderr ? CLEAR_LINE : ""}${FINISHING}`);
    });
  }

  stop(): void {
    this.#stop();
  }

  /** @throws Interrupted when the work is not to be finished. */
  assertWanted(): void {
    if (this.#atOnce && this.#signal !== null) throw new Interrupted(this.#signal);
  }
}

const FINISHING =
  "Interrupted: finishing with the best nest so far. Press Ctrl-C again to end at once.\n";

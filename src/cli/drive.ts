import type { Work } from "../work.ts";
import type { Interruption } from "./interruption.ts";
import { CLEAR_LINE } from "./shell.ts";
import type { Shell } from "./shell.ts";

const SHOW_AFTER_MS = 500;
const SHOW_EVERY_MS = 100;
const BREATHE_EVERY_MS = 50;

/**
 * Runs work to its end, its progress on stderr where that is a terminal.
 * @throws Interrupted
 */
export async function drive<Result, Best>(
  work: Work<Result, Best>,
  seconds: number | null,
  shell: Shell,
  interruption: Interruption,
): Promise<Result> {
  const start = shell.now();
  let shown = SHOW_AFTER_MS - SHOW_EVERY_MS;
  let breathed = -BREATHE_EVERY_MS;
  // The first turn reads the whole job; until then Ctrl-C ends the process as it does anywhere.
  let turn = work.next();
  interruption.listen();
  try {
    while (turn.done !== true) {
      const elapsed = shell.now() - start;
      if (shell.terminal.stderr && elapsed - shown >= SHOW_EVERY_MS) {
        shown = elapsed;
        const { stage, done, of } = turn.value;
        const passed = `${(elapsed / 1000).toFixed(1)} s`;
        const far = seconds === null ? `${done} of ${of}, ${passed}` : `${passed} of ${seconds} s`;
        shell.err(`${CLEAR_LINE}${stage}: ${far}`);
      }
      if (elapsed - breathed >= BREATHE_EVERY_MS) {
        breathed = elapsed;
        await shell.breathe();
        interruption.assertWanted();
      }
      const isOver = seconds !== null && elapsed >= seconds * 1000;
      turn = work.next(isOver || interruption.signal !== null);
    }
    return turn.value;
  } finally {
    if (shown >= SHOW_AFTER_MS) shell.err(CLEAR_LINE);
  }
}

import type { Work } from "../work.ts";
import { drain } from "../work.ts";
import type { Shell } from "./shell.ts";

const SHOW_AFTER_MS = 500;
const SHOW_EVERY_MS = 100;
const CLEAR_LINE = "\r\u001B[K";

/** Runs work to its end, its progress on stderr where that is a terminal. */
export function drive<Result, Best>(
  work: Work<Result, Best>,
  seconds: number | null,
  shell: Shell,
): Result {
  const start = shell.now();
  let shown = start + SHOW_AFTER_MS - SHOW_EVERY_MS;
  const result = drain(work, ({ stage, done, of }) => {
    const elapsed = shell.now() - start;
    if (shell.terminal.stderr && elapsed + start - shown >= SHOW_EVERY_MS) {
      shown = start + elapsed;
      const passed = `${(elapsed / 1000).toFixed(1)} s`;
      const far = seconds === null ? `${done} of ${of}, ${passed}` : `${passed} of ${seconds} s`;
      shell.err(`${CLEAR_LINE}${stage}: ${far}`);
    }
    return seconds !== null && elapsed >= seconds * 1000;
  });
  if (shell.terminal.stderr && shown > start + SHOW_AFTER_MS - SHOW_EVERY_MS) shell.err(CLEAR_LINE);
  return result;
}

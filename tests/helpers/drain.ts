import type { Progress, Work } from "../../src/work.ts";

/** Runs work to its end; `finishEarly` is asked after each unit. */
export function drain<Result, Best>(
  work: Work<Result, Best>,
  finishEarly: (progress: Progress<Best>) => boolean = () => false,
): Result {
  let turn = work.next();
  while (turn.done !== true) turn = work.next(finishEarly(turn.value));
  return turn.value;
}

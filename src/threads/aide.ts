import { workerData } from "node:worker_threads";
import { LaneKeeper, type LaneAnswer, type LaneOrder } from "../nesting/separation/lanes.ts";
import { ANSWERS, type AideData, type NumberedAnswer, type NumberedOrder } from "./thread-aide.ts";

/** The thread of an aide: works on one order after the other. */

// oxlint-disable-next-line typescript/no-unsafe-type-assertion -- what startThread sends
const { port, signals } = workerData as AideData;
const keeper = new LaneKeeper();

port.on("message", ({ number, order }: NumberedOrder) => {
  const answer: NumberedAnswer = { number, answer: answerTo(order) };
  port.postMessage(answer);
  Atomics.add(signals, ANSWERS, 1);
  Atomics.notify(signals, ANSWERS);
});

function answerTo(order: LaneOrder): LaneAnswer | { readonly fault: string } {
  try {
    const work = keeper.work(order);
    let turn = work.next();
    while (turn.done !== true) turn = work.next();
    return turn.value;
  } catch (error) {
    return { fault: error instanceof Error ? error.message : String(error) };
  }
}

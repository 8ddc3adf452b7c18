import { availableParallelism } from "node:os";
import { MessageChannel, receiveMessageOnPort, Worker } from "node:worker_threads";
import type { MessagePort } from "node:worker_threads";
import type { Aide, LaneAnswer, LaneOrder } from "../nesting/separation/lanes.ts";
import { builtModule } from "./built.ts";

/** An aide with a thread of its own, to be let go at the end. */
export interface ThreadAide extends Aide {
  close(): void;
}

/** What the thread begins with. */
export interface AideData {
  readonly port: MessagePort;
  /** At {@link ANSWERS} how many answers have been given. */
  readonly signals: Int32Array;
}

export const ANSWERS = 0;

export interface NumberedOrder {
  readonly number: number;
  readonly order: LaneOrder;
}

/** To the order of the same number; what went wrong in place of an answer is a fault of ours. */
export interface NumberedAnswer {
  readonly number: number;
  readonly answer: LaneAnswer | { readonly fault: string };
}

/** Null on a single core, where a second thread would only take turns with this one. */
export function threadAide(): ThreadAide | null {
  return availableParallelism() > 1 ? beginAide() : null;
}

/** The thread starts with the first order. */
export function beginAide(): ThreadAide {
  const url = builtModule(import.meta.url, "threads/aide");
  const signals = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  let thread: { readonly worker: Worker; readonly port: MessagePort } | null = null;
  let asked = 0;
  return {
    order(order) {
      thread ??= startThread(url, signals);
      const numbered: NumberedOrder = { number: ++asked, order };
      // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
      thread.port.postMessage(numbered);
    },
    answer() {
      if (thread === null) throw new Error("the aide has no order to answer");
      return waitFor(asked, thread.port, signals);
    },
    close() {
      thread?.port.close();
      void thread?.worker.terminate();
      thread = null;
    },
  };
}

/** A round takes a second; a thread that says nothing for so long has died. */
const MOST_WAITS = 120;
const WAIT_MS = 1000;

/** Older answers are to orders that were given up. */
function waitFor(number: number, port: MessagePort, signals: Int32Array): LaneAnswer {
  for (let waits = 0; waits < MOST_WAITS;) {
    const given = Atomics.load(signals, ANSWERS);
    const received: { message: NumberedAnswer } | undefined = receiveMessageOnPort(port);
    if (received === undefined) {
      if (Atomics.wait(signals, ANSWERS, given, WAIT_MS) === "timed-out") waits++;
      continue;
    }
    const { message } = received;
    if (message.number !== number) continue;
    if ("fault" in message.answer) throw new Error(message.answer.fault);
    return message.answer;
  }
  throw new Error("the thread that helps with nesting gives no answer");
}

function startThread(url: URL, signals: Int32Array): { worker: Worker; port: MessagePort } {
  const { port1, port2 } = new MessageChannel();
  const workerData: AideData = { port: port2, signals };
  const worker = new Worker(url, { workerData, transferList: [port2] });
  // Work that has been given up must not keep the process alive.
  worker.unref();
  port1.unref();
  return { worker, port: port1 };
}

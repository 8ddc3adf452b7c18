import { Worker } from "node:worker_threads";
import type { Estimate, EstimateInput } from "../estimate-data.ts";
import type { Checked } from "../problem.ts";
import type { ProgressListener, RunningEstimate } from "./services.ts";
import { builtModule } from "../threads/built.ts";
import { FINISH, SLOTS, WANTED } from "./working.ts";
import type { Order, Reply } from "./working.ts";

/** Estimates on another thread, one at a time: a newer one makes the older drop its work. */
export interface EstimateRunner {
  start(input: EstimateInput, onProgress: ProgressListener): RunningEstimate;
  close(): Promise<void>;
}

interface Waiting {
  readonly order: Order;
  readonly onProgress: ProgressListener;
  readonly settle: (result: Checked<Estimate>) => void;
}

/** How long a worker may take to let go of older work before it is replaced. */
const PATIENCE_MS = 250;

/**
 * The worker starts with the first estimate; after a crash, or when it is stuck in a step of older
 * work, another takes its place.
 */
export function workerRunner(
  url: URL = builtModule(import.meta.url, "tui/worker"),
): EstimateRunner {
  const signals = new Int32Array(new SharedArrayBuffer(SLOTS * Int32Array.BYTES_PER_ELEMENT));
  let worker: Worker | null = null;
  let waiting: Waiting | null = null;
  let patience: NodeJS.Timeout | undefined;
  let runs = 0;
  const crashed = (broken: Worker, what: string): void => {
    if (worker !== broken) return;
    worker = null;
    clearTimeout(patience);
    waiting?.settle(crash(what));
    waiting = null;
  };
  const answered = (reply: Reply): void => {
    if (reply.run !== waiting?.order.run) return;
    if (reply.kind === "begun") clearTimeout(patience);
    else if (reply.kind === "progress") waiting.onProgress(reply.progress);
    else {
      waiting.settle(reply.result);
      waiting = null;
    }
  };
  const replace = (): void => {
    const stuck = worker;
    worker = waiting && startWorker(url, answered, crashed);
    if (worker && waiting) send(worker, waiting.order);
    void stuck?.terminate();
  };
  return {
    start(input, onProgress) {
      const order: Order = { run: ++runs, input, signals };
      const { run } = order;
      const result = new Promise<Checked<Estimate>>((settle) => {
        waiting = { order, onProgress, settle };
      });
      Atomics.store(signals, WANTED, run);
      clearTimeout(patience);
      if (worker === null) replace();
      else {
        send(worker, order);
        patience = setTimeout(replace, PATIENCE_MS);
      }
      return {
        result,
        finishEarly: () => void Atomics.store(signals, FINISH, run),
        cancel: () => {
          Atomics.compareExchange(signals, WANTED, run, 0);
          if (waiting?.order.run === run) waiting = null;
        },
      };
    },
    async close() {
      const open = worker;
      worker = null;
      waiting = null;
      clearTimeout(patience);
      await open?.terminate();
    },
  };
}

function send(to: Worker, order: Order): void {
  // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
  to.postMessage(order);
}

function startWorker(
  url: URL,
  answered: (reply: Reply) => void,
  crashed: (broken: Worker, what: string) => void,
): Worker {
  // What libraries print there would land in the middle of the screen.
  const worker = new Worker(url, { stdout: true, stderr: true });
  worker.stdout.resume();
  worker.stderr.resume();
  worker.on("message", answered);
  worker.on("error", (error: unknown) =>
    crashed(worker, error instanceof Error ? error.message : String(error)),
  );
  worker.on("exit", (code) => crashed(worker, `it ended with code ${code}`));
  // A screen that has gone must not be kept alive by its worker.
  worker.unref();
  return worker;
}

function crash(found: string): Checked<Estimate> {
  return {
    value: null,
    problems: [
      {
        code: "worker-crashed",
        severity: "error",
        file: "estimate",
        line: null,
        column: null,
        found,
        expected: "an estimate from the thread that works it out",
        mend: "Report this as a fault of the program; r tries once more",
      },
    ],
  };
}

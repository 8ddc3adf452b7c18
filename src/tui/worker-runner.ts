import { Worker } from "node:worker_threads";
import type { Estimate, EstimateInput } from "../estimate-data.ts";
import type { Checked } from "../problem.ts";
import type { ProgressListener, RunningEstimate } from "./services.ts";
import { FINISH, SLOTS, WANTED } from "./working.ts";
import type { Order, Reply } from "./working.ts";

/** Estimates on another thread, one at a time: a newer one makes the older drop its work. */
export interface EstimateRunner {
  start(input: EstimateInput, onProgress: ProgressListener): RunningEstimate;
  close(): Promise<void>;
}

interface Waiting {
  readonly run: number;
  readonly onProgress: ProgressListener;
  readonly settle: (result: Checked<Estimate>) => void;
}

/** The worker starts with the first estimate and, after a crash, again with the next. */
export function workerRunner(url: URL = builtWorker(import.meta.url)): EstimateRunner {
  const signals = new Int32Array(new SharedArrayBuffer(SLOTS * Int32Array.BYTES_PER_ELEMENT));
  let worker: Worker | null = null;
  let waiting: Waiting | null = null;
  let runs = 0;
  const crashed = (broken: Worker, what: string): void => {
    if (worker !== broken) return;
    worker = null;
    waiting?.settle(crash(what));
    waiting = null;
  };
  const answered = (reply: Reply): void => {
    if (reply.run !== waiting?.run) return;
    if (reply.kind === "progress") waiting.onProgress(reply.progress);
    else {
      waiting.settle(reply.result);
      waiting = null;
    }
  };
  const started = (): Worker => {
    // What libraries print there would land in the middle of the screen.
    const fresh = new Worker(url, { stdout: true, stderr: true });
    fresh.stdout.resume();
    fresh.stderr.resume();
    fresh.on("message", answered);
    fresh.on("error", (error: unknown) =>
      crashed(fresh, error instanceof Error ? error.message : String(error)),
    );
    fresh.on("exit", (code) => crashed(fresh, `it ended with code ${code}`));
    // A screen that has gone must not be kept alive by its worker.
    fresh.unref();
    return fresh;
  };
  return {
    start(input, onProgress) {
      const run = ++runs;
      const result = new Promise<Checked<Estimate>>((settle) => {
        waiting = { run, onProgress, settle };
      });
      Atomics.store(signals, WANTED, run);
      worker ??= started();
      // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
      worker.postMessage({ run, input, signals } satisfies Order);
      return {
        result,
        finishEarly: () => void Atomics.store(signals, FINISH, run),
        cancel: () => {
          Atomics.compareExchange(signals, WANTED, run, 0);
          if (waiting?.run === run) waiting = null;
        },
      };
    },
    async close() {
      const open = worker;
      worker = null;
      waiting = null;
      await open?.terminate();
    },
  };
}

/** Worker threads run built files: next to this module, or in dist when it runs from its source. */
function builtWorker(self: string): URL {
  return new URL(self.endsWith(".ts") ? "../../dist/tui/worker.js" : "./worker.js", self);
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

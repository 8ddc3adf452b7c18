import { parentPort } from "node:worker_threads";
import { estimate } from "../estimate.ts";
import { threadAide } from "../threads/thread-aide.ts";
import { workOff } from "./working.ts";
import type { Order } from "./working.ts";

/** The thread that estimates, so that the screen answers keys meanwhile. */

const aide = threadAide();

parentPort?.on("message", (order: Order) => {
  workOff(
    estimate(order.input, aide),
    order,
    // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread, not a window
    (reply) => parentPort?.postMessage(reply),
    () => performance.now(),
  );
});

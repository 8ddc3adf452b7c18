import { afterEach, describe, expect, it } from "vitest";
import type { Estimate } from "../../src/estimate-data.ts";
import type { Checked } from "../../src/problem.ts";
import { workerRunner } from "../../src/tui/worker-runner.ts";
import type { EstimateRunner } from "../../src/tui/worker-runner.ts";
import { FINISH, WANTED, workOff } from "../../src/tui/working.ts";
import type { Reply } from "../../src/tui/working.ts";
import type { Progress, Work } from "../../src/work.ts";
import { INPUT, fixtureEstimate } from "./fixture.ts";

/** Counts to `of`; ends at once when asked to finish early, telling so in its title. */
function* counting(of: number): Work<Checked<Estimate>, Estimate> {
  const first = fixtureEstimate();
  for (let done = 1; done <= of; done++) {
    const finish = yield { stage: "counting", done, of, best: done < 3 ? null : first };
    if (finish === true) return { value: { ...first, title: `ended at ${done}` }, problems: [] };
  }
  return { value: { ...first, title: "whole" }, problems: [] };
}

function progressOf(replies: readonly Reply[]): readonly Progress<Estimate>[] {
  return replies.flatMap((reply) => (reply.kind === "progress" ? [reply.progress] : []));
}

/** What is posted when every turn takes `stepMs`; `meddle` sees each turn, from 0. */
function run(
  of: number,
  stepMs: number,
  meddle: (turn: number, shared: Int32Array) => void = () => undefined,
): readonly Reply[] {
  const shared = new Int32Array(new SharedArrayBuffer(8));
  shared[WANTED] = 7;
  const replies: Reply[] = [];
  let turn = 0;
  const now = (): number => {
    meddle(turn, shared);
    return turn++ * stepMs;
  };
  workOff(counting(of), { run: 7, signals: shared }, (reply) => replies.push(reply), now);
  return replies;
}

describe("working off", () => {
  it("reports at most every 100 ms, and the best only when it changed", () => {
    const reports = progressOf(run(100, 10));
    expect(reports.map(({ done }) => done)).toEqual([1, 11, 21, 31, 41, 51, 61, 71, 81, 91]);
    expect(reports.filter(({ best }) => best !== null).map(({ done }) => done)).toEqual([11]);
  });

  it("ends with its result", () => {
    const last = run(5, 10).at(-1);
    expect(last?.kind === "result" && last.result.value?.title).toBe("whole");
  });

  it("finishes early when asked", () => {
    const last = run(100, 10, (step, shared) => {
      if (step === 9) shared[FINISH] = 7;
    }).at(-1);
    expect(last?.kind === "result" && last.result.value?.title).toBe("ended at 10");
  });

  it("goes without a word when it is not wanted any more", () => {
    const replies = run(100, 10, (step, shared) => {
      if (step === 10) shared[WANTED] = 8;
    });
    expect(replies.filter(({ kind }) => kind === "result")).toEqual([]);
    expect(progressOf(replies).length).toBe(2);
  });
});

/** A worker that echoes its run in the title, or dies when the job is called so. */
const ECHO = `
  import { parentPort } from "node:worker_threads";
  parentPort.on("message", ({ run, input }) => {
    if (input.jobName === "crash") throw new Error("out of its depth");
    if (input.jobName === "exit") process.exit(3);
    if (input.jobName === "stuck") for (;;) continue;
    const value = { title: input.jobName };
    parentPort.postMessage({ kind: "begun", run });
    parentPort.postMessage({ kind: "progress", run, progress: { stage: "echo", done: 1, of: 1, best: value } });
    parentPort.postMessage({ kind: "result", run, result: { value, problems: [] } });
  });
`;
const ECHO_URL = new URL(`data:text/javascript,${encodeURIComponent(ECHO)}`);

describe("the runner", () => {
  let runner: EstimateRunner | null = null;
  afterEach(() => runner?.close());
  const start = (jobName: string, stages: string[] = []) => {
    runner ??= workerRunner(ECHO_URL);
    return runner.start({ ...INPUT, jobName }, ({ stage }) => stages.push(stage));
  };

  it("hands on progress and result", async () => {
    const stages: string[] = [];
    const { value } = await start("one", stages).result;
    expect(value?.title).toBe("one");
    expect(stages).toEqual(["echo"]);
  });

  it("answers only the newest of two", async () => {
    const late: string[] = [];
    const older = start("older", late);
    let answered = false;
    older.result.then(
      () => (answered = true),
      () => (answered = true),
    );
    const newer = start("newer");
    expect((await newer.result).value?.title).toBe("newer");
    expect(late).toEqual([]);
    expect(answered).toBe(false);
  });

  it("answers none that was cancelled", async () => {
    const late: string[] = [];
    start("cancelled", late).cancel();
    await start("next").result;
    expect(late).toEqual([]);
  });

  it("replaces a worker that does not let go of older work", async () => {
    start("stuck");
    const began = performance.now();
    expect((await start("newer").result).value?.title).toBe("newer");
    // 250 ms of patience and the start of another worker.
    expect(performance.now() - began).toBeGreaterThan(200);
  });

  it.each([
    ["crash", "out of its depth"],
    ["exit", "it ended with code 3"],
  ])("makes a problem of a worker's %s, and starts another worker", async (jobName, found) => {
    const { value, problems } = await start(jobName).result;
    expect(value).toBeNull();
    expect(problems[0]).toMatchObject({ code: "worker-crashed", severity: "error", found });
    expect((await start("afterwards").result).value?.title).toBe("afterwards");
  });
});

import { describe, expect, it } from "vitest";
import { withBest } from "../src/work.ts";
import { drain } from "./helpers/drain.ts";
import type { Progress, Work } from "../src/work.ts";

/** Counts to `of`; its best is the count so far, new every second unit, null at first. */
function* counting(of: number, told: (boolean | undefined)[] = []): Work<string, { n: number }> {
  let best: { n: number } | null = null;
  for (let done = 1; done <= of; done += 1) {
    if (done % 2 === 0) best = { n: done };
    const finish: boolean | undefined = yield { stage: "counting", done, of, best };
    told.push(finish);
    if (finish === true) return `stopped at ${done}`;
  }
  return `all ${of}`;
}

function* faulty(): Work<string> {
  yield { stage: "s", done: 1, of: 2, best: null };
  throw new RangeError("ours");
}

describe("drain", () => {
  it("runs work to its end", () => {
    expect(drain(counting(5))).toBe("all 5");
    expect(drain(counting(0))).toBe("all 0");
  });

  it("asks after each unit whether to finish, and passes the answer on", () => {
    const seen: number[] = [];
    const told: (boolean | undefined)[] = [];
    const result = drain(counting(9, told), ({ done }) => {
      seen.push(done);
      return done === 3;
    });
    expect(result).toBe("stopped at 3");
    expect(seen).toEqual([1, 2, 3]);
    expect(told).toEqual([false, false, true]);
  });

  it("lets faults through", () => {
    expect(() => drain(faulty())).toThrow("ours");
  });
});

describe("withBest", () => {
  it("shows each best converted, once, and gives the same result", () => {
    const converted: number[] = [];
    const shown: (string | null)[] = [];
    const work = withBest(counting(6), ({ n }) => {
      converted.push(n);
      return `best ${n}`;
    });
    const result = drain(work, ({ best }) => {
      shown.push(best);
      return false;
    });
    expect(result).toBe("all 6");
    expect(shown).toEqual([null, "best 2", "best 2", "best 4", "best 4", "best 6"]);
    expect(converted).toEqual([2, 4, 6]);
  });

  it("changes nothing else of the progress, and passes the wish to finish on", () => {
    const seen: Progress<number>[] = [];
    const result = drain(
      withBest(counting(9), ({ n }) => n),
      (progress) => {
        seen.push(progress);
        return progress.done === 2;
      },
    );
    expect(result).toBe("stopped at 2");
    expect(seen).toEqual([
      { stage: "counting", done: 1, of: 9, best: null },
      { stage: "counting", done: 2, of: 9, best: 2 },
    ]);
  });

  it("converts nothing that nobody looks at", () => {
    const work = withBest(counting(6), (): number => {
      throw new RangeError("converted");
    });
    expect(drain(work)).toBe("all 6");
  });

  it("shows nothing for a best that has no other form", () => {
    const shown: (number | null)[] = [];
    drain(
      withBest(counting(4), ({ n }) => (n === 2 ? n : null)),
      ({ best }) => {
        shown.push(best);
        return false;
      },
    );
    expect(shown).toEqual([null, 2, 2, null]);
  });
});

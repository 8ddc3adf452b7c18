import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { initialState, hasUnsaved, quantityOf, standing } from "../../src/tui/state.ts";
import type { State } from "../../src/tui/state.ts";
import { LISTED, fixtureEstimate, openedJob, problem } from "./fixture.ts";
import { SMALL, after, press, readyState } from "./steps.ts";

const ERROR = problem("bad-thickness", "error", 4, "3,2");

/** An answer for the estimate asked for last. */
function answered(state: State): State {
  const value = fixtureEstimate(state.quantities);
  return after(state, { kind: "estimated", run: state.run, result: { value, problems: [] } });
}

describe("moving", () => {
  it("arrows and letters do the same", () => {
    const pairs = [
      ["down", "j"],
      ["up", "k"],
      ["right", "l"],
      ["left", "h"],
      ["home", "g"],
      ["end", "G"],
    ] as const;
    for (const [arrow, letter] of pairs) {
      const before = press(readyState(), "2", "1", "down");
      expect(press(before, arrow)).toEqual(press(before, letter));
      expect(press(before, arrow)).not.toEqual(before);
    }
  });

  it("stays inside the list at both ends, also by pages", () => {
    expect(press(readyState(), "up", "pageup").cursors.parts).toBe(0);
    expect(press(readyState(), "down", "down", "down", "pagedown").cursors.parts).toBe(2);
    expect(press(readyState(), "end").cursors.parts).toBe(2);
  });

  it("walks the four panels round both ways and jumps by digit", () => {
    expect(press(readyState(), "tab", "tab").panel).toBe("time");
    expect(press(readyState(), "shift-tab").panel).toBe("price");
    expect(press(readyState(), "tab", "tab", "tab", "tab").panel).toBe("parts");
    expect(press(readyState(), "4").panel).toBe("price");
  });

  it("escape never leaves, at the top level it does nothing", () => {
    expect(press(readyState(), "escape")).toEqual(readyState());
    expect(press(readyState(), "?", "escape")).toEqual(readyState());
    expect(press(readyState(), "enter", "5", "escape")).toEqual(readyState());
  });

  it("the next part of a sheet is highlighted in the parts too", () => {
    const onPlywood = press(readyState(), "2", "down", "n");
    expect(onPlywood.cursors).toMatchObject({ sheets: 1, parts: 2 });
    expect(press(readyState(), "2", "n", "n").cursors.parts).toBe(0);
  });

  it("a window of another size keeps cursor, scroll and typed text", () => {
    const typing = press(readyState(), "down", "enter", "4");
    const { size, ...rest } = after(typing, { kind: "resized", size: { columns: 50, rows: 10 } });
    const { size: _, ...before } = typing;
    expect(rest).toEqual(before);
    expect(size).toEqual({ columns: 50, rows: 10 });
  });
});

describe("changing quantities", () => {
  it("enter, a number, enter sets it and asks for a new estimate", () => {
    const state = press(readyState(), "down", "enter", "1", "2", "enter");
    expect(state.quantities).toEqual({ cap: 12 });
    expect(state.asked?.quantities).toEqual({ cap: 12 });
    expect(state.run).toBe(2);
    expect(standing(state).word).toBe("working, figures stale");
  });

  it("refuses what is no whole number from 1, and keeps the field", () => {
    for (const text of ["0", "x", "1.5", "-3", "123456"]) {
      const state = press(readyState(), "enter", ...Array.from(text), "enter");
      expect(state.overlay).toEqual({ kind: "quantity", part: "wing", text });
      expect(state.notice?.text).toContain("whole number");
      expect(state.run).toBe(1);
    }
  });

  it("the listed quantity is no change", () => {
    expect(press(readyState(), "+", "-").quantities).toEqual({});
    expect(press(readyState(), "enter", "3", "enter").run).toBe(1);
  });

  it("says why there can not be fewer than one", () => {
    const state = press(readyState(), "down", "-");
    expect(state.notice?.text).toContain("One is the least");
    expect(state.quantities).toEqual({});
  });

  it("taking back every change gives the first quantities, making them again the last ones", () => {
    const edit = fc.constantFrom("+", "-", "j", "k", "G", "g", "u", "ctrl-r");
    let changed = 0;
    fc.assert(
      fc.property(
        fc.array(edit, { minLength: 8, maxLength: 40 }),
        fc.boolean(),
        (keys, answers) => {
          const last = keys.reduce((state, key) => {
            const next = press(state, key);
            return answers && next.running ? answered(next) : next;
          }, readyState());
          const undone = press(last, ...last.past.map(() => "u"));
          expect(undone.quantities).toEqual({});
          expect(undone.past).toEqual([]);
          for (const [part, listed] of Object.entries(LISTED))
            expect(quantityOf(undone, part)).toBe(listed);
          expect(press(undone, ...last.past.map(() => "ctrl-r")).quantities).toEqual(
            last.quantities,
          );
          if (last.past.length >= 2) changed++;
        },
      ),
      { numRuns: 300, seed: 17 },
    );
    expect(changed).toBeGreaterThan(150);
  });
});

describe("answers", () => {
  it("those of an older estimate are not looked at", () => {
    const state = press(readyState(), "+");
    const late = fixtureEstimate({ wing: 99 });
    expect(after(state, { kind: "estimated", run: 1, result: { value: late, problems: [] } })).toBe(
      state,
    );
    const progress = { stage: "nesting", done: 1, of: 2, best: late };
    expect(after(state, { kind: "progress", run: 1, progress })).toBe(state);
    expect(after(state, { kind: "elapsed", run: 1, seconds: 9 })).toBe(state);
  });

  it("the last estimate stays, marked stale, until a better or the final one comes", () => {
    const working = press(readyState(), "+");
    expect(working.estimate).toEqual(fixtureEstimate());
    expect(working.freshness).toBe("stale");
    const best = fixtureEstimate({ wing: 4 });
    const sofar = after(working, {
      kind: "progress",
      run: 2,
      progress: { stage: "nesting", done: 1, of: 3, best },
    });
    expect(standing(sofar).word).toBe("working, best so far");
    expect(sofar.estimate).toBe(best);
    const done = answered(sofar);
    expect(standing(done).word).toBe("ready");
    expect(done.running).toBeNull();
  });

  it("an estimate that fails shows its problems and keeps the old figures", () => {
    const working = press(readyState(), "+");
    const failed = after(working, {
      kind: "estimated",
      run: 2,
      result: { value: null, problems: [ERROR] },
    });
    expect(failed.overlay?.kind).toBe("notes");
    expect(failed.estimate).toEqual(fixtureEstimate());
    expect(standing(failed).word).toBe("problems, figures stale");
    expect(press(failed, "escape", "e").notice?.text).toContain("stale");
  });

  it("a job opened later counts, the one before does not", () => {
    const asked = press(initialState(SMALL, "first"), "o", ...Array.from("second"), "enter");
    expect(asked.opening).toEqual({ request: 2, path: "second" });
    const result = { value: openedJob("first"), problems: [] };
    expect(after(asked, { kind: "opened", request: 1, result })).toBe(asked);
  });

  it("reading the same job again keeps changes, another job does not", () => {
    const changed = press(readyState(), "+", "r");
    const again = after(changed, {
      kind: "opened",
      request: 2,
      result: { value: openedJob(), problems: [] },
    });
    expect(again.asked?.quantities).toEqual({ wing: 4 });
    const other = after(changed, {
      kind: "opened",
      request: 2,
      result: { value: openedJob("jobs/other"), problems: [] },
    });
    expect(other.quantities).toEqual({});
    expect(other.estimate).toBeNull();
  });
});

describe("leaving", () => {
  it("q leaves at once when nothing was changed, and asks once when it was", () => {
    expect(press(readyState(), "q").left).toBe(true);
    const asked = press(answered(press(readyState(), "+")), "q");
    expect(asked.left).toBe(false);
    expect(asked.overlay?.kind).toBe("leaving");
    expect(press(asked, "escape").left).toBe(false);
    expect(press(asked, "q").left).toBe(true);
  });

  it("an export settles the question", () => {
    const exporting = press(answered(press(readyState(), "+")), "e");
    const outcome = { kind: "written", dir: "out", files: ["quote.csv"] } as const;
    const state = after(exporting, { kind: "exported", outcome });
    expect(hasUnsaved(state)).toBe(false);
    expect(press(state, "q").left).toBe(true);
    expect(hasUnsaved(press(state, "+"))).toBe(true);
  });

  it("ctrl-c has running work finish first, a second one leaves", () => {
    const working = press(readyState(), "+");
    const finishing = press(working, "ctrl-c");
    expect(finishing.running?.finishing).toBe(true);
    expect(finishing.left).toBe(false);
    expect(press(finishing, "ctrl-c").left).toBe(true);
  });

  it("ctrl-c with nothing running asks for a second one, which any key calls off", () => {
    const once = press(readyState(), "ctrl-c");
    expect(once.notice?.text).toContain("again");
    expect(press(once, "ctrl-c").left).toBe(true);
    expect(press(once, "j", "ctrl-c").left).toBe(false);
  });

  it("works from inside a field, too", () => {
    expect(press(readyState(), "o", "ctrl-c", "ctrl-c").left).toBe(true);
  });
});

describe("fields", () => {
  it("take keys of commands as text", () => {
    const state = press(readyState(), "o", ...Array.from("quo?"));
    expect(state.overlay).toEqual({ kind: "path", text: "quo?" });
    expect(state.left).toBe(false);
  });

  it("take a paste as text without its line ends, and panels take none", () => {
    const paste = { kind: "paste", text: "jobs/q\nqq\t\u001B" } as const;
    const typing = after(press(readyState(), "o"), paste);
    expect(typing.overlay).toEqual({ kind: "path", text: "jobs/qqq" });
    expect(after(readyState(), paste)).toEqual(readyState());
  });

  it("erase whole characters and empty themselves", () => {
    const typed = after(press(readyState(), "o"), { kind: "paste", text: "ae\u0301👩‍🔧" });
    expect(press(typed, "backspace").overlay).toMatchObject({ text: "ae\u0301" });
    expect(press(typed, "backspace", "backspace").overlay).toMatchObject({ text: "a" });
    expect(press(typed, "ctrl-u").overlay).toMatchObject({ text: "" });
  });

  it("do not take names of keys", () => {
    expect(press(readyState(), "o", "up", "tab", "ctrl-r").overlay).toMatchObject({ text: "" });
  });
});

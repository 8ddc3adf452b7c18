import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hasUnsaved, piecesOf, quantityOf } from "../../src/tui/changes.ts";
import { initialState, standing } from "../../src/tui/state.ts";
import { LISTED, fixtureEstimate, openedJob, problem } from "./fixture.ts";
import { whyRows } from "../../src/tui/why.ts";
import { SMALL, after, answered, press, readyState } from "./steps.ts";

const ERROR = problem("bad-thickness", "error", 4, "3,2");

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

  it("walks the five panels round both ways and jumps by digit", () => {
    expect(press(readyState(), "tab", "tab").panel).toBe("sheets");
    expect(press(readyState(), "shift-tab").panel).toBe("price");
    expect(press(readyState(), "tab", "tab", "tab", "tab", "tab").panel).toBe("parts");
    expect(press(readyState(), "4").panel).toBe("time");
  });

  it("escape never leaves, at the top level it does nothing", () => {
    expect(press(readyState(), "escape")).toEqual(readyState());
    expect(press(readyState(), "?", "escape")).toEqual(readyState());
    expect(press(readyState(), "enter", "5", "escape")).toEqual(readyState());
  });

  it("the next part of a sheet is highlighted in the parts too", () => {
    const onPlywood = press(readyState(), "3", "down", "n");
    expect(onPlywood.cursors).toMatchObject({ sheets: 1, parts: 2 });
    expect(press(readyState(), "3", "n", "n").cursors.parts).toBe(0);
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
    expect(state.changes.quantities).toEqual({ cap: 12 });
    expect(state.asked?.quantities).toEqual({ cap: 12 });
    expect(state.run).toBe(2);
    expect(standing(state).word).toBe("working, figures stale");
  });

  it("takes digits only, says so, and keeps what was typed", () => {
    for (const key of ["x", ".", "-", "é", "٣"]) {
      const state = press(readyState(), "enter", "1", key);
      expect(state.overlay).toEqual({ kind: "quantity", part: "wing", text: "1" });
      expect(state.notice?.text).toBe("digits only, 1 to 99999");
    }
  });

  it("refuses none, and a digit too many", () => {
    const none = press(readyState(), "enter", "0", "enter");
    expect(none.overlay).toEqual({ kind: "quantity", part: "wing", text: "0" });
    expect(none.notice?.text).toContain("1 to 99999");
    expect(none.run).toBe(1);
    const many = press(readyState(), "enter", "1", "2", "3", "4", "5", "6");
    expect(many.overlay).toMatchObject({ text: "12345" });
    expect(many.notice?.text).toContain("to 99999");
  });

  it("takes a pasted number and nothing else that is pasted", () => {
    const typing = press(readyState(), "enter");
    expect(after(typing, { kind: "paste", text: " 12\n" }).overlay).toMatchObject({ text: "12" });
    for (const text of ["1.5", "12 pcs", "3\n4", "-3"])
      expect(after(typing, { kind: "paste", text }).overlay).toMatchObject({ text: "" });
    const refused = after(typing, { kind: "paste", text: "1.5" });
    expect(refused.notice?.text).toContain("digits only");
    expect(after(refused, { kind: "paste", text: "2" }).notice).toBeNull();
  });

  it("are changed in the parts alone; a sheet leads to its highlighted part", () => {
    for (const panel of ["2", "3", "4", "5"]) {
      const state = press(readyState(), panel, "+", "-");
      expect(state.changes.quantities).toEqual({});
    }
    const lost = press(readyState(), "3", "down", "enter");
    expect(lost.panel).toBe("sheets");
    expect(lost.notice?.text).toContain("n highlights one");
    const found = press(readyState(), "3", "down", "n", "enter");
    expect(found).toMatchObject({ panel: "parts", cursors: { parts: 2 } });
  });

  it("the listed quantity is no change", () => {
    expect(press(readyState(), "+", "-").changes.quantities).toEqual({});
    expect(press(readyState(), "enter", "3", "enter").run).toBe(1);
  });

  it("says why there can not be fewer than one", () => {
    const state = press(readyState(), "down", "-");
    expect(state.notice?.text).toContain("One is the least");
    expect(state.changes.quantities).toEqual({});
  });

  it("taking back every change gives the first quantities, making them again the last ones", () => {
    const PIECES = "nine pieces";
    const edit = fc.constantFrom("+", "-", "j", "k", "G", "g", "u", "ctrl-r", PIECES);
    let changed = 0;
    fc.assert(
      fc.property(
        fc.array(edit, { minLength: 8, maxLength: 40 }),
        fc.boolean(),
        (keys, answers) => {
          const last = keys.reduce((state, key) => {
            const next = key === PIECES ? press(state, "m", "9", "enter") : press(state, key);
            return answers && next.running ? answered(next) : next;
          }, readyState());
          const undone = press(last, ...last.past.map(() => "u"));
          expect(undone.changes).toEqual({ quantities: {}, pieces: null });
          expect(undone.past).toEqual([]);
          for (const [part, listed] of Object.entries(LISTED))
            expect(quantityOf(undone, part)).toBe(listed);
          expect(piecesOf(undone)).toBe(4);
          expect(press(undone, ...last.past.map(() => "ctrl-r")).changes).toEqual(last.changes);
          if (last.past.length >= 2) changed++;
        },
      ),
      { numRuns: 300, seed: 17 },
    );
    expect(changed).toBeGreaterThan(150);
  });
});

describe("the number of pieces", () => {
  it("is typed in any panel, priced anew, and taken back", () => {
    for (const panel of ["1", "2", "3", "4", "5"]) {
      const state = press(readyState(), panel, "m", "2", "0", "enter");
      expect(state.asked?.pieces).toBe(20);
      expect(state.running).not.toBeNull();
      const done = answered(state);
      expect(done.estimate?.parts[0]?.copies).toBe(60);
      expect(piecesOf(done)).toBe(20);
      expect(press(done, "u").asked).not.toHaveProperty("pieces");
    }
  });

  it("as in the job file is no change", () => {
    expect(press(readyState(), "m", "4", "enter").run).toBe(1);
    const back = press(answered(press(readyState(), "m", "5", "enter")), "m", "4", "enter");
    expect(back.changes.pieces).toBeNull();
  });
});

describe("saving", () => {
  const changed = answered(press(readyState(), "m", "5", "enter", "+"));

  it("asks for what was changed, then reads the job again", () => {
    const saving = press(changed, "s");
    expect(saving.saving).toEqual({ quantities: { wing: 4 }, pieces: 5 });
    const state = after(saving, {
      kind: "saved",
      outcome: { files: ["parts.csv", "job.yaml"], problems: [] },
    });
    expect(state.changes).toEqual({ quantities: {}, pieces: null });
    expect(state.opening?.path).toBe("jobs/marsh-test");
    expect(state.notice?.text).toBe("Saved in parts.csv and job.yaml: 4 to 5 pieces, wing 3 to 4");
    expect(hasUnsaved(state)).toBe(false);
    const again = after(state, {
      kind: "opened",
      request: 2,
      result: { value: openedJob(), problems: [] },
    });
    const told = after(again, {
      kind: "estimated",
      run: again.run,
      result: { value: fixtureEstimate({ wing: 4 }, 5), problems: [] },
    });
    expect([quantityOf(told, "wing"), piecesOf(told)]).toEqual([4, 5]);
    expect(press(told, "s").notice?.text).toContain("as the job's files have them");
  });

  it("keeps what was changed while it wrote", () => {
    const state = after(press(changed, "s", "+"), {
      kind: "saved",
      outcome: { files: ["parts.csv", "job.yaml"], problems: [] },
    });
    expect(state.changes).toEqual({ quantities: { wing: 5 }, pieces: null });
  });

  it("that was refused says why and keeps the changes", () => {
    const state = after(press(changed, "s"), {
      kind: "saved",
      outcome: { files: [], problems: [ERROR] },
    });
    expect(state.overlay?.kind).toBe("notes");
    expect(state.changes).toEqual(changed.changes);
    expect(hasUnsaved(state)).toBe(true);
  });

  it("is offered to who leaves", () => {
    expect(press(changed, "q").overlay?.kind).toBe("leaving");
    expect(press(changed, "q", "s").saving).toEqual(changed.changes);
  });
});

describe("the tree under a figure", () => {
  const opened = press(readyState(), "5", "down", "w");

  function rowsOf(state: typeof opened): readonly (string | boolean | null)[] {
    const { overlay, estimate } = state;
    if (overlay?.kind !== "why" || !estimate) return [];
    return whyRows(estimate, overlay.roots, overlay.unfolded).map(({ path }) => path);
  }

  it("begins with the figure and what it is made from", () => {
    expect(rowsOf(opened)).toEqual(["0", "0.0", "0.1", "0.2"]);
  });

  it("unfolds and folds by enter and by arrows, which also walk in and out", () => {
    const below = press(opened, "down", "enter");
    expect(rowsOf(below)).toEqual(["0", "0.0", "0.0.0", "0.0.1", "0.1", "0.2"]);
    expect(press(opened, "down", "right")).toEqual(below);
    expect(press(below, "right").overlay).toMatchObject({ cursor: 2 });
    expect(press(below, "right", "left").overlay).toMatchObject({ cursor: 1 });
    expect(rowsOf(press(below, "enter"))).toEqual(rowsOf(opened));
    expect(rowsOf(press(below, "left", "left", "left"))).toEqual(["0"]);
  });

  it("does not unfold what was given", () => {
    const given = press(opened, "down", "right", "down", "right");
    expect(rowsOf(given).length).toBe(6);
    expect(given.overlay).toMatchObject({ cursor: 2 });
  });

  it("keeps the cursor inside", () => {
    expect(press(opened, "end").overlay).toMatchObject({ cursor: 3 });
    expect(press(opened, "end", "down", "pagedown").overlay).toMatchObject({ cursor: 3 });
    expect(press(opened, "end", "home", "up").overlay).toMatchObject({ cursor: 0 });
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
    expect(other.changes.quantities).toEqual({});
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

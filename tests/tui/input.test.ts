import type { Key } from "ink";
import { describe, expect, it } from "vitest";
import { splitInput } from "../../src/tui/input.ts";
import type { SplitInput } from "../../src/tui/input.ts";

const NONE: Key = {
  upArrow: false,
  downArrow: false,
  leftArrow: false,
  rightArrow: false,
  pageDown: false,
  pageUp: false,
  home: false,
  end: false,
  return: false,
  escape: false,
  ctrl: false,
  shift: false,
  tab: false,
  backspace: false,
  delete: false,
  meta: false,
  super: false,
  hyper: false,
  capsLock: false,
  numLock: false,
};

function keys(input: string, key: Partial<Key> = {}): readonly string[] {
  return splitInput(null, input, { ...NONE, ...key }).events.map((event) =>
    event.kind === "key" ? event.key : `paste ${event.text}`,
  );
}

describe("keys", () => {
  it("a burst is as many keys as it has characters", () => {
    expect(keys("jjj")).toEqual(["j", "j", "j"]);
    expect(keys("12\r")).toEqual(["1", "2", "enter"]);
    expect(keys("a\tb\u007Fc\u0012\u0003")).toEqual([
      "a",
      "tab",
      "b",
      "backspace",
      "c",
      "ctrl-r",
      "ctrl-c",
    ]);
    expect(keys("é👍")).toEqual(["é", "👍"]);
  });

  it("named keys have names", () => {
    expect(keys("", { upArrow: true })).toEqual(["up"]);
    expect(keys("", { return: true })).toEqual(["enter"]);
    expect(keys("", { tab: true, shift: true })).toEqual(["shift-tab"]);
    expect(keys("", { escape: true, meta: true })).toEqual(["escape"]);
    expect(keys("", { delete: true })).toEqual(["backspace"]);
    expect(keys("r", { ctrl: true })).toEqual(["ctrl-r"]);
  });

  it("Esc and a key read together are two keys, not Alt", () => {
    expect(keys("j", { meta: true })).toEqual(["escape", "j"]);
  });

  it("function keys without a name do nothing", () => {
    expect(keys("[15~")).toEqual([]);
    expect(keys("[1;5P")).toEqual([]);
    expect(keys("Orders")).toEqual(Array.from("Orders"));
  });
});

describe("a bracketed paste", () => {
  it("is one text, whatever comes between its marks", () => {
    const chunks: readonly (readonly [string, Partial<Key>])[] = [
      ["[200~", {}],
      ["jobs/q", {}],
      ["", { return: true }],
      ["quit", {}],
      ["c", { ctrl: true }],
      ["", { upArrow: true }],
    ];
    let split: SplitInput = { pasting: null, events: [] };
    for (const [input, key] of chunks) {
      split = splitInput(split.pasting, input, { ...NONE, ...key });
      expect(split.events).toEqual([]);
    }
    expect(splitInput(split.pasting, "[201~", NONE)).toEqual({
      pasting: null,
      events: [{ kind: "paste", text: "jobs/q\nquit" }],
    });
  });
});

import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { disabledReason } from "../../src/tui/commands.ts";
import { COMMANDS, commandFor } from "../../src/tui/keys.ts";
import type { Context } from "../../src/tui/keys.ts";
import { initialState } from "../../src/tui/state.ts";
import { footerText, frameLines } from "../../src/tui/views/frame.ts";
import { displayWidth } from "../../src/tui/text.ts";
import { SMALL, press, readyState, textOf } from "./steps.ts";

const CONTEXTS = [...new Set(COMMANDS.flatMap(({ contexts }) => contexts))];

/** Keys that every terminal sends as something of their own (letters, digits, signs, named keys). */
const SAFE =
  /^(?:[!-~]|up|down|left|right|home|end|pageup|pagedown|enter|escape|tab|shift-tab|backspace|ctrl-[a-hk-ln-z])$/;

/** A key's name in quotes, or a comparison with one. */
const KEY_LITERAL =
  /"(?:escape|ctrl-[a-z]|shift-tab|pageup|pagedown|backspace)"|\bkey(?:\.key)? === "/;

describe("the key table", () => {
  it("knows every context", () => {
    const all: readonly Context[] = [
      "start",
      "parts",
      "sizes",
      "sheets",
      "time",
      "price",
      "why",
      "reading",
      "field",
      "leaving",
    ];
    expect(CONTEXTS.toSorted()).toEqual(all.toSorted());
  });

  it.each(CONTEXTS)("no two commands of %s share a key", (context) => {
    const keys = COMMANDS.filter(({ contexts }) => contexts.includes(context)).flatMap(
      (one) => one.keys,
    );
    expect(keys.length).toBeGreaterThan(4);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("needs no Alt, Cmd, F11 or higher, Ctrl-I, Ctrl-J, Ctrl-M or Ctrl-[", () => {
    for (const key of COMMANDS.flatMap(({ keys }) => keys)) expect(key).toMatch(SAFE);
    for (const key of ["ctrl-i", "ctrl-m", "ctrl-j", "ctrl-[", "alt-j", "f11", "cmd-c"])
      expect(key).not.toMatch(SAFE);
  });

  it("leaves characters to a field", () => {
    for (const character of "qjk?12eo+") expect(commandFor("field", character)).toBeNull();
  });

  it("is the only file of the screen that names keys", () => {
    const folder = new URL("../../src/tui/", import.meta.url);
    const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter(
      (name) => /\.tsx?$/.test(name) && !/(?:keys|input)\.ts$/.test(name),
    );
    expect(files.length).toBeGreaterThan(15);
    const naming = files.filter((name) => {
      const text = readFileSync(new URL(name, folder), "utf8");
      return KEY_LITERAL.test(text);
    });
    expect(naming).toEqual([]);
    expect(KEY_LITERAL.test('if (key === "j")')).toBe(true);
    expect(KEY_LITERAL.test('["ctrl-r"]')).toBe(true);
  });
});

describe("the footer", () => {
  it.each(["1", "2", "3", "4", "5", "o", "p", "w"])("fits 80 columns after %s", (key) => {
    expect(displayWidth(footerText(press(readyState(), key)))).toBeLessThanOrEqual(80);
  });

  it.each(["1", "2", "3", "4", "5", "w"])("always has the help key in panel %s", (key) => {
    expect(footerText(press(readyState(), key))).toMatch(/\? keys$/);
  });

  it("leaves out what can not be done now", () => {
    expect(footerText(readyState())).not.toContain("undo");
    const wide = { columns: 200, rows: 24 };
    expect(footerText(press(readyState(wide), "+"))).toContain("u undo");
    expect(footerText(press(readyState(wide), "+"))).not.toContain("export");
    expect(footerText(press(readyState(wide), "+"))).toContain("Ctrl-C end with the best");
    expect(footerText(readyState(wide))).not.toMatch(/Ctrl-C|save/);
    expect(footerText(press(readyState(wide), "+"))).toContain("s save");
  });
});

describe("the help", () => {
  it("lists every command with its keys, scrolling at 80 x 24", () => {
    const pages: string[] = [];
    let state = press(readyState(), "?");
    for (let page = 0; page < 6; page++) {
      pages.push(...textOf(frameLines(state)));
      state = press(state, "pagedown");
    }
    const text = pages.join("\n");
    expect(COMMANDS.length).toBeGreaterThan(30);
    for (const { description } of COMMANDS) expect(text).toContain(description.slice(0, 30));
  });
});

describe("a command that can not run", () => {
  it("says why", () => {
    const empty = initialState(SMALL, null);
    for (const id of [
      "quantity",
      "more",
      "fewer",
      "why",
      "undo",
      "redo",
      "export",
      "save",
      "pieces",
      "to part",
      "next part",
      "choose",
      "reload",
      "notes",
    ] as const)
      expect(disabledReason(empty, id)).toMatch(/^[A-Z].{10,}/);
    expect(press(readyState(), "u").notice?.text).toBe("No change to take back");
  });
});

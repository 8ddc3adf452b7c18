import type { Key } from "ink";

/**
 * From what Ink hands over to single keys. A fast typist's `jjj` arrives as one event and is three
 * keys; a bracketed paste is one text, whatever it holds.
 */

export type InputEvent =
  | { readonly kind: "key"; readonly key: string }
  | { readonly kind: "paste"; readonly text: string };

export interface SplitInput {
  /** Text of a paste that has not ended yet; null when there is none. */
  readonly pasting: string | null;
  readonly events: readonly InputEvent[];
}

/** Sent around a paste by terminals told so (xterm, bracketed paste mode 2004), less its ESC. */
const PASTE_BEGINS = "[200~";
const PASTE_ENDS = "[201~";

/** A function key that Ink has no name for, less its ESC. */
const UNKNOWN_SEQUENCE = /^\[[0-9;]*[~A-Za-z]$/;

export function splitInput(pasting: string | null, input: string, key: Key): SplitInput {
  if (input === PASTE_BEGINS) return { pasting: "", events: [] };
  if (input === PASTE_ENDS) {
    const text = pasting ?? "";
    return { pasting: null, events: text === "" ? [] : [{ kind: "paste", text }] };
  }
  if (pasting !== null) return { pasting: pasting + pastedText(input, key), events: [] };
  return { pasting: null, events: keysOf(input, key).map((name) => ({ kind: "key", key: name })) };
}

function keysOf(input: string, key: Key): readonly string[] {
  const named = namedKey(key);
  if (named !== null) return [named];
  if (key.ctrl) return /^[a-z]$/.test(input) ? [`ctrl-${input}`] : [];
  if (UNKNOWN_SEQUENCE.test(input)) return [];
  const keys = Array.from(input, characterKey).filter((name) => name !== null);
  // Esc and a key in one read look like Alt and the key; nobody means Alt here.
  return key.meta ? ["escape", ...keys] : keys;
}

function namedKey(key: Key): string | null {
  if (key.upArrow) return "up";
  if (key.downArrow) return "down";
  if (key.leftArrow) return "left";
  if (key.rightArrow) return "right";
  if (key.pageUp) return "pageup";
  if (key.pageDown) return "pagedown";
  if (key.home) return "home";
  if (key.end) return "end";
  if (key.return) return "enter";
  if (key.escape) return "escape";
  if (key.tab) return key.shift ? "shift-tab" : "tab";
  // Most terminals send DEL for the backspace key, which Ink calls delete.
  if (key.backspace || key.delete) return "backspace";
  return null;
}

/** A character inside a burst; control characters are the keys that send them. */
function characterKey(character: string): string | null {
  const code = character.codePointAt(0) ?? 0;
  if (character === "\r" || character === "\n") return "enter";
  if (character === "\t") return "tab";
  if (code === 0x7f || code === 0x08) return "backspace";
  if (code >= 1 && code <= 26) return `ctrl-${String.fromCodePoint(code + 0x60)}`;
  return code < 0x20 ? null : character;
}

function pastedText(input: string, key: Key): string {
  if (key.return) return "\n";
  if (key.tab) return "\t";
  return key.ctrl || key.meta ? "" : input;
}

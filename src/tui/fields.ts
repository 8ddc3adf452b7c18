import { MOST, setPieces, setQuantity } from "./changing.ts";
import { openJob } from "./opening.ts";
import type { Overlay, State } from "./state.ts";

/** The line in which a number or a path is typed. */

type Field = Extract<Overlay, { readonly text: string }>;

/** What a number field takes, for the person. */
export const ACCEPTED = `1 to ${MOST}`;

const MOST_DIGITS = String(MOST).length;

/** Typed or pasted text at the end of the field; a number takes digits only, a path no control characters. */
export function typeText(state: State, text: string): State {
  const { overlay } = state;
  if (!isField(overlay)) return state;
  if (overlay.kind === "path")
    return retype(state, (before) => before + text.replace(/\p{Cc}/gu, ""));
  const digits = text.trim();
  const isNumber = /^\d*$/.test(digits) && overlay.text.length + digits.length <= MOST_DIGITS;
  return isNumber ? retype(state, (before) => before + digits) : refused(state);
}

export function erase(state: State): State {
  return retype(state, (text) =>
    Array.from(graphemes.segment(text), ({ segment }) => segment)
      .slice(0, -1)
      .join(""),
  );
}

export function clear(state: State): State {
  return retype(state, () => "");
}

/** Takes what is typed; nothing typed is no change. */
export function accept(state: State): State {
  const { overlay } = state;
  if (!isField(overlay)) return state;
  const text = overlay.text.trim();
  const closed = { ...state, overlay: null };
  if (text === "") return closed;
  if (overlay.kind === "path") return openJob(closed, text);
  const number = Number(text);
  if (number < 1 || number > MOST) return refused(state);
  return overlay.kind === "pieces"
    ? setPieces(closed, number)
    : setQuantity(closed, overlay.part, number);
}

function retype(state: State, change: (text: string) => string): State {
  const { overlay } = state;
  return isField(overlay)
    ? { ...state, overlay: { ...overlay, text: change(overlay.text) } }
    : state;
}

function refused(state: State): State {
  const text = `digits only, ${ACCEPTED}`;
  return { ...state, notice: { text, tone: "problem" } };
}

function isField(overlay: Overlay | null): overlay is Field {
  return overlay !== null && "text" in overlay;
}

const graphemes = new Intl.Segmenter("en", { granularity: "grapheme" });

import type { Element } from "./xml.ts";

/**
 * The part of CSS 2.1 that drawings are styled by: rules with selectors of one element each (type,
 * class, id, and those together). Whatever else would touch a line is named, not followed.
 */

export interface Rule {
  readonly selector: Selector;
  readonly declarations: readonly Declaration[];
}

export interface Declaration {
  readonly name: string;
  readonly value: string;
  readonly important: boolean;
}

/** All that an element must be. */
export interface Selector {
  /** Null for every type. */
  readonly tag: string | null;
  readonly ids: readonly string[];
  readonly classes: readonly string[];
}

export interface StyleSheet {
  readonly rules: readonly Rule[];
  /** Selectors and at-rules that are not followed, as written. */
  readonly unread: readonly string[];
}

/** At-rules that do not change where a line runs or whether it is seen. */
const HARMLESS = /^@(charset|font-face|namespace|(-\w+-)?keyframes|counter-style|page)\b/i;

/** One rule or at-rule: what stands before the brace or semicolon, and the brace if there is one. */
const STATEMENT = /([^{};]*)([{;])/y;

export function readStyleSheet(css: string): StyleSheet {
  const text = css.replace(/\/\*[\s\S]*?(\*\/|$)/g, " ").replace(/<!--|-->/g, " ");
  const rules: Rule[] = [];
  const unread: string[] = [];
  let at = 0;
  for (;;) {
    STATEMENT.lastIndex = at;
    const [matched, before = "", opener = ""] = STATEMENT.exec(text) ?? [];
    if (matched === undefined) return { rules, unread };
    const bodyStart = at + matched.length;
    const head = before.trim().replace(/\s+/g, " ");
    const end = opener === ";" ? bodyStart : endOfBlock(text, bodyStart);
    if (head.startsWith("@")) {
      if (!HARMLESS.test(head)) unread.push(head);
    } else if (opener === "{") {
      const declarations = readDeclarations(text.slice(bodyStart, end).replace(/\}$/, ""));
      for (const written of head.split(",").map((one) => one.trim())) {
        const selector = readSelector(written);
        if (selector !== null) rules.push({ selector, declarations });
        else if (declarations.some(({ name }) => name in FOLLOWED)) unread.push(written);
      }
    }
    at = end;
  }
}

/** Properties that say where a line runs, whether it is seen, and what is done with it. */
const FOLLOWED: Readonly<Record<string, true>> = {
  "clip-path": true,
  color: true,
  d: true,
  display: true,
  fill: true,
  mask: true,
  stroke: true,
  transform: true,
  visibility: true,
};

/** Of a style sheet's block or of a `style` attribute. */
export function readDeclarations(text: string): Declaration[] {
  return text.split(";").flatMap((written) => {
    const colon = written.indexOf(":");
    if (colon < 0) return [];
    const name = written.slice(0, colon).trim().toLowerCase();
    const value = written.slice(colon + 1);
    const plain = value.replace(/!\s*important\s*$/i, "");
    return [{ name, value: plain.trim(), important: plain !== value }];
  });
}

export function fits({ tag, ids, classes }: Selector, element: Element, own: readonly string[]) {
  return (
    (tag === null || tag === element.tag) &&
    ids.every((id) => id === element.attributes.get("id")) &&
    classes.every((name) => own.includes(name))
  );
}

/** CSS 2.1 section 6.4.3: ids before classes before types. */
export function specificity({ tag, ids, classes }: Selector): number {
  return ids.length * 1e6 + classes.length * 1e3 + (tag === null ? 0 : 1);
}

const NAME = String.raw`[^\s.#:>+~*|,[\]()\\]+`;
const SELECTOR = new RegExp(`^(?:\\*|(${NAME}))?((?:[.#]${NAME})*)$`);

function readSelector(written: string): Selector | null {
  const [, tag = null, rest = ""] = SELECTOR.exec(written) ?? [];
  if (written === "" || !SELECTOR.test(written)) return null;
  const pieces = rest.match(/[.#][^.#]+/g) ?? [];
  const named = (mark: string): string[] =>
    pieces.filter((piece) => piece.startsWith(mark)).map((piece) => piece.slice(1));
  return { tag, ids: named("#"), classes: named(".") };
}

/** Behind the brace that closes the block; blocks may stand in each other. */
function endOfBlock(text: string, start: number): number {
  let depth = 1;
  for (let at = start; at < text.length; at++) {
    const character = text[at];
    if (character === "{") depth++;
    if (character === "}") depth--;
    if (depth === 0) return at + 1;
  }
  return text.length;
}

import { isMap, isNode, isScalar, isSeq, LineCounter, parseDocument } from "yaml";
import type { Node, YAMLMap } from "yaml";
import { errorAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import type { CellKind } from "./cells.ts";
import { mendName, oneOf, sameText } from "../names.ts";
import type { SourceText } from "./types.ts";

/**
 * YAML read with every scalar as the text that stands there, so that `12.50` keeps its zero and a
 * day stays a day, and with the line of everything.
 */

export interface YamlEntry {
  /** Its `column` is the path, such as `price.markup_percent`; list items count from 1. */
  readonly place: Place;
  /** Null for nothing, `key:` alone. */
  readonly node: Node | null;
}

/** Names that are known, but below another one: only used to say so. */
export interface Elsewhere {
  readonly names: readonly string[];
  readonly below: string;
}

/** For names of fields. */
const OTHER_WORDS: ReadonlyMap<string, string> = new Map([
  ["color", "stroke"],
  ["colour", "stroke"],
]);

export type YamlFields = ReadonlyMap<string, YamlEntry>;

/** The YAML library recurses with the depth of a file; deeper than any job file it ends the process. */
const MOST_TEXT = 64 * 1024;
const MOST_BRACKETS = 200;
const TOO_DEEP = /^ {64}|^\s*(?:[-?:]\s+){8}/m;
const SHORT_ENOUGH = `a job file of at most ${MOST_TEXT / 1024} KiB, not deeply nested`;
const SHORTEN = "Shorten the file to the fields that a job file has";
/** One fault in YAML makes others further on. */
const MOST_ERRORS = 3;

/** Reads one file; problems gather in the order in which they are met. */
export class YamlReader {
  readonly problems: Problem[] = [];
  readonly #file: string;
  readonly #lines = new LineCounter();
  readonly #root: Node | null;

  constructor({ name, text }: SourceText) {
    this.#file = name;
    const large = isTooLarge(text);
    if (large)
      this.#refuse(this.#placeAt(null, null), "file-too-large", "much more", SHORT_ENOUGH, SHORTEN);
    const document = parseDocument(large ? "" : text, {
      schema: "failsafe",
      prettyErrors: false,
      lineCounter: this.#lines,
    });
    const lines = text.split(/\r\n|\r|\n/);
    const told = new Set<number | null>();
    for (const { code, message, pos } of document.errors.slice(0, MOST_ERRORS)) {
      const place = this.#placeAt(pos[0], null);
      if (told.has(place.line)) continue;
      told.add(place.line);
      const found = lines[(place.line ?? 1) - 1]?.trim() ?? "";
      this.problems.push(errorAt(place, notYaml(code, message, found)));
    }
    this.#root = document.errors.length === 0 ? document.contents : null;
  }

  /** Problems in the order of the file. */
  sorted(): readonly Problem[] {
    return this.problems.toSorted((a, b) => (a.line ?? 0) - (b.line ?? 0));
  }

  /** The fields of the file itself; none when it is empty or no YAML. */
  root(known: readonly string[], elsewhere: readonly Elsewhere[] = []): YamlFields {
    const place = this.#placeAt(null, null);
    return this.fields({ place, node: this.#root }, known, elsewhere);
  }

  /** The fields of a map by the names that are known; others are problems. */
  fields(
    { place, node }: YamlEntry,
    known: readonly string[],
    elsewhere: readonly Elsewhere[] = [],
  ): YamlFields {
    if (node === null || isEmpty(node)) return new Map();
    if (!isMap(node)) {
      this.#refuse(
        place,
        "not-fields",
        textOf(node),
        "names and values, each `name: value`",
        place.column === null ? FIELDS : FIELDS_BELOW,
      );
      return new Map();
    }
    return this.#knownFields(place, node, known, elsewhere);
  }

  /** The items of a list; none for nothing. */
  items({ place, node }: YamlEntry): readonly YamlEntry[] {
    if (node === null || isEmpty(node)) return [];
    if (!isSeq(node)) {
      this.#refuse(
        place,
        "not-a-list",
        textOf(node),
        "a list",
        "Begin each item with `- ` on its own line",
      );
      return [];
    }
    return node.items.map((item, index) => {
      const child = isNode(item) ? item : null;
      const path = `${place.column ?? ""}.${index + 1}`;
      return { place: this.#placeAt(child?.range?.[0] ?? null, path, place.line), node: child };
    });
  }

  /** The value of a scalar, or null: then it is nothing, or a problem has been noted. */
  value<T>(entry: YamlEntry | undefined, kind: CellKind<T>): T | null {
    if (entry === undefined || entry.node === null || isEmpty(entry.node)) return null;
    const written = isScalar(entry.node) ? String(entry.node.value).trim() : null;
    const value = written === null ? null : kind.read(written);
    if (value === null) {
      const found = written ?? textOf(entry.node);
      this.#refuse(entry.place, kind.code, found, kind.expected, kind.mend(found));
    }
    return value;
  }

  /** As {@link value}, where nothing is a problem too. */
  needed<T>(entry: YamlEntry, kind: CellKind<T>, mend: string): T | null {
    if (entry.node !== null && !isEmpty(entry.node)) return this.value(entry, kind);
    this.#refuse(entry.place, "empty-value", "", kind.expected, mend);
    return null;
  }

  #knownFields(
    place: Place,
    node: YAMLMap,
    known: readonly string[],
    elsewhere: readonly Elsewhere[],
  ): YamlFields {
    const fields = new Map<string, YamlEntry>();
    for (const { key, value } of node.items) {
      const written = isNode(key) ? textOf(key) : "";
      const name = known.find((one) => sameText(one, written.replaceAll(" ", "_")));
      const path = [place.column, name ?? written].filter((step) => step !== null).join(".");
      const at = this.#placeAt(isNode(key) ? (key.range?.[0] ?? null) : null, path, place.line);
      if (name === undefined) {
        const other = elsewhere.find(({ names }) => names.some((one) => sameText(one, written)));
        const mend =
          other !== undefined
            ? `Put it below ${other.below}, indented`
            : mendName(
                OTHER_WORDS.get(written.toLowerCase()) ?? written,
                known,
                "make it a comment with a # before it",
              );
        this.#refuse(at, "unknown-key", written, oneOf(written, known), mend);
      } else if (fields.has(name)) {
        this.#refuse(at, "key-twice", written, "each name once", "Remove one of the two");
      } else fields.set(name, { place: at, node: isNode(value) ? value : null });
    }
    return fields;
  }

  #refuse(place: Place, code: string, found: string, expected: string, mend: string): void {
    this.problems.push(errorAt(place, { code, found, expected, mend }));
  }

  #placeAt(offset: number | null, column: string | null, line: number | null = null): Place {
    const at = offset === null ? line : this.#lines.linePos(offset).line;
    return { file: this.#file, line: at, column };
  }
}

const FIELDS = "Write each name and value on a line of its own, such as `title: Way-markers`";
const FIELDS_BELOW = "Write each name and value on a line of its own below it, indented";

function isTooLarge(text: string): boolean {
  const brackets = text.match(/[[{]/g)?.length ?? 0;
  return text.length > MOST_TEXT || brackets > MOST_BRACKETS || TOO_DEEP.test(text);
}

function isEmpty(node: Node): boolean {
  return isScalar(node) && String(node.value).trim() === "";
}

/** What stands where something else should. */
function textOf(node: Node): string {
  if (isScalar(node)) return String(node.value);
  if (isSeq(node)) return "a list";
  return isMap(node) ? "fields of its own" : "a reference to another place";
}

function notYaml(
  code: string,
  message: string,
  found: string,
): { code: string; found: string; expected: string; mend: string } {
  const [expected, mend] = YAML_FAULTS[code] ?? [
    `YAML (${message.charAt(0).toLowerCase()}${message.slice(1)})`,
    OTHERWISE,
  ];
  return { code: "not-yaml", found, expected, mend };
}

const OTHERWISE = "Correct the line; a text that holds a colon, a # or quotes goes in quotes";

const YAML_FAULTS: Readonly<Record<string, readonly [string, string]>> = {
  DUPLICATE_KEY: ["each name once", "Remove one of the two lines"],
  TAB_AS_INDENT: ["blanks at the beginning of the line", "Indent with blanks instead of tabs"],
  BLOCK_AS_IMPLICIT_KEY: [
    "one value after the name",
    'Put a text that holds ": " in quotes: title: "Marsh: birds"',
  ],
  BAD_INDENT: [
    "brackets that close, and lines of one list that begin alike",
    "Close the bracket, or indent the line as those beside it",
  ],
  MISSING_CHAR: ["brackets and quotes that close", "Close the bracket or the quote, or remove it"],
  MULTILINE_IMPLICIT_KEY: ["a name and its value on one line", OTHERWISE],
  UNEXPECTED_TOKEN: ["one name and its value", OTHERWISE],
  BAD_SCALAR_START: ["a text that begins with a letter or a digit", "Put the text in quotes"],
  BAD_DQ_ESCAPE: ["a backslash doubled within quotes", "Write two backslashes, or single quotes"],
  MULTIPLE_DOCS: ["one job in the file", "Remove the line --- and what follows it"],
};

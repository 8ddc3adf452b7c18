import type { Fault } from "../../problem.ts";
import { excerpt } from "../fault.ts";

/** Entities that a drawing declares for itself (XML 1.0 section 4.2). */

export interface Entities {
  /** Names and the plain text that they stand for. */
  readonly plain: ReadonlyMap<string, string>;
  /** Those that name other files or other entities, as written. */
  readonly refused: readonly string[];
}

/** Vector programs declare namespaces so, of a few dozen characters. */
const LONGEST = 200;
const MOST_USES = 1000;

const DECLARATION = /<!ENTITY\s+(%\s+)?([^\s"'>]+)\s+(?:"([^"]*)"|'([^']*)'|[^>]*)/g;

/** @param type what stands between `<!DOCTYPE` and its end. */
export function readEntities(type: string): Entities {
  const plain = new Map<string, string>();
  const refused: string[] = [];
  for (const [written, parameter, name = "", double, single] of type.matchAll(DECLARATION)) {
    const value = double ?? single;
    const isPlain = parameter === undefined && value !== undefined && !/[&%<]/.test(value);
    if (!isPlain || value.length > LONGEST) refused.push(written);
    // The first declaration of a name holds.
    else if (!plain.has(name)) plain.set(name, value);
  }
  return { plain, refused };
}

/** What keeps a drawing with such entities from being read. */
export function entityFault({ plain, refused }: Entities, text: string): Fault | null {
  const [first] = refused;
  const fault = { code: "svg-entity", mend: "Save the drawing again as plain SVG" };
  if (first !== undefined)
    return {
      ...fault,
      found: excerpt(first),
      expected: `entities of plain text, up to ${LONGEST} characters; other files and entities inside entities are not read`,
    };
  if (plain.size === 0) return null;
  const uses = text.match(/&[^#;\s]{1,200};/g)?.length ?? 0;
  if (uses <= MOST_USES) return null;
  return { ...fault, found: `entities used ${uses} times`, expected: `at most ${MOST_USES} uses` };
}

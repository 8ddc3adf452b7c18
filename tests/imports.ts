/** What a TypeScript file imports and what its code says, read without a compiler. */

export interface Import {
  /** As written: `../units.ts`, `node:fs`, `ink`. */
  readonly from: string;
  /** Gone when the program runs. */
  readonly typeOnly: boolean;
  readonly line: number;
}

/** Static, side effect, re-exporting and dynamic imports, in no order. */
export function importsOf(source: string): readonly Import[] {
  const text = bare(source, true);
  const found = [...text.matchAll(STATIC), ...text.matchAll(DYNAMIC)];
  return found.map((match) => ({
    from: match.groups?.["from"] ?? "",
    typeOnly: match.groups?.["type"] !== undefined,
    line: text.slice(0, match.index + match[0].search(/\S/)).split("\n").length,
  }));
}

/** The code alone: comments, texts and patterns are blanks, every line stays where it was. */
export function codeOf(source: string): string {
  return bare(source, false);
}

const STATIC =
  /(?:^|(?<=;))[ \t]*(?:import|export)\s+(?<type>type\s+(?!from\b))?(?:[\w*{}\s,$]*?\bfrom\s*)?(?<quote>["'])(?<from>[^"'\n]+)\k<quote>/gm;
/** A name that is worked out is an import of everything: its `from` is empty. */
const DYNAMIC = /\bimport\s*\(\s*(?:(?<quote>["'`])(?<from>[^"'`$\n]+)\k<quote>)?/g;

const COMMENT = /\/\/[^\n]*|\/\*[\s\S]*?\*\//y;
const TEXT = /"(?:\\[\s\S]|[^"\\\n])*"|'(?:\\[\s\S]|[^'\\\n])*'/y;
const TEMPLATE_PIECE = /[`}](?:\\[\s\S]|\$(?!\{)|[^`\\$])*(?:`|\$\{)/y;
const PATTERN =
  /\/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n[*])(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n[])*\//y;
/** What stands before a pattern, never before a division. */
const BEFORE_PATTERN = /(?:[(,=:[!&|?;{>]|\breturn|\bcase|\btypeof|^)\s*$/;

/** Nothing in it begins or ends a comment, a text, a pattern or a block. */
const ORDINARY = /[^"'`/{}]+/y;

function bare(source: string, keepTexts: boolean): string {
  let done = "";
  /** Depth of braces at which each open template goes on. */
  const templates: number[] = [];
  let depth = 0;
  for (let at = 0; at < source.length;) {
    const ordinary = matchAt(ORDINARY, source, at);
    if (ordinary !== null) {
      done += ordinary;
      at += ordinary.length;
      continue;
    }
    const next = source[at] ?? "";
    const resumes = next === "}" && templates.at(-1) === depth;
    const comment = matchAt(COMMENT, source, at);
    const template = next === "`" || resumes ? matchAt(TEMPLATE_PIECE, source, at) : null;
    const pattern =
      next === "/" && BEFORE_PATTERN.test(done.slice(-80)) ? matchAt(PATTERN, source, at) : null;
    const piece = comment ?? template ?? matchAt(TEXT, source, at) ?? pattern ?? next;
    if (template !== null) {
      if (resumes) templates.pop();
      if (template.endsWith("${")) templates.push(depth);
    } else if (piece === "{") depth += 1;
    else if (piece === "}") depth -= 1;
    const blanked = comment !== null || (piece.length > 1 && !keepTexts);
    done += blanked ? piece.replace(/[^\n]/g, " ") : piece;
    at += piece.length;
  }
  return done;
}

function matchAt(pattern: RegExp, source: string, at: number): string | null {
  pattern.lastIndex = at;
  return pattern.exec(source)?.[0] ?? null;
}

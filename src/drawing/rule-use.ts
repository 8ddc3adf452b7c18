import type { LineRule } from "../job/types.ts";
import { eitherOf, mendName, nearest } from "../names.ts";
import { warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { plainColour } from "./colour.ts";
import { fits } from "./line-rules.ts";
import type { LineMarks } from "./line-rules.ts";

/** Which line rules do nothing: a line that no rule takes is cut right through. */

export interface RuleUse {
  readonly rule: LineRule;
  /** Lines that bear what the rule names. */
  readonly fitting: number;
  /** Those of them that no earlier rule takes. */
  readonly taken: number;
  /** Earlier rules that take the others. */
  readonly earlier: readonly LineRule[];
}

/** @param lines marks of every line of the drawings. */
export function ruleUses(rules: readonly LineRule[], lines: readonly LineMarks[]): RuleUse[] {
  const uses = rules.map((rule) => ({ rule, fitting: 0, taken: 0, earlier: new Set<LineRule>() }));
  for (const marks of lines) {
    let first: LineRule | null = null;
    for (const use of uses) {
      if (!fits(marks, use.rule)) continue;
      use.fitting++;
      if (first === null) use.taken++;
      else use.earlier.add(first);
      first ??= use.rule;
    }
  }
  return uses.map((use) => ({ ...use, earlier: [...use.earlier] }));
}

/** A warning for every rule that takes no line, at its place in the job file. */
export function idleRules(rules: readonly LineRule[], lines: readonly LineMarks[]): Problem[] {
  return ruleUses(rules, lines).flatMap((use) => {
    if (use.taken > 0) return [];
    return use.fitting > 0 ? shadowed(use) : unmatched(use.rule, lines);
  });
}

type Mark = LineRule["by"];

const MARKS: readonly Mark[] = ["class", "id", "layer", "stroke"];

function unmatched(rule: LineRule, lines: readonly LineMarks[]): Problem {
  const { by, value, operation, place } = rule;
  const names = namesOf(by, lines);
  const near = by === "stroke" ? nearestColour(value, names) : value;
  const other = MARKS.find((mark) => lines.some((marks) => fits(marks, { ...rule, by: mark })));
  return warningAt(place, {
    code: "line-rule-idle",
    found: ruleText(rule),
    expected: `${by === "id" ? "an id" : `a ${by}`} of the drawings' lines (${names.length === 0 ? "they have none" : eitherOf(names)}); no line has this one${CUT_INSTEAD[operation]}`,
    mend:
      other === undefined
        ? mendName(near, names, "delete the rule")
        : `Write "${other}: ${value}" if that is meant, or delete the rule`,
  });
}

const CUT_INSTEAD: Readonly<Record<LineRule["operation"], string>> = {
  cut: "",
  score: ", and lines that no rule takes are cut, not scored",
  engrave: ", and lines that no rule takes are cut, not engraved",
  "leave out": ", and lines that no rule takes are cut, not left out",
};

function namesOf(by: Mark, lines: readonly LineMarks[]): string[] {
  const all = lines.flatMap(({ classes, ids, layers, stroke }): readonly string[] => {
    if (by !== "stroke") return { class: classes, id: ids, layer: layers ?? [] }[by];
    return stroke === "" || stroke === "none" ? [] : [stroke];
  });
  return [...new Set(all)];
}

/** Of colours that are written in different ways, as the drawing writes it; else as asked for. */
function nearestColour(value: string, names: readonly string[]): string {
  const plain = nearest(plainColour(value), names.map(plainColour));
  return names.find((name) => plainColour(name) === plain) ?? value;
}

function shadowed({ rule, fitting, earlier }: RuleUse): Problem[] {
  const all = fitting === 1 ? "the only line that it names is" : `all ${fitting} are`;
  const before = earlier.map(
    (one) => `${ruleText(one)}${one.place.line === null ? "" : ` (line ${one.place.line})`}`,
  );
  return [
    warningAt(rule.place, {
      code: "line-rule-shadowed",
      found: ruleText(rule),
      expected: `lines that no earlier rule takes; ${all} taken by ${eitherOf(before)}`,
      mend: "Move the rule up if it is to decide, or delete it",
    }),
  ];
}

function ruleText({ by, value }: LineRule): string {
  return `${by}: ${value}`;
}

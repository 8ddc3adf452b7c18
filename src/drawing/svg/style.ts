import { fits, readDeclarations, specificity } from "./style-sheet.ts";
import type { Rule } from "./style-sheet.ts";
import type { Element } from "./xml.ts";

/** What an element's own properties are, by CSS 2.1 section 6.4 and SVG 1.1 section 6.4. */
export interface Style {
  /** From style sheets and the `style` attribute, by lower-case name. */
  readonly declared: ReadonlyMap<string, string>;
  /** The `style` attribute over sheets over the attribute of that name; null when inherited. */
  readonly property: (name: string) => string | null;
}

export function classesOf(element: Element): string[] {
  return (element.attributes.get("class") ?? "").split(/\s+/).filter((name) => name !== "");
}

/** The style sheets of a drawing, ready to be asked about its elements. */
export class Styles {
  /** Rules by the rarest thing that they ask for, each with its rank: later rules win ties. */
  readonly #rules = new Map<string, { readonly rule: Rule; readonly rank: readonly number[] }[]>();

  constructor(rules: readonly Rule[]) {
    for (const [index, rule] of rules.entries()) {
      const { tag, ids, classes } = rule.selector;
      const key = keyOf(ids[0], classes[0], tag);
      const ranked = { rule, rank: [specificity(rule.selector), index] };
      const same = this.#rules.get(key);
      if (same === undefined) this.#rules.set(key, [ranked]);
      else same.push(ranked);
    }
  }

  of(element: Element): Style {
    const inline = readDeclarations(element.attributes.get("style") ?? "");
    const layers = [...this.#matching(element).map(({ declarations }) => declarations), inline];
    const declared = new Map<string, string>();
    for (const important of [false, true])
      for (const declaration of layers.flat())
        if (declaration.important === important) declared.set(declaration.name, declaration.value);
    const property = (name: string): string | null => {
      const value = declared.get(name) ?? element.attributes.get(name)?.trim() ?? null;
      return value === "inherit" ? null : value;
    };
    return { declared, property };
  }

  /** The strongest last. */
  #matching(element: Element): Rule[] {
    if (this.#rules.size === 0) return [];
    const classes = classesOf(element);
    const id = element.attributes.get("id");
    const keys = new Set([
      keyOf(undefined, undefined, null),
      keyOf(undefined, undefined, element.tag),
      ...classes.map((name) => keyOf(undefined, name, null)),
      ...(id === undefined ? [] : [keyOf(id, undefined, null)]),
    ]);
    return [...keys]
      .flatMap((key) => this.#rules.get(key) ?? [])
      .filter(({ rule }) => fits(rule.selector, element, classes))
      .sort((a, b) => difference(a.rank, b.rank))
      .map(({ rule }) => rule);
  }
}

function keyOf(id: string | undefined, name: string | undefined, tag: string | null): string {
  if (id !== undefined) return `#${id}`;
  if (name !== undefined) return `.${name}`;
  return tag ?? "*";
}

/** Of the first numbers that differ. */
function difference(a: readonly number[], b: readonly number[]): number {
  const index = a.findIndex((value, at) => value !== b[at]);
  return index < 0 ? 0 : (a[index] ?? 0) - (b[index] ?? 0);
}

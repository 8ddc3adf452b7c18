import type { Fault } from "../../problem.ts";
import { mendName } from "../../names.ts";
import { isUndrawn } from "./uncuttable.ts";
import type { Element } from "./xml.ts";

/** Where the elements of a drawing are found. */
export interface ElementIndex {
  /** In order of the file, the root first. */
  readonly all: readonly Element[];
  readonly byId: ReadonlyMap<string, readonly Element[]>;
  readonly parents: ReadonlyMap<Element, Element>;
}

export function indexElements(root: Element): ElementIndex {
  const all: Element[] = [root];
  const byId = new Map<string, Element[]>();
  const parents = new Map<Element, Element>();
  const collect = (element: Element): void => {
    const id = element.attributes.get("id");
    if (id !== undefined) {
      const same = byId.get(id);
      if (same === undefined) byId.set(id, [element]);
      else same.push(element);
    }
    for (const child of element.children) {
      parents.set(child, element);
      all.push(child);
      collect(child);
    }
  };
  collect(root);
  return { all, byId, parents };
}

/** From the root to the element. */
export function trailTo(element: Element, { parents }: ElementIndex): Element[] {
  const trail = [element];
  for (let parent = parents.get(element); parent !== undefined; parent = parents.get(parent))
    trail.unshift(parent);
  return trail;
}

/** The one element with an id. */
export function elementOf(id: string, { all, byId }: ElementIndex): Element | Fault {
  const [element, ...others] = byId.get(id) ?? [];
  if (element === undefined) {
    const drawn = all.filter((one) => !isUndrawn(one));
    const ids = drawn.flatMap(({ attributes }) => attributes.get("id") ?? []);
    return unknownId(id, ids);
  }
  return others.length > 0 ? idTwice(id) : element;
}

/**
 * What a use element shows (SVG 1.1 section 5.6): an element of the same file.
 */
export function targetOf(use: Element, index: ElementIndex): Element | Fault {
  const { attributes } = use;
  const href = (attributes.get("href") ?? attributes.get("xlink:href") ?? "").trim();
  if (href !== "" && !href.startsWith("#")) return outside(href);
  const target = href === "" ? null : elementOf(href.slice(1), index);
  if (target !== null && "code" in target && target.code !== "svg-id-unknown") return target;
  if (target === null || "code" in target || (isUndrawn(target) && target.tag !== "symbol"))
    return {
      code: "svg-use-target",
      found: `href="${href}"`,
      expected: "the id of an element of this drawing that draws something",
      mend: "Correct the reference, or replace the copy by lines of its own (unlink the clone)",
    };
  return target;
}

function outside(found: string): Fault {
  return {
    code: "svg-external",
    found,
    expected: "a reference to an id of the same drawing, such as #heron; nothing else is read",
    mend: "Copy the lines into this drawing",
  };
}

function unknownId(id: string, ids: readonly string[]): Fault {
  return {
    code: "svg-id-unknown",
    found: `#${id}`,
    expected: "the id of an element of the drawing",
    mend: mendName(
      id,
      ids,
      "give the element this id in the drawing, or correct the id in the parts list",
    ),
  };
}

function idTwice(id: string): Fault {
  return {
    code: "svg-id-twice",
    found: `several elements with the id ${id}`,
    expected: "an id that stands once in the drawing",
    mend: "Give every part an id of its own",
  };
}

import type { Fault } from "../../problem.ts";
import type { Style } from "./style.ts";
import type { Element } from "./xml.ts";

/** What can stand in an SVG and yet not be worked as it is. */

/** Elements that hold definitions or notes and draw nothing where they stand. */
const UNDRAWN: ReadonlySet<string> = new Set([
  "clipPath",
  "defs",
  "desc",
  "filter",
  "linearGradient",
  "marker",
  "mask",
  "metadata",
  "pattern",
  "radialGradient",
  "style",
  "symbol",
  "title",
]);

/** Also elements of an editor's own namespace. */
export function isUndrawn({ tag }: Element): boolean {
  return UNDRAWN.has(tag) || tag.includes(":");
}

const TO_OUTLINES = "Convert the text to outlines, or delete or hide it if it is only a note";

const MENDS: ReadonlyMap<string, string> = new Map([
  ["text", TO_OUTLINES],
  ["tspan", TO_OUTLINES],
  ["textPath", TO_OUTLINES],
  ["image", "Trace the picture to lines, or delete it"],
  ["foreignObject", "Delete the embedded page, or draw what it shows"],
  ["script", "Save the drawing as it looks once the script has run"],
]);

/** For an element that is neither a group nor a line nor a note. */
export function uncuttableElement({ tag }: Element): Fault {
  return {
    code: "svg-uncuttable",
    found: `<${tag}>`,
    expected: "lines: path, rect, circle, ellipse, line, polyline or polygon",
    mend: MENDS.get(tag) ?? "Replace the element by lines, or delete it",
  };
}

const CLIPPED = "lines that end where they are seen to end; what this hides would be worked";
const MOVED = "moves in the attribute transform alone";
const FORMED = "shapes given by their attributes alone";

/** CSS ways to move an element; only the `transform` attribute is followed. */
const MOVES = ["transform", "transform-origin", "translate", "rotate", "scale", "offset-path"];

/** Properties that change what is seen in ways that are not followed. */
export function uncuttableProperties(element: Element, { declared, property }: Style): Fault[] {
  const clips = ["clip-path", "mask"].filter((name) => isSet(property(name)));
  const moves = MOVES.filter((name) => isSet(declared.get(name) ?? null));
  const origin = element.attributes.has("transform-origin") ? ["transform-origin"] : [];
  return [
    ...clips.map((name) =>
      propertyFault(name, CLIPPED, "Cut the lines off along it in the drawing"),
    ),
    ...[...moves, ...origin].map((name) =>
      propertyFault(name, MOVED, "Let the drawing program apply the move to the lines"),
    ),
  ];
}

/** SVG 2 lets styles give a shape its form as well; only attributes are read. */
const FORMS = ["d", "x", "y", "width", "height", "r", "rx", "ry", "cx", "cy"];

export function styledForm({ declared }: Style): Fault[] {
  return FORMS.filter((name) => declared.has(name)).map((name) =>
    propertyFault(name, FORMED, `Write ${name} as an attribute of the shape`),
  );
}

const MARKERS = ["marker", "marker-start", "marker-mid", "marker-end"];

/** Decorations that are left out while the lines themselves are worked. */
export function decorations({ property }: Style, tagOf: (id: string) => string | null): Fault[] {
  const markers = MARKERS.filter((name) => isSet(property(name)));
  const patterns = ["fill", "stroke"].filter((name) => {
    const [, id = ""] = /^url\(\s*["']?#([^"')]*)/.exec(property(name) ?? "") ?? [];
    return tagOf(id) === "pattern";
  });
  return [...markers, ...patterns.map((name) => `a pattern as ${name}`)].map((found) => ({
    code: "svg-left-out",
    found,
    expected: "lines; markers and patterns are left out",
    mend: "Turn the decoration into paths if it is to be worked",
  }));
}

function isSet(value: string | null): boolean {
  return value !== null && value !== "none" && value !== "";
}

function propertyFault(found: string, expected: string, mend: string): Fault {
  return { code: "svg-uncuttable", found, expected, mend };
}

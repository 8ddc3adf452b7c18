import type { Fault } from "../../problem.ts";
import { declarations, property } from "./style.ts";
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
  "title",
]);

/** Also elements of an editor's own namespace. */
export function isUndrawn({ tag }: Element): boolean {
  return UNDRAWN.has(tag) || tag.includes(":");
}

const MENDS: ReadonlyMap<string, string> = new Map([
  ["text", "Convert the text to outlines"],
  ["image", "Trace the picture to lines, or delete it"],
  ["use", "Replace the copy by lines of its own (unlink the clone)"],
  ["symbol", "Replace the symbol by lines of its own"],
  ["svg", "Turn the inner svg element into a group"],
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

/** CSS ways to move an element; only the `transform` attribute is followed. */
const MOVES = ["transform", "transform-origin", "translate", "rotate", "scale", "offset-path"];

/** Properties that change what is seen in ways that are not followed. */
export function uncuttableProperties(element: Element): Fault[] {
  const clips = ["clip-path", "mask"].filter(
    (name) => (property(element, name) ?? "none") !== "none",
  );
  const styled = declarations(element);
  const moves = MOVES.filter((name) => (styled.get(name) ?? "none") !== "none");
  const origin = element.attributes.has("transform-origin") ? ["transform-origin"] : [];
  return [
    ...clips.map((name) => propertyFault(name, "Cut the lines off along it in the drawing")),
    ...[...moves, ...origin].map((name) =>
      propertyFault(name, "Let the drawing program apply the move to the lines"),
    ),
  ];
}

function propertyFault(name: string, mend: string): Fault {
  return {
    code: "svg-uncuttable",
    found: name,
    expected: "lines that are worked as they stand",
    mend,
  };
}

/** A style sheet matters when rules go by stroke, or when it hides or moves things. */
export function styleSheetFault({ text }: Element, byStroke: boolean): Fault | null {
  const changesShape = /(?<![-\w])(display|visibility|transform|clip-path|d)\s*:/i.test(text);
  if (text.trim() === "" || (!byStroke && !changesShape)) return null;
  return {
    code: "svg-style-sheet",
    found: "<style>",
    expected: "strokes and visibility as attributes; style sheets are not read",
    mend: "Set the stroke as an attribute of each line (save as plain SVG)",
  };
}

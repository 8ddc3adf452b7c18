import { compose } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import type { Fault } from "../../problem.ts";
import { LENGTH_FORMS, numberList, userLength } from "./lengths.ts";
import type { Frame } from "./lengths.ts";
import type { Element } from "./xml.ts";

/** Frames that show a stretch of the drawing at a size of their own (SVG 1.1 chapter 7). */

export interface ViewBox extends Frame {
  readonly x: number;
  readonly y: number;
}

/** What of the frame a view box fills, and where it lies in it: shares of the room to spare. */
export interface Aspect {
  readonly fit: "none" | "meet" | "slice";
  readonly alongX: number;
  readonly alongY: number;
}

export interface Viewport {
  /** From user units inside to those outside. */
  readonly matrix: Affine;
  /** To which percentages inside refer. */
  readonly frame: Frame;
}

export function isFault(read: unknown): read is Fault {
  return typeof read === "object" && read !== null && "code" in read;
}

/**
 * An svg element inside another, or a symbol that is used.
 * @param size what stands for the element's own x, y, width and height, as attributes.
 */
export function readViewport(
  element: Element,
  size: ReadonlyMap<string, string>,
  outer: Frame,
): Viewport | Fault {
  const sides = { x: 0, y: 0, width: outer.width, height: outer.height };
  for (const name of ["x", "y", "width", "height"] as const) {
    const text = (size.get(name) ?? "auto").trim();
    if (text === "auto") continue;
    const value = userLength(text, name === "x" || name === "width" ? outer.width : outer.height);
    const isSize = name === "width" || name === "height";
    if (value === null || (isSize && !(value > 0))) return badSide(name, text);
    sides[name] = value;
  }
  const box = readViewBox(element);
  if (isFault(box)) return box;
  const aspect = readAspect(element);
  if (isFault(aspect)) return aspect;
  const moved: Affine = { a: 1, b: 0, c: 0, d: 1, e: sides.x, f: sides.y };
  if (box === null) return { matrix: moved, frame: sides };
  return { matrix: compose(moved, fitting(sides, box, aspect)), frame: box };
}

export function readViewBox(element: Element): ViewBox | Fault | null {
  const text = element.attributes.get("viewBox");
  if (text === undefined || text.trim() === "none") return null;
  const [x, y, width, height, ...rest] = numberList(text) ?? [];
  if (x !== undefined && y !== undefined && width !== undefined && height !== undefined)
    if (rest.length === 0 && width > 0 && height > 0) return { x, y, width, height };
  return {
    code: "svg-viewbox",
    found: text,
    expected: "four numbers, the last two above 0",
    mend: "Write the viewBox as left, top, width and height",
  };
}

const ASPECT = /^\s*(?:defer\s+)?(?:none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/;

/** preserveAspectRatio, SVG 1.1 section 7.8; in the middle and as large as fits unless said. */
export function readAspect(element: Element): Aspect | Fault {
  const text = element.attributes.get("preserveAspectRatio") ?? "xMidYMid";
  const [matched, x, y, fit = "meet"] = ASPECT.exec(text) ?? [];
  if (matched === undefined)
    return {
      code: "svg-aspect",
      found: `preserveAspectRatio="${text}"`,
      expected: "none, or an alignment such as xMidYMid with meet or slice",
      mend: "Correct preserveAspectRatio, or delete it",
    };
  if (x === undefined) return { fit: "none", alongX: 0, alongY: 0 };
  return { fit: fit === "slice" ? "slice" : "meet", alongX: share(x), alongY: share(y) };
}

function share(alignment: string | undefined): number {
  if (alignment === "Min") return 0;
  return alignment === "Max" ? 1 : 0.5;
}

/** From the view box to a frame with its corner at 0,0; both with y down. */
export function fitting(size: Frame, box: ViewBox, { fit, alongX, alongY }: Aspect): Affine {
  const [scaleX, scaleY] = [size.width / box.width, size.height / box.height];
  if (fit === "none")
    return { a: scaleX, b: 0, c: 0, d: scaleY, e: -box.x * scaleX, f: -box.y * scaleY };
  const scale = fit === "slice" ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  const left = alongX * (size.width - box.width * scale);
  const top = alongY * (size.height - box.height * scale);
  return { a: scale, b: 0, c: 0, d: scale, e: left - box.x * scale, f: top - box.y * scale };
}

function badSide(name: string, text: string): Fault {
  return {
    code: "svg-size",
    found: `${name}="${text}"`,
    expected: name === "x" || name === "y" ? LENGTH_FORMS : `${LENGTH_FORMS}, above 0`,
    mend: `Correct ${name} in the drawing`,
  };
}

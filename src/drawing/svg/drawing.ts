import { applyToPath, compose } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import type { Path, Point } from "../../geometry/types.ts";
import type { LineRule } from "../../job/types.ts";
import { errorAt, isError } from "../../problem.ts";
import type { Checked, Fault, Place, Problem } from "../../problem.ts";
import type { DrawnLine } from "../drawn-line.ts";
import { operationOf } from "../line-rules.ts";
import type { LineMarks } from "../line-rules.ts";
import { nearest } from "../../names.ts";
import { readPage } from "./page.ts";
import { readShape } from "./shapes.ts";
import { classesOf, property } from "./style.ts";
import { readTransform } from "./transform.ts";
import {
  isUndrawn,
  styleSheetFault,
  uncuttableElement,
  uncuttableProperties,
} from "./uncuttable.ts";
import { placeOf, readXml } from "./xml.ts";
import type { Element } from "./xml.ts";

/** An SVG whose page is understood. */
export interface SvgDrawing {
  readonly file: string;
  readonly root: Element;
  readonly toMm: Affine;
}

/** Lines of a drawing or of one element of it, and where that element stands. */
export interface DrawnLines {
  readonly lines: readonly DrawnLine[];
  readonly place: Place;
}

export function readSvg(
  file: string,
  text: string,
  rules: readonly LineRule[],
): Checked<SvgDrawing> {
  const xml = readXml(file, text);
  if (xml.value === null) return { value: null, problems: xml.problems };
  const root = xml.value;
  const place = placeOf(file, root);
  if (root.tag !== "svg") return { value: null, problems: [errorAt(place, notSvg(root))] };
  const page = readPage(root, place);
  const byStroke = rules.some(({ by }) => by === "stroke");
  const sheets = elementsOf(root).flatMap((element) => {
    const fault = element.tag === "style" ? styleSheetFault(element, byStroke) : null;
    return fault === null ? [] : [errorAt(placeOf(file, element), fault)];
  });
  const problems = [...page.problems, ...sheets];
  return { value: problems.some(isError) ? null : { file, root, toMm: page.toMm }, problems };
}

/** The lines that are seen, in mm with y up, each with its operation. */
export function drawnLines(
  drawing: SvgDrawing,
  id: string | null,
  rules: readonly LineRule[],
): Checked<DrawnLines> {
  const { file, root } = drawing;
  const found = id === null ? [[root]] : trailsTo(root, id);
  const [trail] = found;
  const element = trail?.at(-1);
  if (trail === undefined || element === undefined)
    return { value: null, problems: [errorAt(placeOf(file, root), unknownId(root, id ?? ""))] };
  const place = placeOf(file, element);
  if (found.length > 1) return { value: null, problems: [errorAt(place, idTwice(id ?? ""))] };
  const walk = new Walk(file, rules);
  const start = { matrix: drawing.toMm, marks: { classes: [], ids: [], stroke: "" }, isSeen: true };
  const state = trail.slice(0, -1).reduce<State>((outer, each) => walk.enter(each, outer), start);
  if (trail.some((each) => isUndrawn(each) || isHidden(each)))
    return { value: null, problems: [errorAt(place, hidden(id))] };
  const wrong = trail
    .slice(1)
    .find((each) => each.tag === "svg" || !(each === element || isGroup(each)));
  if (wrong !== undefined)
    return { value: null, problems: [errorAt(placeOf(file, wrong), uncuttableElement(wrong))] };
  walk.visit(element, state);
  const value = walk.problems.some(isError) ? null : { lines: walk.lines, place };
  return { value, problems: walk.problems };
}

/** What an element takes over from those around it. */
interface State {
  readonly matrix: Affine;
  readonly marks: LineMarks;
  readonly isSeen: boolean;
}

function isGroup({ tag }: Element): boolean {
  return tag === "g" || tag === "a" || tag === "svg";
}

class Walk {
  readonly lines: DrawnLine[] = [];
  readonly problems: Problem[] = [];
  readonly #file: string;
  readonly #rules: readonly LineRule[];

  constructor(file: string, rules: readonly LineRule[]) {
    this.#file = file;
    this.#rules = rules;
  }

  visit(element: Element, outer: State): void {
    if (isUndrawn(element) || isHidden(element)) return;
    const state = this.enter(element, outer);
    if (isGroup(element)) this.#visitChildren(element, state);
    else this.#draw(element, state);
  }

  enter(element: Element, { matrix, marks, isSeen }: State): State {
    const text = element.attributes.get("transform") ?? "";
    const transform = readTransform(text);
    if (transform === null) this.#report(element, badTransform(text));
    for (const fault of uncuttableProperties(element)) this.#report(element, fault);
    const visibility = property(element, "visibility");
    const id = element.attributes.get("id");
    return {
      matrix: transform === null ? matrix : compose(matrix, transform),
      marks: {
        classes: [...marks.classes, ...classesOf(element)],
        ids: id === undefined ? marks.ids : [...marks.ids, id],
        stroke: property(element, "stroke") ?? marks.stroke,
      },
      isSeen: visibility === null ? isSeen : visibility === "visible",
    };
  }

  #visitChildren(element: Element, state: State): void {
    for (const child of element.children) {
      if (child.tag === "svg") this.#report(child, uncuttableElement(child));
      else this.visit(child, state);
    }
  }

  #draw(element: Element, { matrix, marks, isSeen }: State): void {
    if (!isSeen) return;
    const read = readShape(element);
    if (read === null) return this.#report(element, uncuttableElement(element));
    if ("fault" in read) return this.#report(element, read.fault);
    const operation = operationOf(marks, this.#rules);
    const place = placeOf(this.#file, element);
    for (const drawn of read.paths) {
      const path = applyToPath(matrix, drawn);
      if (isOnEarth(path)) this.lines.push({ path, operation, place });
      else this.#report(element, tooLarge());
    }
  }

  #report(element: Element, fault: Fault): void {
    this.problems.push(errorAt(placeOf(this.#file, element), fault));
  }
}

function isHidden(element: Element): boolean {
  return property(element, "display") === "none";
}

const LARGEST_MM = 1e6;
/** A flatter arc than one of this radius can not be told from a line. */
const LARGEST_RADIUS_MM = 1e9;

function isOnEarth({ start, segments }: Path): boolean {
  return (
    isWithin(LARGEST_MM, start) &&
    segments.every((segment) => {
      if (!isWithin(LARGEST_MM, segment.to)) return false;
      if (segment.kind === "arc") return isWithin(LARGEST_RADIUS_MM, segment.centre);
      if (segment.kind === "line") return true;
      return isWithin(LARGEST_MM, segment.control1) && isWithin(LARGEST_MM, segment.control2);
    })
  );
}

/** False for NaN as well. */
function isWithin(most: number, { x, y }: Point): boolean {
  return Math.abs(x) < most && Math.abs(y) < most;
}

/** Every element below, in order of the file, the root first. */
function elementsOf(root: Element): Element[] {
  return [root, ...root.children.flatMap(elementsOf)];
}

/** From the root to each element of that id. */
function trailsTo(root: Element, id: string): Element[][] {
  const here = root.attributes.get("id") === id ? [[root]] : [];
  const below = root.children.flatMap((child) => trailsTo(child, id));
  return [...here, ...below.map((trail) => [root, ...trail])];
}

function notSvg({ tag }: Element): Fault {
  return {
    code: "svg-root",
    found: `<${tag}>`,
    expected: "an svg element around the drawing",
    mend: "Save the drawing as SVG",
  };
}

function unknownId(root: Element, id: string): Fault {
  const drawn = elementsOf(root).filter((element) => !isUndrawn(element));
  const ids = drawn.flatMap(({ attributes }) => attributes.get("id") ?? []);
  const near = nearest(id, ids);
  return {
    code: "svg-id-unknown",
    found: `#${id}`,
    expected: "the id of an element of the drawing",
    mend:
      near === null
        ? "Give the element this id in the drawing, or correct the id in the parts list"
        : `Write "${near}" in the parts list if that is meant`,
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

function hidden(id: string | null): Fault {
  return {
    code: "svg-hidden",
    found: id === null ? "a drawing that is not displayed" : `#${id}, which is not displayed`,
    expected: "an element that is seen in the drawing",
    mend: "Show the element, and move it out of definitions and hidden groups",
  };
}

function badTransform(found: string): Fault {
  return {
    code: "svg-transform",
    found,
    expected: "matrix, translate, scale, rotate, skewX or skewY with their numbers",
    mend: "Correct the transform, or let the drawing program apply it to the lines",
  };
}

function tooLarge(): Fault {
  return {
    code: "svg-number",
    found: "coordinates beyond a kilometre",
    expected: "lines near the page",
    mend: "Correct or delete the line",
  };
}

import { applyToPath, applyToPoint, compose } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import { flattenPath } from "../../geometry/flatten.ts";
import type { Path, Point } from "../../geometry/types.ts";
import type { LineRule } from "../../job/types.ts";
import { errorAt, warningAt } from "../../problem.ts";
import type { Fault, Place, Problem } from "../../problem.ts";
import type { DrawnLine } from "../drawn-line.ts";
import { FLATTENING_MM } from "../flattening.ts";
import { operationOf, ruleFor } from "../line-rules.ts";
import type { LineMarks } from "../line-rules.ts";
import type { SvgDrawing } from "./drawing.ts";
import { targetOf } from "./element-index.ts";
import { userLength } from "./lengths.ts";
import type { Frame } from "./lengths.ts";
import { isOnEarth } from "./on-earth.ts";
import { isShape, readShape } from "./shapes.ts";
import { classesOf } from "./style.ts";
import type { Style } from "./style.ts";
import { readTransform } from "./transform.ts";
import {
  decorations,
  isUndrawn,
  styledForm,
  uncuttableElement,
  uncuttableProperties,
} from "./uncuttable.ts";
import { isFault, readViewport } from "./viewport.ts";
import { DEEPEST, placeOf } from "./xml.ts";
import type { Element } from "./xml.ts";
import * as faults from "./walk-faults.ts";

/** What an element takes over from those around it. */
interface State {
  readonly matrix: Affine;
  readonly marks: LineMarks;
  readonly fill: string;
  readonly colour: string;
  /** False under an element that is wholly transparent. */
  readonly isOpaque: boolean;
  readonly strokeOpacity: string;
  readonly fillOpacity: string;
  readonly isSeen: boolean;
  readonly frame: Frame;
}

/** More elements in copies of copies are a trap, not a drawing. */
const MOST_COPIED = 250_000;

const GROUPS: ReadonlySet<string> = new Set(["g", "a", "svg", "switch"]);

export function isGroup({ tag }: Element): boolean {
  return GROUPS.has(tag);
}

/** Goes through the elements of a drawing as a viewer would, and collects lines in mm. */
export class Walk {
  readonly lines: DrawnLine[] = [];
  /** Lines whose fill and stroke can not be seen, and that no rule names. */
  readonly unpainted: DrawnLine[] = [];
  /** Of every shape, also of those that can not be read. */
  readonly marks: LineMarks[] = [];
  readonly problems: Problem[] = [];
  /** Lines that are not displayed, or hidden. */
  readonly hidden: Place[] = [];
  readonly #drawing: SvgDrawing;
  readonly #rules: readonly LineRule[];
  /** The elements around, copies included. */
  readonly #around: Element[] = [];
  #copied = 0;
  #copying = 0;
  #isWhole = true;

  constructor(drawing: SvgDrawing, rules: readonly LineRule[]) {
    this.#drawing = drawing;
    this.#rules = rules;
  }

  /** Whether all that can not be worked are elements that draw no lines: texts, pictures. */
  get isWhole(): boolean {
    return this.#isWhole;
  }

  /** Draws the last element of a trail from the root, with what it takes over from the others. */
  follow(trail: readonly Element[]): void {
    let state: State | null = {
      matrix: this.#drawing.toMm,
      marks: { classes: [], ids: [], stroke: "" },
      fill: "black",
      colour: "black",
      isOpaque: true,
      strokeOpacity: "1",
      fillOpacity: "1",
      isSeen: true,
      frame: this.#drawing.frame,
    };
    for (const element of trail.slice(0, -1)) {
      if (state === null) return;
      this.#around.push(element);
      const entered: State = this.#entered(element, this.#drawing.styles.of(element), state);
      const isInner = element.tag === "svg" && element !== this.#drawing.root;
      state = isInner ? this.#framed(element, element.attributes, entered) : entered;
    }
    const last = trail.at(-1);
    if (state !== null && last !== undefined) this.#visit(last, state);
  }

  #visit(element: Element, outer: State): void {
    const style = this.#drawing.styles.of(element);
    if (isUndrawn(element)) return;
    if (style.property("display") === "none") return this.#hide(element);
    if (this.#around.length >= 2 * DEEPEST) return this.#report(element, faults.copiesTooDeep());
    if (this.#copying > 0 && this.#copied++ === MOST_COPIED)
      return this.#report(element, faults.tooManyCopies(MOST_COPIED));
    if (this.#copied > MOST_COPIED) return;
    const state = this.#entered(element, style, outer);
    this.#around.push(element);
    if (element.tag === "use") this.#copy(element, state);
    else if (element.tag === "svg" && element !== this.#drawing.root)
      this.#showFrame(element, element.attributes, state);
    else if (element.tag === "switch") this.#choose(element, state);
    else if (isGroup(element)) this.#visitChildren(element, state);
    else this.#draw(element, style, state);
    this.#around.pop();
  }

  #entered(element: Element, style: Style, outer: State): State {
    const { matrix, marks, isSeen } = outer;
    const text = element.attributes.get("transform") ?? "";
    const transform = readTransform(text);
    if (transform === null) this.#report(element, faults.badTransform(text));
    for (const fault of uncuttableProperties(element, style)) this.#report(element, fault);
    for (const fault of decorations(style, (id) => this.#tagOf(id)))
      this.problems.push(warningAt(placeOf(this.#drawing.file, element), fault));
    const visibility = style.property("visibility");
    const id = element.attributes.get("id");
    const colour = style.property("color") ?? outer.colour;
    const paint = (name: string, inherited: string): string => {
      const value = style.property(name) ?? inherited;
      return value.toLowerCase() === "currentcolor" ? colour : value;
    };
    return {
      matrix: transform === null ? matrix : compose(matrix, transform),
      marks: {
        ...marks,
        classes: [...marks.classes, ...classesOf(element)],
        ids: id === undefined ? marks.ids : [...marks.ids, id],
        stroke: paint("stroke", marks.stroke),
      },
      fill: paint("fill", outer.fill),
      colour,
      isOpaque: outer.isOpaque && isOpaque(style.property("opacity") ?? "1"),
      strokeOpacity: style.property("stroke-opacity") ?? outer.strokeOpacity,
      fillOpacity: style.property("fill-opacity") ?? outer.fillOpacity,
      isSeen: visibility === null ? isSeen : visibility === "visible",
      frame: outer.frame,
    };
  }

  #visitChildren(element: Element, state: State): void {
    for (const child of element.children) this.#visit(child, state);
  }

  /** SVG 1.1 section 5.8: the first child that asks for no extension and no language. */
  #choose(element: Element, state: State): void {
    const chosen = element.children.find(
      ({ tag, attributes }) =>
        !tag.includes(":") &&
        !attributes.has("requiredExtensions") &&
        !attributes.has("systemLanguage"),
    );
    if (chosen === undefined) this.#report(element, faults.noChoice());
    else this.#visit(chosen, state);
  }

  #copy(use: Element, state: State): void {
    const target = targetOf(use, this.#drawing.index);
    if ("code" in target) return this.#report(use, target);
    if (this.#around.includes(target)) return this.#report(use, faults.copyOfItself(target));
    const move = { x: 0, y: 0 };
    for (const name of ["x", "y"] as const) {
      const text = use.attributes.get(name) ?? "0";
      const value = userLength(text, name === "x" ? state.frame.width : state.frame.height);
      if (value === null) return this.#report(use, faults.badLength(name, text));
      move[name] = value;
    }
    const matrix = compose(state.matrix, { a: 1, b: 0, c: 0, d: 1, e: move.x, f: move.y });
    const moved = { ...state, matrix };
    this.#copying++;
    if (target.tag === "symbol" || target.tag === "svg") this.#copyFrame(use, target, moved);
    else this.#visit(target, moved);
    this.#copying--;
  }

  /** Width and height of the copy stand before those of the original. */
  #copyFrame(use: Element, target: Element, outer: State): void {
    const style = this.#drawing.styles.of(target);
    if (style.property("display") === "none") return;
    const size = new Map(target.attributes);
    for (const name of ["width", "height"]) {
      const said = use.attributes.get(name);
      if (said !== undefined) size.set(name, said);
    }
    this.#around.push(target);
    this.#showFrame(target, size, this.#entered(target, style, outer));
    this.#around.pop();
  }

  #showFrame(element: Element, size: ReadonlyMap<string, string>, outer: State): void {
    const before = this.lines.length;
    const inner = this.#framed(element, size, outer);
    if (inner === null) return;
    this.#visitChildren(element, inner);
    const overflow = this.#drawing.styles.of(element).property("overflow") ?? "hidden";
    if (overflow === "visible" || overflow === "auto") return;
    const corners = frameCorners(element, size, outer);
    if (this.lines.slice(before).some(({ path }) => reachesBeyond(path, corners)))
      this.problems.push(warningAt(placeOf(this.#drawing.file, element), faults.beyondFrame()));
  }

  #framed(element: Element, size: ReadonlyMap<string, string>, state: State): State | null {
    const viewport = readViewport(element, size, state.frame);
    if (!isFault(viewport))
      return { ...state, matrix: compose(state.matrix, viewport.matrix), frame: viewport.frame };
    this.#report(element, viewport);
    return null;
  }

  /** Counts the lines of an element that is not displayed. */
  #hide(element: Element): void {
    if (isUndrawn(element)) return;
    if (isShape(element) || element.tag === "use")
      this.hidden.push(placeOf(this.#drawing.file, element));
    for (const child of element.children) this.#hide(child);
  }

  #draw(element: Element, style: Style, state: State): void {
    const { matrix, marks, frame } = state;
    if (!state.isSeen) return this.#hide(element);
    this.marks.push(marks);
    const operation = operationOf(marks, this.#rules);
    if (operation === null) return;
    const read = readShape(element, frame);
    if (read === null) return this.#say(element, uncuttableElement(element));
    if ("fault" in read) return this.#report(element, read.fault);
    for (const fault of styledForm(style)) this.#report(element, fault);
    const place = placeOf(this.#drawing.file, element);
    const rule = ruleFor(marks, this.#rules);
    const isNamed = rule !== null && rule.by !== "stroke";
    const isPainted = isNamed || isVisible(state);
    for (const drawn of read.paths) {
      const path = applyToPath(matrix, drawn);
      if (!isOnEarth(path)) this.#report(element, faults.tooLarge());
      else (isPainted ? this.lines : this.unpainted).push({ path, operation, place });
    }
  }

  #tagOf(id: string): string | null {
    return this.#drawing.index.byId.get(id)?.[0]?.tag ?? null;
  }

  #report(element: Element, fault: Fault): void {
    this.#isWhole = false;
    this.#say(element, fault);
  }

  #say(element: Element, fault: Fault): void {
    this.problems.push(errorAt(placeOf(this.#drawing.file, element), fault));
  }
}

function isVisible(state: State): boolean {
  const { isOpaque: under, marks, fill, strokeOpacity, fillOpacity } = state;
  const stroked = isPaint(marks.stroke) && isOpaque(strokeOpacity);
  return under && (stroked || (isPaint(fill) && isOpaque(fillOpacity)));
}

/** `0`, `0.0` and `0%` are not. */
function isOpaque(opacity: string): boolean {
  return Number.parseFloat(opacity) !== 0;
}

function isPaint(text: string): boolean {
  const paint = text.toLowerCase();
  return paint !== "" && paint !== "none" && paint !== "transparent";
}

/** Of the frame in mm, in order around it. */
function frameCorners(element: Element, size: ReadonlyMap<string, string>, outer: State): Point[] {
  const unboxed = { ...element, attributes: new Map<string, string>() };
  const viewport = readViewport(unboxed, size, outer.frame);
  if (isFault(viewport)) return [];
  const { matrix, frame } = viewport;
  const toMm = compose(outer.matrix, matrix);
  return [
    { x: 0, y: 0 },
    { x: frame.width, y: 0 },
    { x: frame.width, y: frame.height },
    { x: 0, y: frame.height },
  ].map((corner) => applyToPoint(toMm, corner));
}

/** Whether a line leaves a parallelogram by more than a hair. */
function reachesBeyond(path: Path, corners: readonly Point[]): boolean {
  const points = flattenPath(path, FLATTENING_MM);
  const sides = corners.map((a, index) => [a, corners[(index + 1) % corners.length] ?? a] as const);
  const turn = sides.reduce((sum, [a, b]) => sum + a.x * b.y - a.y * b.x, 0) < 0 ? -1 : 1;
  return sides.some(([a, b]) => {
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    return points.some((p) => {
      const across = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
      return (turn * across) / length < -FLATTENING_MM;
    });
  });
}

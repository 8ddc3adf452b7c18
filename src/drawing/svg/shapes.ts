import { applyToPath } from "../../geometry/affine.ts";
import { endpointArc } from "../../geometry/ellipse.ts";
import { circlePath, polylinePath } from "../../geometry/path.ts";
import type { Path, Point, Segment } from "../../geometry/types.ts";
import { excerpt } from "../fault.ts";
import type { Fault } from "../../problem.ts";
import { LENGTH_FORMS, numberList, userLength, wholeOf } from "./lengths.ts";
import type { Frame } from "./lengths.ts";
import { readPathData } from "./path-data.ts";
import type { Element } from "./xml.ts";

/** Paths of one drawing element in user units, or what is wrong with it. */
export type ElementPaths = { readonly paths: readonly Path[] } | { readonly fault: Fault };

type Reader = (element: Element, frame: Frame) => ElementPaths;

const READERS: ReadonlyMap<string, Reader> = new Map<string, Reader>([
  ["path", readPath],
  [
    "rect",
    (element, frame) => fromLengths(element, frame, ["x", "y", "width", "height"], rectangle),
  ],
  ["circle", (element, frame) => fromLengths(element, frame, ["cx", "cy", "r"], circle)],
  ["ellipse", (element, frame) => fromLengths(element, frame, ["cx", "cy", "rx", "ry"], ellipse)],
  ["line", (element, frame) => fromLengths(element, frame, ["x1", "y1", "x2", "y2"], line)],
  ["polyline", (element) => readPoints(element, false)],
  ["polygon", (element) => readPoints(element, true)],
]);

export function isShape({ tag }: Element): boolean {
  return READERS.has(tag);
}

/**
 * Null for elements that draw nothing by themselves.
 * @param frame to which percentages refer.
 */
export function readShape(element: Element, frame: Frame): ElementPaths | null {
  return READERS.get(element.tag)?.(element, frame) ?? null;
}

function readPath(element: Element): ElementPaths {
  const d = element.attributes.get("d") ?? "";
  const read = readPathData(d);
  if ("paths" in read) return read;
  return {
    fault: {
      code: "svg-path-data",
      found: `${read.fault}: ${excerpt(d)}`,
      expected: "path data of SVG 1.1",
      mend: "Draw the path again, or save the drawing as plain SVG",
    },
  };
}

function readPoints(element: Element, closed: boolean): ElementPaths {
  const text = element.attributes.get("points") ?? "";
  const numbers = numberList(text);
  if (numbers === null || numbers.length % 2 !== 0)
    return { fault: badNumber("points", text, "pairs of x and y") };
  const points = Array.from({ length: numbers.length / 2 }, (_, index): Point => ({
    x: numbers[2 * index] ?? 0,
    y: numbers[2 * index + 1] ?? 0,
  }));
  const [start, ...rest] = points;
  return { paths: start === undefined ? [] : [polylinePath([start, ...rest], closed)] };
}

const NEVER_NEGATIVE: ReadonlySet<string> = new Set(["width", "height", "r", "rx", "ry"]);

/** Missing attributes are 0, as SVG has it. */
function fromLengths(
  element: Element,
  frame: Frame,
  names: readonly string[],
  draw: (lengths: readonly number[], element: Element) => Path,
): ElementPaths {
  const lengths: number[] = [];
  for (const name of [...names, ...cornerNames(element)]) {
    const text = element.attributes.get(name) ?? "0";
    const value = userLength(text, wholeOf(name, frame));
    if (value === null || (value < 0 && NEVER_NEGATIVE.has(name)))
      return { fault: badNumber(name, text, LENGTH_FORMS) };
    lengths.push(value);
  }
  return { paths: [draw(lengths, element)] };
}

/** A rectangle's one radius serves for both; `auto` counts as not said. */
function cornerNames({ tag, attributes }: Element): string[] {
  if (tag !== "rect") return [];
  const said = ["rx", "ry"].filter((name) => (attributes.get(name) ?? "auto").trim() !== "auto");
  const [first] = said;
  if (first === undefined) return [];
  return said.length === 2 ? said : [first, first];
}

function badNumber(name: string, text: string, expected: string): Fault {
  return {
    code: "svg-number",
    found: `${name}="${excerpt(text)}"`,
    expected,
    mend: `Correct ${name} in the drawing`,
  };
}

/** SVG 1.1 section 9.2: radii are at most half of the sides; the path begins after a corner. */
function rectangle([
  x = 0,
  y = 0,
  width = 0,
  height = 0,
  cornerX = 0,
  cornerY = 0,
]: readonly number[]): Path {
  const [radiusX, radiusY] = [Math.min(cornerX, width / 2), Math.min(cornerY, height / 2)];
  const [right, bottom] = [x + width, y + height];
  if (radiusX === 0 || radiusY === 0)
    return polylinePath(
      [
        { x, y },
        { x: right, y },
        { x: right, y: bottom },
        { x, y: bottom },
      ],
      true,
    );
  const start = { x: x + radiusX, y };
  const stops: readonly (readonly [Point, Point])[] = [
    [
      { x: right - radiusX, y },
      { x: right, y: y + radiusY },
    ],
    [
      { x: right, y: bottom - radiusY },
      { x: right - radiusX, y: bottom },
    ],
    [
      { x: x + radiusX, y: bottom },
      { x, y: bottom - radiusY },
    ],
    [{ x, y: y + radiusY }, start],
  ];
  const flags = { rotationDeg: 0, largeArc: false, sweep: true };
  const segments = stops.flatMap(([straightTo, to]): Segment[] => [
    { kind: "line", to: straightTo },
    ...endpointArc(straightTo, { radiusX, radiusY, ...flags, to }),
  ]);
  return { start, segments, closed: true };
}

function circle([x = 0, y = 0, radius = 0]: readonly number[]): Path {
  return circlePath({ x, y }, radius);
}

function ellipse([x = 0, y = 0, radiusX = 0, radiusY = 0]: readonly number[]): Path {
  const matrix = { a: radiusX, b: 0, c: 0, d: radiusY, e: x, f: y };
  return applyToPath(matrix, circlePath({ x: 0, y: 0 }, 1));
}

function line([x1 = 0, y1 = 0, x2 = 0, y2 = 0]: readonly number[]): Path {
  return polylinePath(
    [
      { x: x1, y: y1 },
      { x: x2, y: y2 },
    ],
    false,
  );
}

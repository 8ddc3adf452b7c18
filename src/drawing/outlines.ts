import { pathBounds } from "../geometry/path.ts";
import type { Box, Path } from "../geometry/types.ts";
import { SAME_MM } from "./twins.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import type { Nested } from "./containment.ts";
import type { PlacedPath } from "./drawn-line.ts";
import { placesText, whereText } from "./fault.ts";
import { betweenEnds } from "./outside.ts";

/** A drawing of several pieces, each an outline with its holes. */

export interface Outlined {
  readonly outline: Nested;
  readonly holes: readonly Nested[];
  /** Of the outline's curves. */
  readonly box: Box;
}

/**
 * All pieces, from left to right by the left edge of their boxes (to 0.01 mm), and from bottom to
 * top where those are the same. What lies inside a hole is a piece of its own.
 */
export function outlinesInOrder(contours: readonly Nested[]): Outlined[] {
  const holes = new Map<Nested, Nested[]>();
  for (const contour of contours) {
    if (contour.depth % 2 === 0 || contour.around === null) continue;
    const others = holes.get(contour.around);
    if (others === undefined) holes.set(contour.around, [contour]);
    else others.push(contour);
  }
  return contours
    .filter(({ depth }) => depth % 2 === 0)
    .map((outline) => ({
      outline,
      holes: holes.get(outline) ?? [],
      box: pathBounds(outline.placed.path),
    }))
    .sort((a, b) => edge(a, "minX") - edge(b, "minX") || edge(a, "minY") - edge(b, "minY"));
}

const STEPS_PER_MM = 100;

function edge({ box }: Outlined, side: "minX" | "minY"): number {
  return Math.round(box[side] * STEPS_PER_MM);
}

/** `outline-3` as 3; null when an id is nothing of the kind. */
export function outlineNumber(id: string): number | null {
  const [, number] = /^outline-([1-9]\d{0,5})$/i.exec(id) ?? [];
  return number === undefined ? null : Number(number);
}

/** For each line the index of the innermost outline that holds it, or null. */
export function ownersOf(
  lines: readonly PlacedPath[],
  outlines: readonly Outlined[],
): (number | null)[] {
  const innermostFirst = outlines
    .map(({ outline }, index) => ({ outline, index }))
    .sort((a, b) => b.outline.depth - a.outline.depth || a.index - b.index);
  return lines.map(({ path }) => {
    const points = betweenEnds(path);
    const owner = innermostFirst.find(({ outline }) =>
      points.some((point) => outline.ring.contains(point)),
    );
    return owner?.index ?? null;
  });
}

/** The piece with the smallest box that a line lies in, on its edges as well. */
export function innermostAround(path: Path, outlines: readonly Outlined[]): Outlined | null {
  const own = pathBounds(path);
  return outlines
    .filter(({ box }) => boxHolds(box, own, SAME_MM))
    .reduce<Outlined | null>(
      (least, one) => (least === null || isWithin(one.box, least.box) ? one : least),
      null,
    );
}

function isWithin(inner: Box, outer: Box): boolean {
  return boxHolds(outer, inner, 0);
}

function boxHolds(outer: Box, inner: Box, apart: number): boolean {
  return (
    outer.minX <= inner.minX + apart &&
    outer.minY <= inner.minY + apart &&
    outer.maxX >= inner.maxX - apart &&
    outer.maxY >= inner.maxY - apart
  );
}

/** Scores and engravings of no piece. */
export function ownerless(lines: readonly PlacedPath[]): Problem[] {
  const [first] = lines;
  if (first === undefined) return [];
  const fault = {
    code: "line-outside",
    found: `${lines.length} scored or engraved lines outside of every outline, at ${placesText(lines.map(({ path }) => path.start))}`,
    expected: "lines inside the outline of a piece; these are left out",
    mend: "Move the lines into a piece, or delete them",
  };
  return [warningAt(first.place, fault)];
}

/** A whole drawing is named as one part, and holds several. */
export function severalOutlines(
  outlines: readonly Outlined[],
  drawing: Place,
  isWhole: boolean,
): Problem {
  const [, second] = outlines.toSorted((a, b) => lineOf(a) - lineOf(b));
  const { file } = drawing;
  const isDxf = /\.dxf$/i.test(file);
  const own = isDxf ? "a layer of its own" : "an id of its own";
  return errorAt(second?.outline.placed.place ?? drawing, {
    code: "outline-several",
    found: `${outlines.length} outlines: ${listed(outlines)}`,
    expected: "one outline, with its holes inside",
    mend: isWhole
      ? `Write ${file}#outline-1 to ${file}#outline-${outlines.length} under drawing (from left to right, then from bottom to top), or give each outline ${own}`
      : `Give each outline ${own} and its own row (${file}#${isDxf ? "LAYER" : "id"}), or name it by its number among all outlines of the drawing (${file}#outline-1 ...)`,
  });
}

function lineOf({ outline }: Outlined): number {
  return outline.placed.place.line ?? 0;
}

export function noSuchOutline(cell: Place, number: number, outlines: readonly Outlined[]): Problem {
  return errorAt(cell, {
    code: "outline-unknown",
    found: `#outline-${number}`,
    expected: `${outlines.length === 1 ? "the only outline" : `one of ${outlines.length} outlines`}: ${listed(outlines)}`,
    mend: "Correct the number",
  });
}

const MOST_LISTED = 4;

function listed(outlines: readonly Outlined[]): string {
  const shown = outlines.slice(0, MOST_LISTED).map(({ box: { minX, minY, maxX, maxY } }, index) => {
    const size = `${trimmed(maxX - minX, 2)} x ${lengthText(maxY - minY)}`;
    return `outline-${index + 1} at ${whereText({ x: minX, y: minY })} (${size})`;
  });
  const more = outlines.length > MOST_LISTED ? [`... outline-${outlines.length}`] : [];
  return [...shown, ...more].join("; ");
}

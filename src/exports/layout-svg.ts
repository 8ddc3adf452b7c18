import type { PartGeometry } from "../drawing/types.ts";
import type { NestedStock, TimedStock } from "../estimate-data.ts";
import { arcPoint, arcRadius } from "../geometry/arc.ts";
import type { Arc } from "../geometry/arc.ts";
import { legsOf } from "../geometry/path.ts";
import type { Leg } from "../geometry/path.ts";
import type { Path, Point } from "../geometry/types.ts";
import type { Operation } from "../job/types.ts";
import type { OrderedPath } from "../machine/types.ts";
import { trimmed } from "../units.ts";
import { layoutOf, leftoverCaption } from "./layout.ts";
import type { Caption, Label, Layout } from "./layout.ts";
import { escaped } from "./markup.ts";

/**
 * One sheet as SVG 1.1 at true size, for the machine's own program and to look at. A unit is 1 mm;
 * there is a group for each operation, and `sheet`, `label` and `leftover` that are not for the machine.
 * Arcs stay arcs and cubics cubics. SVG's y points down: what is seen is what lies on the sheet.
 * @throws RangeError as {@link layoutOf}.
 */
export function layoutSvg(
  stock: NestedStock | TimedStock,
  sheetIndex: number,
  geometry: ReadonlyMap<string, PartGeometry>,
): string {
  return drawingSvg(layoutOf(stock, sheetIndex, geometry));
}

/** Anything that is laid out for the machine, likewise. */
export function drawingSvg(layout: Layout): string {
  const [width, height] = [number(layout.widthMm), number(layout.heightMm)];
  return [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">`,
    `<title>${escaped(layout.title)}</title>`,
    `<g id="sheet" fill="none" stroke="#9aa3a0" stroke-width="0.3">`,
    sheetElement(layout),
    ...(layout.offcut === null ? [] : [captionText(layout.offcut, layout.heightMm)]),
    `</g>`,
    ...operationGroup(layout, "engrave", `fill="#c9b79c" fill-rule="evenodd" stroke="none"`),
    ...operationGroup(layout, "score", `fill="none" stroke="#4f7f8c" stroke-width="0.2"`),
    ...operationGroup(layout, "cut", `fill="none" stroke="#000000" stroke-width="0.2"`),
    `<g id="label" fill="#7d7468" stroke="none" font-family="sans-serif" text-anchor="middle">`,
    ...layout.labels.map((label) => labelText(label, layout.heightMm)),
    `</g>`,
    ...leftoverGroup(layout),
    `</svg>`,
    ``,
  ].join("\n");
}

function sheetElement({ outline, widthMm, heightMm }: Layout): string {
  if (outline === null)
    return `<rect x="0" y="0" width="${number(widthMm)}" height="${number(heightMm)}"/>`;
  const rings = [outline.outer, ...outline.holes].map((ring) => {
    const points = ring.map((point) => onPage(point, heightMm).join(" "));
    return `M${points.join(" L")} Z`;
  });
  return `<path d="${rings.join(" ")}"/>`;
}

/** Dashed, with its size in the middle. */
function leftoverGroup({ leftover, heightMm: sheetHeight }: Layout): string[] {
  if (leftover === null) return [];
  const { xMm, yMm, widthMm, heightMm } = leftover;
  const [left, top] = onPage({ x: xMm, y: yMm + heightMm }, sheetHeight);
  return [
    `<g id="leftover" fill="none" stroke="#9aa3a0" stroke-width="0.3" stroke-dasharray="4 2">`,
    `<rect x="${left}" y="${top}" width="${number(widthMm)}" height="${number(heightMm)}"/>`,
    captionText(leftoverCaption(leftover), sheetHeight),
    `</g>`,
  ];
}

/** Beside lines that are not for the machine, in their colour. */
function captionText({ text, centre, heightMm }: Caption, sheetHeight: number): string {
  const [x, y] = baseline(centre, heightMm, sheetHeight);
  return `<text x="${x}" y="${y}" font-size="${number(heightMm)}" fill="#9aa3a0" stroke="none" font-family="sans-serif" text-anchor="middle">${escaped(text)}</text>`;
}

function operationGroup(layout: Layout, operation: Operation, style: string): string[] {
  const drawn = shapes(layout.paths.filter((each) => each.operation === operation));
  if (drawn.length === 0) return [];
  return [
    `<g id="${operation}" ${style}>`,
    ...drawn.map((shape) => pathElement(shape, layout.heightMm)),
    `</g>`,
  ];
}

/** What one path element draws: a contour, or all that is engraved on a copy. */
interface Shape extends Omit<OrderedPath, "path"> {
  readonly id: string;
  readonly paths: readonly Path[];
}

/** Engraved areas of a copy are one shape, so that areas within areas stay free. */
function shapes(ordered: readonly OrderedPath[]): Shape[] {
  const found = new Map<string, Shape>();
  const counts = new Map<string, number>();
  for (const { operation, part, copy, path } of ordered) {
    const name = `${idName(part)}-${copy}-${operation}`;
    const count = operation === "engrave" ? 1 : (counts.get(name) ?? 0) + 1;
    counts.set(name, count);
    const id = `${name}-${count}`;
    const paths = [...(found.get(id)?.paths ?? []), path];
    found.set(id, { operation, part, copy, id, paths });
  }
  return [...found.values()];
}

function pathElement({ id, part, copy, paths }: Shape, heightMm: number): string {
  const data = paths.map((path) => pathData(path, heightMm)).join(" ");
  return `<path id="${id}" data-part="${escaped(part)}" data-copy="${copy}" d="${data}"/>`;
}

function labelText({ part, copy, text, centre, heightMm }: Label, sheetHeight: number): string {
  const [x, y] = baseline(centre, heightMm, sheetHeight);
  const data = `data-part="${escaped(part)}" data-copy="${copy}"`;
  return `<text x="${x}" y="${y}" font-size="${number(heightMm)}" ${data}>${escaped(text)}</text>`;
}

/** Capitals are about 0.7 of the font's size high; half of that brings their middle to the centre. */
function baseline({ x, y }: Point, heightMm: number, sheetHeight: number): [x: string, y: string] {
  return onPage({ x, y: y - 0.35 * heightMm }, sheetHeight);
}

function pathData(path: Path, sheetHeight: number): string {
  const legs = legsOf(path);
  const last = legs.at(-1);
  // `Z` draws the last straight side of a closed path.
  const drawn = path.closed && last?.segment.kind === "line" ? legs.slice(0, -1) : legs;
  return [
    `M${onPage(path.start, sheetHeight).join(" ")}`,
    ...drawn.map((leg) => legData(leg, sheetHeight)),
    ...(path.closed ? ["Z"] : []),
  ].join(" ");
}

function legData({ from, segment }: Leg, sheetHeight: number): string {
  if (segment.kind === "arc") return arcData(from, segment, sheetHeight);
  const points =
    segment.kind === "line" ? [segment.to] : [segment.control1, segment.control2, segment.to];
  const places = points.map((point) => onPage(point, sheetHeight).join(" ")).join(" ");
  return `${segment.kind === "line" ? "L" : "C"}${places}`;
}

/**
 * In pieces of at most a third of a turn: near a half turn the ends hardly say where the centre is,
 * and a full turn would vanish. Counter-clockwise as seen is against SVG's positive angles.
 */
function arcData(from: Point, arc: Arc, sheetHeight: number): string {
  const pieces = Math.max(1, Math.ceil(Math.abs(arc.sweepRad) / LARGEST_ARC_RAD - 1e-9));
  const radius = number(arcRadius(from, arc));
  const sense = arc.sweepRad > 0 ? 0 : 1;
  return Array.from({ length: pieces }, (_, index) => {
    const to = onPage(arcPoint(from, arc, (index + 1) / pieces), sheetHeight).join(" ");
    return `A${radius} ${radius} 0 0 ${sense} ${to}`;
  }).join(" ");
}

const LARGEST_ARC_RAD = (2 * Math.PI) / 3;

function onPage({ x, y }: Point, sheetHeight: number): [x: string, y: string] {
  return [number(x), number(sheetHeight - y)];
}

/** To a millionth of a mm, and no zeros that say nothing. */
function number(value: number): string {
  return trimmed(value, 6);
}

/** A name that is valid as an XML id in all programs, and different for different parts. */
function idName(part: string): string {
  return part.replace(/[^A-Za-z0-9_.-]|^[0-9.-]|_(?=x)/gu, (character) => {
    return `_x${(character.codePointAt(0) ?? 0).toString(16)}_`;
  });
}

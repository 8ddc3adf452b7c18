import { ringArea } from "../../geometry/ring.ts";
import type { Box } from "../../geometry/types.ts";
import type { Laid } from "../filled.ts";
import { openRegion, smallestOf } from "../outline.ts";
import type { Random } from "../../random.ts";
import type { Shape } from "../shapes.ts";
import { coveringParts } from "../simplify.ts";
import { freeTurns } from "./free-turns.ts";
import type { Contents, Footing, Loose } from "./ground.ts";
import type { Layout } from "./layout.ts";
import type { Form, Model, Stance } from "./model.ts";

/** Shapes and the ways to lay them as the search for overlaps has them. */

/** What the search knows of the shapes, for so many stances. */
export function formsOf(
  shapes: readonly Shape[],
  gapMm: number,
  stances: readonly Stance[],
): readonly Form[] {
  const most = mostParts(stances);
  const smallest = smallestOf(shapes);
  return shapes.map(({ piece, hull, parts }) => ({
    parts: parts.length <= most ? parts : coveringParts(openRegion(piece.region, smallest)!, most),
    clearMm: gapMm / 2 + piece.flatteningMm,
    hullMm2: Math.abs(ringArea(hull)),
  }));
}

/** Two shapes make a field of the square of their parts for every way that one is seen from the other. */
function mostParts(stances: readonly Stance[]): number {
  const forms = new Set(stances.map(({ form }) => form)).size;
  const fields = (stances.length / forms) * forms ** 2;
  return Math.max(LEAST_PARTS, Math.min(MOST_PARTS, Math.floor(Math.sqrt(POLYGONS / fields))));
}

/** Of all fields together: some seconds. */
const POLYGONS = 30_000;
const MOST_PARTS = 24;
const LEAST_PARTS = 4;

/** The turns of shapes that fit, those that copies have already, and some more where any will do. */
export function stancesOf(
  { choice, shapes, turns, free }: Loose,
  laid: readonly Laid[],
  random: Random,
): readonly Stance[] {
  return shapes.flatMap((shape, form) => {
    const used = laid.filter((copy) => copy.shape === form).map(({ variant }) => variant);
    if (used.length === 0) return [];
    const ways: Laid["variant"][] = [...turns[form]!];
    for (const variant of used) if (!ways.some((way) => isSame(way, variant))) ways.push(variant);
    const kept = shape.piece.flatteningMm;
    const more = free ? freeTurns(shape, shapes, laid, ways.length, random) : [];
    ways.push(...more.filter((variant) => fits(variant, kept, choice)));
    return ways.map((way) => stanceOf(form, way, kept));
  });
}

/** @param keptMm what its curves may lie outside of the parts. */
export function stanceOf(
  form: number,
  { turnDeg, mirrored, box }: Laid["variant"],
  keptMm: number,
): Stance {
  const grown = {
    minX: box.minX - keptMm,
    minY: box.minY - keptMm,
    maxX: box.maxX + keptMm,
    maxY: box.maxY + keptMm,
  };
  return { form, turnDeg, mirrored, box: grown };
}

/** As it was before it became a stance. */
function variantOf({ turnDeg, mirrored, box }: Stance, keptMm: number): Laid["variant"] {
  const shrunk = {
    minX: box.minX + keptMm,
    minY: box.minY + keptMm,
    maxX: box.maxX - keptMm,
    maxY: box.maxY - keptMm,
  };
  return { turnDeg, mirrored, box: shrunk };
}

/** What lies in one room of a layout, as it lies on the sheet. */
export function contentsOf(
  { stances }: Model,
  forms: Int32Array,
  layout: Layout,
  shapes: readonly Shape[],
  {
    room,
    minX,
    marginMm,
  }: { readonly room: number; readonly minX: number; readonly marginMm: number },
): Contents {
  const placed: Laid[] = [];
  let usedMm = 0;
  for (let copy = 0; copy < forms.length; copy++) {
    if (layout.room[copy] !== room) continue;
    const stance = stances[layout.stance[copy]!]!;
    const variant = variantOf(stance, shapes[stance.form]!.piece.flatteningMm);
    const [x, y] = [layout.x[copy]! - minX + marginMm, layout.y[copy]!];
    usedMm = Math.max(usedMm, y + stance.box.maxY);
    placed.push({ shape: stance.form, variant, x, y });
  }
  return { placed, usedMm };
}

/** Overlaps that are no deeper are small to a search that moves these, mm. */
export function slackFor(boxes: readonly Box[]): number {
  const sizes = boxes.map(({ minX, minY, maxX, maxY }) => Math.sqrt((maxX - minX) * (maxY - minY)));
  return (SLACK * sizes.reduce((sum, size) => sum + size, 0)) / sizes.length;
}

/** Share of the mean size of a copy. */
const SLACK = 0.002;

function fits({ box }: Laid["variant"], keptMm: number, choice: Footing): boolean {
  const { widthMm, heightMm, marginMm } = choice;
  const around = 2 * (marginMm + keptMm);
  const high = box.maxY - box.minY + around <= (heightMm ?? Infinity);
  return high && box.maxX - box.minX + around <= widthMm;
}

function isSame(a: Laid["variant"], b: Laid["variant"]): boolean {
  return a.turnDeg === b.turnDeg && a.mirrored === b.mirrored;
}

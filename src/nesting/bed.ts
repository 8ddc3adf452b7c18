import { regionArea } from "../geometry/ring.ts";
import type { Box } from "../geometry/types.ts";
import { TOUCH_MM } from "./column.ts";
import type { Placed } from "./columns.ts";
import { couplesOf, type Couple } from "./couples.ts";
import type { GrownParts } from "./grown.ts";
import { mostLength } from "./lengths.ts";
import type { NoFitCache } from "./no-fit.ts";
import type { Outline } from "./outline.ts";
import type { Shape } from "./shapes.ts";
import { standingOn } from "./standing.ts";
import { boxAngle, turnedAs, type Turned } from "./turns.ts";
import type { SheetChoice } from "./types.ts";

/** A way to lay a piece on one size of sheet, with where its 0,0 may come to lie. */
export interface Variant extends Turned {
  /** Names the shape and the turn, the same on every size of sheet. */
  readonly index: number;
  /** By half the gap and the flattening. */
  readonly grown: GrownParts;
  /** Range of positions that keep it inside sheet and margin. */
  readonly room: Box;
  /** Of many parts: it only takes positions a whole number of steps from the left of its room. */
  readonly intricate: boolean;
  /** The same for all pieces of a job. */
  readonly stepMm: number;
}

/** What is laid at a time: one copy, or two that keep together as a couple. */
export interface Way extends Pick<Variant, "room" | "box" | "upright" | "intricate" | "stepMm"> {
  /** The first one's 0,0 is that of the whole. */
  readonly members: readonly Member[];
}

export interface Member {
  readonly variant: Variant;
  readonly x: number;
  readonly y: number;
  /** Steps from the left of its own room when the whole lies left in its room; if intricate. */
  readonly at: number;
}

/** A sheet of one size and what may lie on it, ready for many passes. */
export interface Bed {
  readonly choice: SheetChoice;
  /** At least what is inside the margin, mm2; infinite for a roll without end. */
  readonly areaMm2: number;
  /** For each shape the ways to lay a copy that fit; none for a shape that is too large. */
  readonly singles: readonly (readonly Way[])[];
  /** For each shape the ways to lay two copies head to tail that are worth while and fit. */
  readonly couples: readonly (readonly Way[])[];
  /** What lies on each sheet from the start: see {@link standingOn}. */
  readonly standing: readonly Placed[];
}

/**
 * One shape and one couple after the other, for each takes a while.
 * @param before how many pieces stand on other sheets.
 */
export function* bedOf(
  choice: SheetChoice,
  before: number,
  shapes: readonly Shape[],
  stepMm: number,
  cache: NoFitCache,
): Generator<void, Bed, void> {
  const singles: (readonly Way[])[] = [];
  const couples: (readonly Way[])[] = [];
  for (const [index, shape] of shapes.entries()) {
    const variants = turnsThatFit(shape, choice).map((turned): Variant => ({
      ...turned,
      index: index * MOST_TURNS + turned.number,
      grown: cache.grownAs(index * MOST_TURNS + turned.number, shape, turned, choice.gapMm),
      room: roomFor(shape, turned.box, choice)!,
      intricate: isIntricate(shape),
      stepMm,
    }));
    singles.push(variants.map(singleWay));
    cache.meter.spend(variants.length);
    yield;
    const found =
      shape.piece.copies < MANY_COPIES ? [] : yield* couplesOf(variants, choice.gapMm, cache);
    couples.push(found.flatMap((couple) => coupledWays(shape, couple, choice)));
  }
  const height = mostLength(choice);
  const { widthMm, marginMm, outline } = choice;
  const areaMm2 =
    outline === undefined
      ? (widthMm - 2 * marginMm) * (height - 2 * marginMm)
      : regionArea(outline.region);
  const standing = standingOn(choice, shapes.length * MOST_TURNS + before, stepMm);
  return { choice, areaMm2, singles, couples, standing };
}

/** With fewer, other pieces fill the room beside a single copy as well. */
const MANY_COPIES = 8;

/** The step for intricate pieces: fine for the smallest of them, within what sheets can bear. */
export function stepFor(shapes: readonly Shape[], choices: readonly SheetChoice[]): number {
  const narrowest = Math.min(...choices.map(({ widthMm }) => widthMm));
  const diagonals = shapes.filter(isIntricate).map(({ turns }) => {
    const { minX, minY, maxX, maxY } = turns[0]!.box;
    return Math.hypot(maxX - minX, maxY - minY);
  });
  const fine = Math.min(...diagonals) * STEP_SHARE;
  return Math.min(Math.max(fine, narrowest / MOST_STEPS), narrowest / LEAST_STEPS);
}

/** Share of a piece's diagonal. */
const STEP_SHARE = 0.01;
const LEAST_STEPS = 400;
const MOST_STEPS = 1500;

/** Pairs of pieces with more parts than this have too many polygons to go through each time. */
const PLAIN_PARTS = 4;

function isIntricate({ parts }: Shape): boolean {
  return parts.length > PLAIN_PARTS;
}

/** Above the number of any turn. */
const MOST_TURNS = 1024;

/** The ways to lay a copy that keep it on the sheet less its margin; none when it is too large. */
export function turnsThatFit(
  shape: Pick<Shape, "piece" | "hull" | "turns">,
  choice: SheetChoice,
): readonly Turned[] {
  const fitting = shape.turns.filter(({ box }) => roomFor(shape, box, choice) !== null);
  return fitting.length > 0 ? fitting : slantsThatFit(shape, choice);
}

/** The two ways to lay a piece along the sheet, as far as they are allowed and fit. */
export function plainTurns(
  outline: Outline,
  choice: SheetChoice,
): readonly Omit<Turned, "number">[] {
  const { piece, hull } = outline;
  const base = piece.turn === "any" ? boxAngle(hull) : 0;
  const turnable = piece.turn === "any" || piece.turn === "quarter";
  const fitting = (turnable ? [base, base + 90] : [base])
    .map((turnDeg) => turnedAs(hull, turnDeg, false))
    .filter(({ box }) => roomFor(outline, box, choice) !== null);
  return fitting.length > 0 ? fitting : slantsThatFit(outline, choice);
}

function slantsThatFit(
  outline: Pick<Outline, "piece" | "hull">,
  choice: SheetChoice,
): readonly Turned[] {
  if (outline.piece.turn !== "any") return [];
  return SLANTS.map((turnDeg, slant) => ({
    number: FIRST_SLANT + slant,
    ...turnedAs(outline.hull, turnDeg, false),
  })).filter(({ box }) => roomFor(outline, box, choice) !== null);
}

/** Tried one by one for a long piece that lies on a sheet only aslant. */
const SLANTS: readonly number[] = Array.from({ length: 360 }, (_, half) => half / 2);
/** Above the numbers of the turns that every shape has. */
const FIRST_SLANT = 64;

/** Positions that keep the box inside the margin, or null when there is none. */
function roomFor({ piece }: Pick<Shape, "piece">, box: Box, choice: SheetChoice): Box | null {
  const kept = choice.marginMm + piece.flatteningMm;
  const [minX, minY] = [kept - box.minX, kept - box.minY];
  const maxX = choice.widthMm - kept - box.maxX;
  const maxY = mostLength(choice) - kept - box.maxY;
  if (maxX < minX - TOUCH_MM || maxY < minY - TOUCH_MM) return null;
  return { minX, minY, maxX: Math.max(minX, maxX), maxY: Math.max(minY, maxY) };
}

function singleWay(variant: Variant): Way {
  return wayOf(variant, [{ variant, x: 0, y: 0, at: 0 }], variant);
}

/** One way, or none where the couple does not fit the sheet. */
function coupledWays(shape: Shape, couple: Couple, choice: SheetChoice): readonly Way[] {
  const { first, second, x, y, box } = couple;
  const room = roomFor(shape, box, choice);
  if (room === null) return [];
  // Couples of intricate pieces are whole steps apart, so these are whole numbers but for rounding.
  const at = (variant: Variant, fromX: number) =>
    Math.round((room.minX + fromX - variant.room.minX) / first.stepMm);
  const members = [
    { variant: first, x: 0, y: 0, at: at(first, 0) },
    { variant: second, x, y, at: at(second, x) },
  ];
  return [wayOf(first, members, { box, room })];
}

function wayOf(
  { upright, intricate, stepMm }: Variant,
  members: readonly Member[],
  { box, room }: Pick<Way, "box" | "room">,
): Way {
  return { members, box, room, upright, intricate, stepMm };
}

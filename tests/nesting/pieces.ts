import { Amount } from "../../src/money.ts";
import type { Point, Ring } from "../../src/geometry/types.ts";
import { bedOf, stepFor, type Bed } from "../../src/nesting/bed.ts";
import { Meter } from "../../src/nesting/meter.ts";
import { NoFitCache } from "../../src/nesting/no-fit.ts";
import { outlineOf } from "../../src/nesting/outline.ts";
import { shapesOf, type Shape } from "../../src/nesting/shapes.ts";
import type { NestOutcome, NestPiece, Placement, SheetChoice } from "../../src/nesting/types.ts";
import { nestPieces, type NestOptions } from "../../src/nesting/nest.ts";
import { drain } from "../helpers/drain.ts";

/** Makers of pieces and sheets for the nesting tests. */

export function ring(...coordinates: readonly (readonly [number, number])[]): Ring {
  return coordinates.map(([x, y]) => ({ x, y }));
}

export function box(width: number, height: number, x = 0, y = 0): Ring {
  return ring([x, y], [x + width, y], [x + width, y + height], [x, y + height]);
}

export function piece(part: string, outer: Ring, more: Partial<NestPiece> = {}): NestPiece {
  const plain = { copies: 1, flatteningMm: 0, turn: "quarter", flip: false } as const;
  return { part, region: { outer, holes: [] }, ...plain, ...more };
}

export function sheet(
  widthMm: number,
  heightMm: number,
  more: Partial<SheetChoice> = {},
): SheetChoice {
  return {
    id: `${widthMm}x${heightMm}`,
    form: "sheet",
    widthMm,
    heightMm,
    longestMm: null,
    price: new Amount(10),
    marginMm: 0,
    gapMm: 0,
    onHand: null,
    ...more,
  };
}

export function roll(widthMm: number, more: Partial<SheetChoice> = {}): SheetChoice {
  return { ...sheet(widthMm, 0), id: `roll ${widthMm}`, form: "roll", heightMm: null, ...more };
}

export function nest(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  options: Partial<NestOptions> = {},
): NestOutcome {
  return drain(nestPieces("test", pieces, choices, { seed: 1, steps: 1, ...options }));
}

/** Made ready for the search. */
export function shapesFor(...pieces: readonly NestPiece[]): readonly Shape[] {
  return ended(shapesOf(pieces.map(outlineOf), new Meter()));
}

export function bedFor(choice: SheetChoice, shapes: readonly Shape[]): Bed {
  return ended(bedOf(choice, 0, shapes, stepFor(shapes, [choice]), new NoFitCache()));
}

function ended<T>(work: Generator<unknown, T, void>): T {
  let turn = work.next();
  while (turn.done !== true) turn = work.next();
  return turn.value;
}

/** By the words of design.md section 3: mirrored first, then turned, then moved. */
export function lies(point: Point, { mirrored, turnDeg, xMm, yMm }: Placement): Point {
  const x = mirrored ? -point.x : point.x;
  const angle = (turnDeg * Math.PI) / 180;
  return {
    x: x * Math.cos(angle) - point.y * Math.sin(angle) + xMm,
    y: x * Math.sin(angle) + point.y * Math.cos(angle) + yMm,
  };
}

import type { Random } from "../../random.ts";
import { cornersOf, TileCorners, type Corner, type TileCorner } from "./corners.ts";
import { fitsIn, frontAfter, frontOf, type Front } from "./front.ts";
import type { Jigsaw } from "./tiles.ts";

/** A tile where it lies, and on which sheet. */
export interface TileLaid {
  readonly tile: number;
  readonly sheet: number;
  readonly x: number;
  readonly y: number;
}

interface Node {
  readonly front: Front;
  readonly sheet: number;
  /** Places to be tried next, the best last. */
  readonly choices: TileLaid[];
}

/**
 * Lays all tiles without a gap, sheet after sheet: always into the corner that fewest tiles go into,
 * and back where there is none. Begins anew in another order after more and more tries. Yields now
 * and then the tiles looked at since the last time; returns where all lie, or null when there is no
 * way to lay them.
 */
export function* solve(
  jigsaw: Jigsaw,
  random: Random,
): Generator<number, readonly TileLaid[] | null, void> {
  for (let most = FIRST_TRIES; ; most *= 2) {
    const tried = yield* solveOnce(new Attempt(jigsaw, random), most);
    if (tried !== undefined) return tried;
  }
}

const FIRST_TRIES = 2000;
/** Tiles looked at between two yields. */
const BREATH = 200;

/** Undefined when the tries are used up. */
function* solveOnce(
  attempt: Attempt,
  most: number,
): Generator<number, readonly TileLaid[] | null | undefined, void> {
  let told = 0;
  while (attempt.tries < most) {
    if (attempt.isDone) return attempt.laid;
    if (!attempt.go()) return null;
    if (attempt.tries - told < BREATH) continue;
    yield attempt.tries - told;
    told = attempt.tries;
  }
  yield attempt.tries - told;
  return undefined;
}

class Attempt {
  tries = 0;
  readonly laid: TileLaid[] = [];
  readonly #jigsaw: Jigsaw;
  readonly #random: Random;
  readonly #corners: TileCorners;
  readonly #left: number[];
  readonly #areas: readonly number[];
  #stack: Node[] = [];

  constructor(jigsaw: Jigsaw, random: Random) {
    this.#jigsaw = jigsaw;
    this.#random = random;
    this.#corners = new TileCorners(jigsaw.tiles);
    this.#left = [...jigsaw.copies];
    this.#areas = jigsaw.tiles.map(({ xy }) => areaOf(xy));
    this.#open(frontOf(jigsaw.width, jigsaw.height), 0);
  }

  get isDone(): boolean {
    return this.#left.every((copies) => copies === 0);
  }

  /** Lays one tile more, or takes one back; false when all was tried. */
  go(): boolean {
    const node = this.#stack.at(-1);
    if (node === undefined) return false;
    const next = node.choices.pop();
    if (next === undefined) {
      this.#stack.pop();
      const taken = this.laid.pop();
      if (taken !== undefined) this.#left[this.#jigsaw.tiles[taken.tile]!.shape]!++;
      return this.#stack.length > 0;
    }
    const { shape, xy } = this.#jigsaw.tiles[next.tile]!;
    const front = frontAfter(node.front, xy, next.x, next.y);
    this.laid.push(next);
    this.#left[shape]!--;
    const { width, height } = this.#jigsaw;
    if (front.length > 0) this.#open(front, node.sheet);
    else this.#open(frontOf(width, height), node.sheet + 1);
    return true;
  }

  /** Looks for the corner that fewest tiles go into. */
  #open(front: Front, sheet: number): void {
    const isLeft = (tile: number): boolean => this.#left[this.#jigsaw.tiles[tile]!.shape]! > 0;
    const corners = cornersOf(front)
      .map((corner) => ({ corner, going: this.#corners.at(corner, isLeft) }))
      .sort((a, b) => a.going.length - b.going.length);
    let best: readonly TileLaid[] | null = null;
    let looked = 0;
    for (const { corner, going } of corners) {
      if (looked++ >= CORNERS || best?.length === 0) break;
      this.tries += going.length;
      const places = this.#placesIn(front, sheet, corner, going);
      if (best === null || places.length < best.length) best = places;
    }
    this.#stack.push({ front, sheet, choices: [...(best ?? [])] });
  }

  #placesIn(
    front: Front,
    sheet: number,
    corner: Corner,
    going: readonly TileCorner[],
  ): readonly TileLaid[] {
    const { tiles } = this.#jigsaw;
    return going
      .map((own) => ({ own, x: corner.x - own.x, y: corner.y - own.y }))
      .filter(({ own, x, y }) => fitsIn(front, tiles[own.tile]!.xy, x, y))
      .map(({ own, x, y }) => ({
        place: { tile: own.tile, sheet, x, y },
        rank: this.#rank(corner, own),
      }))
      .sort((a, b) => a.rank - b.rank)
      .map(({ place }) => place);
  }

  /** The larger, the likelier: it fills the corner, its edges end where the lines do, it is large. */
  #rank(corner: Corner, own: TileCorner): number {
    const { width, height } = this.#jigsaw;
    const fills =
      own.backX * corner.backY === own.backY * corner.backX &&
      own.outX * corner.outY === own.outY * corner.outX;
    const ends =
      Number(own.outX === corner.outX && own.outY === corner.outY) +
      Number(own.backX === corner.backX && own.backY === corner.backY);
    const large = this.#areas[own.tile]! / (width * height);
    return (fills ? 1 : 0) + ends + large + NOISE * this.#random();
  }
}

/** Corners looked at more closely. */
const CORNERS = 12;
const NOISE = 0.5;

function areaOf(xy: readonly number[]): number {
  let doubled = 0;
  for (let at = 0; at < xy.length; at += 2) {
    const next = (at + 2) % xy.length;
    doubled += xy[at]! * xy[next + 1]! - xy[next]! * xy[at + 1]!;
  }
  return doubled / 2;
}

import type { Meter } from "../meter.ts";
import { FIRST, kindOf, TURNED } from "./entry.ts";
import type { Kind, Sides } from "./kinds.ts";
import { Skyline } from "./skyline.ts";

/** Room for rectangles, grown as they are: see `roomOf`. */
export interface Room {
  readonly width: number;
  /** Infinite for a roll without end. */
  readonly height: number;
  /** Of the kinds with this room's gap. */
  readonly sides: Sides;
}

/**
 * Lays copies into rooms, one room after the other, in the order of a list as far as fits are alike.
 *
 * In each room the lowest, leftmost step of the skyline is filled next: with what fits its width or
 * the height of its walls best (scores after Leung, Zhang and Sim 2011, from memory), among equals
 * with what comes first in the list; before all with entries that are to be laid first. A step that
 * nothing fits is given up.
 *
 * Entries of the list are those of `entry.ts`. Where copies lie stands in arrays by their place in
 * the list.
 */
export class Laying {
  /** Number of the room, -1 for what found no place. */
  readonly room: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly turned: Uint8Array;
  /** Of the last room. */
  readonly skyline: Skyline;
  /** How high the last room that took anything is used. */
  used = 0;

  readonly meter: Meter;

  readonly #kinds: readonly Kind[];
  readonly #turnable: Uint8Array;
  /** First place in the list of each kind, and the next one of the same; -1 for none. */
  readonly #heads: Int32Array;
  readonly #next: Int32Array;
  /** Kinds that there are copies left of. */
  readonly #alive: Int32Array;
  #living = 0;
  #list: Int32Array = new Int32Array(0);
  /** The best fit found last. */
  #bestAt = -1;
  #bestTurned = 0;

  constructor(kinds: readonly Kind[], copies: number, meter: Meter) {
    this.#kinds = kinds;
    this.#turnable = Uint8Array.from(kinds, ({ turnable, width, height }) =>
      Number(turnable && width !== height),
    );
    this.skyline = new Skyline(copies);
    this.meter = meter;
    this.#heads = new Int32Array(kinds.length);
    this.#next = new Int32Array(copies);
    this.#alive = new Int32Array(kinds.length);
    this.room = new Int32Array(copies);
    this.x = new Float64Array(copies);
    this.y = new Float64Array(copies);
    this.turned = new Uint8Array(copies);
  }

  /** Lays the first `length` entries of the list; how many found a place. */
  lay(list: Int32Array, length: number, rooms: readonly Room[]): number {
    this.#list = list;
    const heads = this.#heads;
    heads.fill(-1);
    for (let at = length - 1; at >= 0; at--) {
      const kind = kindOf(list[at]!);
      this.#next[at] = heads[kind]!;
      heads[kind] = at;
      this.room[at] = -1;
    }
    this.#living = 0;
    for (let kind = 0; kind < this.#kinds.length; kind++)
      if (heads[kind]! >= 0) this.#alive[this.#living++] = kind;
    this.used = 0;
    let laid = 0;
    for (let room = 0; room < rooms.length && this.#living > 0; room++)
      laid += this.#layInto(rooms[room]!, room);
    return laid;
  }

  #layInto({ width, height, sides }: Room, room: number): number {
    const { skyline } = this;
    const { lefts, widths, tops } = skyline;
    skyline.clear(width);
    let [laid, used] = [0, 0];
    while (this.#living > 0) {
      const step = skyline.lowest();
      const top = tops[step]!;
      const gap = widths[step]!;
      const left = step > 0 ? tops[step - 1]! : height;
      const right = step + 1 < skyline.steps ? tops[step + 1]! : height;
      const index =
        gap < sides.least || height - top < sides.least
          ? -1
          : this.#bestFit(sides, gap, height - top, left - top, right - top);
      if (index < 0) {
        if (!skyline.fill(step)) break;
        continue;
      }
      const kind = this.#alive[index]!;
      const at = this.#bestAt;
      const turned = this.#bestTurned;
      const across = turned === 1 ? sides.heights[kind]! : sides.widths[kind]!;
      const up = turned === 1 ? sides.widths[kind]! : sides.heights[kind]!;
      const atRight = right > left;
      this.room[at] = room;
      this.x[at] = atRight ? lefts[step]! + gap - across : lefts[step]!;
      this.y[at] = top;
      this.turned[at] = turned;
      skyline.put(step, across, top + up, atRight);
      if (top + up > used) used = top + up;
      laid++;
      this.#take(index);
    }
    if (laid > 0) this.used = used;
    return laid;
  }

  /** Index among those alive, -1 when nothing fits; its place in the list and turn in the fields. */
  #bestFit(sides: Sides, gap: number, room: number, left: number, right: number): number {
    const { widths, heights } = sides;
    const alive = this.#alive;
    const heads = this.#heads;
    const list = this.#list;
    const turnable = this.#turnable;
    const wall = Math.max(left, right);
    const low = Math.min(left, right);
    let [index, score, first, turn] = [-1, -1, 0, 0];
    for (let i = 0; i < this.#living; i++) {
      const kind = alive[i]!;
      const at = heads[kind]!;
      const w = widths[kind]!;
      const h = heights[kind]!;
      let own = -1;
      let turned = 0;
      const wish = list[at]! & (TURNED | FIRST);
      if (w <= gap && h <= room) own = wish === FIRST ? BEFORE_ALL : fitness(w, h, gap, wall, low);
      if (turnable[kind] === 1 && h <= gap && w <= room) {
        const other = wish === (TURNED | FIRST) ? BEFORE_ALL : fitness(h, w, gap, wall, low);
        if (other > own || (other === own && (wish & TURNED) !== 0)) {
          own = other;
          turned = 1;
        }
      }
      if (own < 0 || own < score || (own === score && at > first)) continue;
      index = i;
      score = own;
      first = at;
      turn = turned;
    }
    this.meter.spend(this.#living + STEP_COST);
    this.#bestAt = first;
    this.#bestTurned = turn;
    return index;
  }

  #take(index: number): void {
    const kind = this.#alive[index]!;
    const next = this.#next[this.#heads[kind]!]!;
    this.#heads[kind] = next;
    if (next < 0) this.#alive[index] = this.#alive[--this.#living]!;
  }
}

/** What finding and raising a step takes, in rectangles looked at. */
const STEP_COST = 8;

/** More than any fitness. */
const BEFORE_ALL = 6;

/** How well a rectangle fits a step, 0 or more. */
function fitness(width: number, height: number, gap: number, wall: number, low: number): number {
  if (width === gap) {
    if (height === wall) return 5;
    if (height === low) return 4;
    return height < wall ? 3 : 2;
  }
  return height === wall ? 1 : 0;
}

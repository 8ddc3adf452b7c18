/** The best values that can be had of the sizes from some index on, by the room they take. */
interface Front {
  /** Rising, from 0. */
  readonly rooms: Float64Array;
  /** Rising with them. */
  readonly values: Float64Array;
}

export interface Filling {
  /** Of each size; null where none is worth anything or is allowed. */
  readonly counts: readonly number[] | null;
  /** No allowed filling is worth more. */
  readonly atMost: number;
}

/** A bar to be filled. */
export interface Opening {
  readonly room: number;
  /** A filling that is worth no more is of no use. */
  readonly above: number;
}

/**
 * The knapsacks of one set of values, for bars of several rooms: whole numbers of each size, at most
 * `most` of each.
 *
 * From the last size to the first we keep the fillings that no other beats in both room and value
 * (Nemhauser and Ullmann 1969) and that the rest of some bar, filled at the best rate of the sizes
 * still to come, can make useful. Going through the sizes forward, they tell what the rest of a bar
 * is worth at best, so that the search walks straight to the best filling, or to the next best where
 * that one is not allowed.
 */
export class Fillings {
  /** By rising value for their length: sizes worth nothing go in too, they make another pattern. */
  readonly #order: readonly number[];
  readonly #weights: readonly number[];
  readonly #values: readonly number[];
  readonly #most: readonly number[];
  readonly #sizes: number;
  /** Entries looked at: a measure of the work. */
  work = 0;
  /** One for each of the order, and the empty one behind the last. */
  readonly #fronts: readonly Front[];

  constructor(
    weights: readonly number[],
    values: ArrayLike<number>,
    most: readonly number[],
    openings: readonly Opening[],
  ) {
    const rate = (size: number): number => values[size]! / weights[size]!;
    this.#sizes = weights.length;
    this.#order = weights
      .flatMap((_, size) => (most[size]! > 0 ? [size] : []))
      .toSorted((a, b) => rate(a) - rate(b) || a - b);
    this.#weights = this.#order.map((size) => weights[size]!);
    this.#values = this.#order.map((size) => (values[size]! > TINY ? values[size]! : 0));
    this.#most = this.#order.map((size) => most[size]!);
    const fronts: Front[] = [NOTHING];
    for (let at = this.#order.length - 1; at >= 0; at--) {
      const before = at === 0 ? 0 : rate(this.#order[at - 1]!);
      fronts.unshift(useful(this.#extended(fronts[0]!, at, openings), openings, before));
    }
    this.#fronts = fronts;
  }

  /** The best filling that is allowed and of use. */
  best({ room, above }: Opening, allowed: (counts: readonly number[]) => boolean): Filling {
    let target = valueAt(this.#fronts[0]!, room);
    for (let round = 0; round < MOST_ROUNDS && target > above; round++) {
      const found = this.#reach(room, target - TINY, allowed);
      if (found.counts || found.next === null) return { counts: found.counts, atMost: target };
      target = found.next;
    }
    return { counts: null, atMost: target };
  }

  /** The first allowed filling worth `target`; else what the best below that may be worth. */
  #reach(room: number, target: number, allowed: (counts: readonly number[]) => boolean) {
    const counts = Array.from({ length: this.#sizes }, () => 0);
    let next = 0;
    let steps = 0;
    const walk = (at: number, left: number, value: number): boolean => {
      const possible = value + valueAt(this.#fronts[at]!, left);
      if (possible < target) {
        next = Math.max(next, possible);
        return false;
      }
      if (++steps > MOST_STEPS) return false;
      if (at === this.#order.length) return allowed(counts);
      const size = this.#order[at]!;
      const weight = this.#weights[at]!;
      for (let count = this.#countIn(at, left); count >= 0; count--) {
        counts[size] = count;
        if (walk(at + 1, left - count * weight, value + count * this.#values[at]!)) return true;
      }
      return false;
    };
    const found = walk(0, room, 0);
    return { counts: found ? counts : null, next: next > 0 && steps <= MOST_STEPS ? next : null };
  }

  #countIn(at: number, room: number): number {
    return Math.min(this.#most[at]!, Math.floor(room / this.#weights[at]!));
  }

  /** With 1, 2, 4, ... pieces of a size, which make up every number of them. */
  #extended(front: Front, at: number, openings: readonly Opening[]): Front {
    const largest = Math.max(...openings.map(({ room }) => room));
    let left = this.#values[at] === 0 ? 0 : this.#countIn(at, largest);
    let grown = front;
    for (let pieces = 1; left > 0; pieces *= 2) {
      const taken = Math.min(pieces, left);
      this.work += 2 * grown.rooms.length;
      grown = merged(grown, taken * this.#weights[at]!, taken * this.#values[at]!, largest);
      left -= taken;
    }
    return grown;
  }
}

/** The entries that can still lead to a useful filling, with sizes worth `rate` a length; thinned if many. */
function useful(front: Front, openings: readonly Opening[], rate: number): Front {
  const rooms: number[] = [];
  const values: number[] = [];
  for (const [index, room] of front.rooms.entries()) {
    const value = front.values[index]!;
    const leads = openings.some(
      (bar) => room <= bar.room && value + (bar.room - room) * rate > bar.above,
    );
    if (index > 0 && !leads) continue;
    rooms.push(room);
    values.push(value);
  }
  return thinned({ rooms: Float64Array.from(rooms), values: Float64Array.from(values) });
}

const NOTHING: Front = { rooms: Float64Array.of(0), values: Float64Array.of(0) };
/** Values that differ by less are equal. */
const TINY = 1e-10;
/** So often we look for the next best where the best is not allowed. */
const MOST_ROUNDS = 50;
const MOST_STEPS = 20_000;
const MOST_ENTRIES = 30_000;

/** Most value in the room. */
function valueAt({ rooms, values }: Front, room: number): number {
  let low = 0;
  let high = rooms.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rooms[middle]! <= room) low = middle;
    else high = middle;
  }
  return values[low]!;
}

/** The front, and the same with something more in it, without what is beaten. */
function merged(front: Front, weight: number, value: number, largest: number): Front {
  const { rooms, values } = front;
  const count = rooms.length;
  const newRooms = new Float64Array(2 * count);
  const newValues = new Float64Array(2 * count);
  let size = 0;
  let best = -1;
  let [plain, more] = [0, 0];
  while (plain < count || more < count) {
    const withMore = more < count ? rooms[more]! + weight : Infinity;
    const first = plain < count && rooms[plain]! <= withMore;
    const room = first ? rooms[plain]! : withMore;
    const worth = first ? values[plain++]! : values[more++]! + value;
    if (room > largest) break;
    if (worth <= best + TINY) continue;
    // Of the same room the better alone.
    if (size > 0 && newRooms[size - 1] === room) size--;
    newRooms[size] = room;
    newValues[size++] = worth;
    best = worth;
  }
  return { rooms: newRooms.subarray(0, size), values: newValues.subarray(0, size) };
}

/** A front of too many entries: the value of the later of two neighbours at the room of the earlier. */
function thinned(front: Front): Front {
  if (front.rooms.length <= MOST_ENTRIES) return front;
  const size = Math.ceil(front.rooms.length / 2);
  const last = front.rooms.length - 1;
  return {
    rooms: Float64Array.from({ length: size }, (_, i) => front.rooms[2 * i]!),
    values: Float64Array.from({ length: size }, (_, i) => front.values[Math.min(2 * i + 1, last)]!),
  };
}

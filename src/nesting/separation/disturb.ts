import type { Random } from "../../random.ts";
import type { Layout } from "./layout.ts";
import type { World } from "./world.ts";

/** What did not come apart: layouts by how much still overlapped, the least first. */
export class Pool {
  readonly #kept: { readonly layout: Layout; readonly total: number }[] = [];

  add(layout: Layout, total: number): void {
    const rank = this.#kept.findIndex((other) => other.total > total);
    this.#kept.splice(rank < 0 ? this.#kept.length : rank, 0, { layout, total });
    if (this.#kept.length > MOST_KEPT) this.#kept.pop();
  }

  /** The nearer to a solution, the likelier. */
  draw(random: Random): Layout | null {
    const share = Math.abs(random() + random() - 1);
    return this.#kept[Math.trunc(share * this.#kept.length)]?.layout ?? null;
  }
}

const MOST_KEPT = 30;

/** Has two large copies of different forms change places, as far as their rooms take them. */
export function swapTwo(world: World, random: Random): void {
  const large = largest(world);
  const first = large[Math.trunc(random() * large.length)]!;
  const others = large.filter((copy) => world.forms[copy] !== world.forms[first]);
  const second = others[Math.trunc(random() * others.length)];
  if (second === undefined) return;
  const [a, b] = [centre(world, first), centre(world, second)];
  put(world, first, b);
  put(world, second, a);
}

/** Share of all copies that count as large. */
const LARGE = 0.5;

function largest(world: World): readonly number[] {
  const { model, at } = world;
  const sizes = Float64Array.from(at.stance, (stance) => {
    const width = model.maxX[stance]! - model.minX[stance]!;
    return width * (model.maxY[stance]! - model.minY[stance]!);
  });
  const copies = Array.from(sizes.keys()).sort((a, b) => sizes[b]! - sizes[a]! || a - b);
  return copies.slice(0, Math.max(2, Math.ceil(copies.length * LARGE)));
}

interface Centre {
  readonly x: number;
  readonly y: number;
  readonly room: number;
}

function centre({ model, at }: World, copy: number): Centre {
  const stance = at.stance[copy]!;
  return {
    x: at.x[copy]! + (model.minX[stance]! + model.maxX[stance]!) / 2,
    y: at.y[copy]! + (model.minY[stance]! + model.maxY[stance]!) / 2,
    room: at.room[copy]!,
  };
}

function put(world: World, copy: number, { x, y, room }: Centre): void {
  const { model, at } = world;
  const stance = at.stance[copy]!;
  const { left, right, low, high } = world.rangeOf(stance, room);
  if (left > right || low > high) return;
  const atX = x - (model.minX[stance]! + model.maxX[stance]!) / 2;
  const atY = y - (model.minY[stance]! + model.maxY[stance]!) / 2;
  world.lay(
    copy,
    stance,
    room,
    Math.min(right, Math.max(left, atX)),
    Math.min(high, Math.max(low, atY)),
  );
}

/**
 * Brings copies that do not fit their room to where they do, by lot; false when there is no such
 * place for one of them.
 */
export function rehouse(world: World, random: Random): boolean {
  const { at } = world;
  for (let copy = 0; copy < world.count; copy++) {
    const now =
      at.room[copy]! < world.rooms.length ? world.rangeOf(at.stance[copy]!, at.room[copy]!) : null;
    if (now !== null && now.left <= now.right && now.low <= now.high) {
      world.push(copy, 0, 0);
      continue;
    }
    const places = world.model.stancesOf[world.forms[copy]!]!.flatMap((stance) =>
      world.rooms.map((_, room) => ({ stance, room, ...world.rangeOf(stance, room) })),
    ).filter(({ left, right, low, high }) => left <= right && low <= high);
    const place = places[Math.trunc(random() * places.length)];
    if (place === undefined) return false;
    const { stance, room, left, right, low, high } = place;
    const [x, y] = [left + random() * (right - left), low + random() * (high - low)];
    world.lay(copy, stance, room, x, y);
  }
  return true;
}

import type { Random } from "../../random.ts";
import { doWithout } from "./fewer.ts";
import { groundOf, sheetsOf, type Contents, type Ground, type Loose } from "./ground.ts";
import type { Layout, Room } from "./layout.ts";
import { KeptModel } from "./model.ts";
import { isEmpty, shorten } from "./shorten.ts";
import { World } from "./world.ts";

/** How far the closing of a nest has come. */
export interface Closer {
  /** Depths asked for since the last time. */
  readonly spent: number;
  /** A better nest, when one was found just now. */
  readonly found: readonly Contents[] | null;
}

/**
 * Closes up a nest: does with fewer sheets, and uses less of the last one; without end unless
 * nothing can be gained. Copies may overlap on the way and are moved until none does. Of very many
 * copies those on the emptiest sheets take part.
 */
export function* closeUp(
  loose: Loose,
  random: Random,
  kept = new KeptModel(),
): Generator<Closer, void, void> {
  const ground = groundOf(loose, kept, random);
  if (ground === null) return;
  let { rooms, layout } = ground;
  for (;;) {
    const found = yield* closeFrom(loose, ground, rooms, layout, random);
    if (found === null) return;
    ({ rooms, layout } = found);
  }
}

interface Closed {
  readonly rooms: readonly Room[];
  readonly layout: Layout;
}

/** Works on both aims in turn, until there is one room less or nothing more to be gained: then null. */
function* closeFrom(
  loose: Loose,
  ground: Ground,
  rooms: readonly Room[],
  layout: Layout,
  random: Random,
): Generator<Closer, Closed | null, void> {
  const few = new World(ground.model, ground.forms, rooms);
  const low = new World(ground.model, ground.forms, rooms);
  few.layAll(layout);
  low.layAll(layout);
  let fewer = rooms.length > ground.leastRooms ? doWithout(few, ground.slackMm, random) : null;
  let lower: Generator<Layout | null, void, void> | null = shorten(
    low,
    rooms.length - 1,
    ground.slackMm,
    random,
  );
  while (fewer !== null || lower !== null) {
    const before = few.spent + low.spent + ground.model.spent;
    let found: Layout | null = null;
    if (fewer !== null && (lower === null || few.spent <= FEWER_FIRST * low.spent)) {
      const turn = fewer.next();
      if (turn.done === true) {
        fewer = null;
        if (turn.value) found = few.at;
      }
    } else {
      const turn = lower!.next();
      if (turn.done === true) lower = null;
      else found = turn.value;
    }
    const filled = found === null ? null : sheetsOf(loose, ground, found);
    yield { spent: few.spent + low.spent + ground.model.spent - before, found: filled };
    if (found === few.at) return { rooms: few.rooms, layout: few.at };
    if (found !== null && isEmpty(low, rooms.length - 1))
      return { rooms: rooms.slice(0, -1), layout: found };
  }
  return null;
}

/** So much more is spent on doing with fewer sheets than on using less of the last one. */
const FEWER_FIRST = 2;

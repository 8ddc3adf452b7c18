import { randomFrom } from "../../random.ts";
import { closeUp, type Closer } from "./closing.ts";
import { KeptModel } from "./model.ts";
import type { Contents, Loose, LooseNest } from "./ground.ts";

/**
 * A nest is closed up by several lanes, which differ by what they draw by lot. After each round
 * those that have not found the best begin anew from it. There are always as many, whether they
 * work side by side on several cores or one after the other, so the answer is always the same.
 */

/** What a lane is to do in a round. Plain data, so that it can go to another thread. */
export interface LaneOrder {
  /** Names the lane among all of a job. */
  readonly lane: string;
  /** To begin anew from; null to go on. */
  readonly from: Loose | null;
  readonly seed: number;
  /** Depths to be asked for. */
  readonly most: number;
}

export interface LaneAnswer {
  /** The best of this round, if it is better than what the lane had. */
  readonly found: readonly Contents[] | null;
  /** Nothing more is to be gained. */
  readonly ended: boolean;
}

/** Works on one order beside everything else. */
export interface Aide {
  /** Forgets what it was ordered before. */
  order(order: LaneOrder): void;
  /** Waits for the answer to the last order. */
  answer(): LaneAnswer;
}

interface Lane {
  readonly closing: Generator<Closer, void, void>;
  readonly model: KeptModel;
}

/** Holds lanes between their rounds. */
export class LaneKeeper {
  readonly #lanes = new Map<string, Lane>();

  /** Yields the share done so far. */
  *work({ lane, from, seed, most }: LaneOrder): Generator<number, LaneAnswer, void> {
    if (from !== null) {
      const { model } = this.#lanes.get(lane) ?? { model: new KeptModel() };
      this.#lanes.set(lane, { closing: closeUp(from, randomFrom(seed), model), model });
    }
    const closing = this.#lanes.get(lane)?.closing;
    let found: readonly Contents[] | null = null;
    let spent = 0;
    while (spent < most) {
      const turn = closing?.next();
      if (turn === undefined || turn.done === true) return { found, ended: true };
      found = turn.value.found ?? found;
      spent += turn.value.spent;
      yield Math.min(1, spent / most);
    }
    return { found, ended: false };
  }
}

/** All lanes of one nest. */
export class Lanes {
  readonly #name: string;
  readonly #loose: LooseNest;
  readonly #seed: number;
  readonly #aide: Aide | null;
  readonly #keeper = new LaneKeeper();
  /** By lane: what it begins from in the next round, null to go on. */
  #from: (LooseNest | null)[];
  #begun = 0;

  /** @param name of the nest, no other of the job has it. */
  constructor(name: string, loose: LooseNest, seed: number, aide: Aide | null) {
    this.#name = name;
    this.#loose = loose;
    this.#seed = seed;
    this.#aide = aide;
    this.#from = [loose, loose];
  }

  /**
   * Has every lane ask for so many depths; yields the share done. Returns a better nest, null when
   * none was found, and whether it is of no use to go on.
   */
  *round(most: number): Generator<number, LaneAnswer, void> {
    const [here, aside] = [this.#order(0, most), this.#order(1, most)];
    this.#aide?.order(aside);
    const share = this.#aide === null ? 1 / 2 : 1;
    const own = yield* shared(this.#keeper.work(here), 0, share);
    const other =
      this.#aide === null
        ? yield* shared(this.#keeper.work(aside), share, share)
        : this.#aide.answer();
    const answers = [own, other];
    const found = betterOf(own.found, other.found);
    const from = found === null ? null : { ...this.#loose, sheets: found };
    this.#from = answers.map((answer) => (answer.found === found ? null : from));
    return { found, ended: found === null && answers.every(({ ended }) => ended) };
  }

  #order(lane: number, most: number): LaneOrder {
    const from = this.#from[lane] ?? null;
    if (from !== null) this.#begun++;
    const own = from === null ? null : { ...from, free: lane === FREE };
    return { lane: `${this.#name} ${lane}`, from: own, seed: this.#seed + this.#begun, most };
  }
}

/** The lane that tries more angles: what serves some jobs keeps others waiting. */
const FREE = 1;

function* shared<Answer>(
  work: Generator<number, Answer, void>,
  before: number,
  share: number,
): Generator<number, Answer, void> {
  let turn = work.next();
  for (; turn.done !== true; turn = work.next()) yield before + share * turn.value;
  return turn.value;
}

/** Fewer sheets, then less of them used: of all for a roll, of the last one else. */
function betterOf(
  a: readonly Contents[] | null,
  b: readonly Contents[] | null,
): readonly Contents[] | null {
  if (a === null || b === null) return a ?? b;
  const fewer = a.length - b.length;
  const lower = a.at(-1)!.usedMm - b.at(-1)!.usedMm;
  return fewer < 0 || (fewer === 0 && lower <= 0) ? a : b;
}

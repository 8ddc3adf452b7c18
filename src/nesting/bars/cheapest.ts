import type { Work } from "../../work.ts";
import { dive } from "./dive.ts";
import { split, type Part } from "./parts.ts";
import { Relaxation, type Budget, type Relaxed } from "./relaxation.ts";
import { better, firstFit } from "./start.ts";
import {
  costOf,
  missingIn,
  weightIn,
  type BarPattern,
  type CutOrder,
  type Sawing,
} from "./types.ts";

export interface Solved {
  readonly sawing: Sawing;
  /** Proven: no sawing with as few pieces missing costs less. Infinity is never given. */
  readonly bound: number;
}

export interface SearchOptions {
  readonly stage: string;
  /** A sawing to better, or null to begin from the order. */
  readonly start: Sawing | null;
  readonly budget: Budget | null;
  /** Whole costs are multiples of this. */
  readonly step: number;
  /** Roughly how much arithmetic; see {@link Relaxation.effort}. */
  readonly effort: number;
}

/**
 * One-dimensional cutting stock with several kinds of bars, costs and limits, to the end or as far as
 * the effort goes: branch and price. Each part of the search is relaxed; its bound is rounded up to a
 * cost that there can be. The part with the lowest bound is split next: by the number of bars of a
 * kind where that is not whole, else by a pattern: at least so many bars of it, or fewer (as Degraeve
 * and Peeters 2003, and Belov and Scheithauer 2006, do).
 */
export function* cheapestSawing(order: CutOrder, options: SearchOptions): Work<Solved, Sawing> {
  const search = new Search(order, options);
  while (search.goesOn()) {
    search.step();
    const { done, of } = search.progress();
    const stop = yield { stage: options.stage, done, of, best: search.best };
    if (stop === true) break;
  }
  return { sawing: search.best, bound: search.bound() };
}

const DIVE_EVERY = 8;

class Search {
  best: Sawing;
  readonly #order: CutOrder;
  readonly #options: SearchOptions;
  readonly #scale: number;
  readonly #penalty: number;
  readonly #relaxation: Relaxation;
  #open: Part[];
  #parts = 0;
  /** Lowest bound of the parts that could be neither settled nor split. */
  #unsettled = Infinity;

  constructor(order: CutOrder, options: SearchOptions) {
    this.#order = order;
    this.#options = options;
    this.best = options.start ?? firstFit(order);
    // Costs of about 1 keep the rounding of the simplex small.
    this.#scale = Math.max(...order.kinds.map(({ cost }) => cost)) || 1;
    const scaled = {
      ...order,
      kinds: order.kinds.map((kind) => ({ ...kind, cost: kind.cost / this.#scale })),
    };
    this.#penalty = penaltyFor(order, this.best, options);
    this.#relaxation = new Relaxation(
      scaled,
      this.#penalty / this.#scale,
      options.budget,
      options.effort,
    );
    for (const bar of this.best.bars) this.#relaxation.know(bar);
    this.#open = [
      {
        left: order.wanted,
        least: order.kinds.map(() => 0),
        most: order.kinds.map(({ limit }) => limit),
        caps: new Map(),
        fixed: [],
        fixedCost: 0,
        bound: 0,
      },
    ];
  }

  goesOn(): boolean {
    return this.#open.length > 0 && !this.#relaxation.spent;
  }

  progress(): { readonly done: number; readonly of: number } {
    const of = 100;
    const { effort } = this.#relaxation;
    return { done: Math.min(of, Math.floor((of * effort) / this.#options.effort)), of };
  }

  bound(): number {
    const most = Math.min(costOf(this.best, this.#order.kinds), this.#unsettled);
    return this.#open.reduce((least, { bound }) => Math.min(least, bound), most);
  }

  /** Relaxes the part with the lowest bound and splits it. */
  step(): void {
    const part = this.#open.splice(this.#next(), 1)[0]!;
    const enough = (this.#worth() - part.fixedCost) / this.#scale;
    const relaxed = this.#relaxation.solve(part, this.#spent(part.fixed), enough);
    const bound = Math.max(part.bound, this.#whole(part.fixedCost + relaxed.bound * this.#scale));
    if (bound >= this.#worth()) return;
    const settled = { ...part, bound };
    const parts = split(settled, relaxed, this.#order);
    // Where nothing is left to split, the relaxation is whole: the dive gives it as it is.
    if (this.#parts++ % DIVE_EVERY === 0 || parts.length === 0) this.#dive(settled, relaxed);
    const worth = this.#worth();
    if (bound < worth) this.#open.push(...parts);
    // Where the relaxation stopped short of its end, its whole sawing is not the best of the part.
    if (parts.length === 0) this.#unsettled = Math.min(this.#unsettled, bound);
    this.#open = this.#open.filter((each) => each.bound < worth);
  }

  /** By turns the part with the lowest bound and the newest: one raises the bound, one finds sawings. */
  #next(): number {
    return this.#parts % 2 === 0 ? lowest(this.#open) : this.#open.length - 1;
  }

  #dive(part: Part, relaxed: Relaxed): void {
    dive(this.#relaxation, this.#order, part, relaxed, {
      spent: (bars) => this.#spent(bars),
      offer: (sawing) => this.#offer(sawing),
    });
  }

  #offer({ bars, missing }: Sawing): void {
    const { budget } = this.#options;
    const sawing = {
      bars: bars.filter(({ counts }) => counts.some((count) => count > 0)),
      missing,
    };
    if (budget && this.#spent(sawing.bars) > budget.most) return;
    if (better(sawing, this.best, this.#order)) this.best = sawing;
  }

  #spent(bars: readonly BarPattern[]): number {
    const { budget } = this.#options;
    return budget ? bars.reduce((sum, { kind }) => sum + budget.each[kind]!, 0) : 0;
  }

  /** What the best costs, with the penalty for what is missing. */
  #worth(): number {
    return costOf(this.best, this.#order.kinds) + missingIn(this.best) * this.#penalty;
  }

  #whole(cost: number): number {
    const { step } = this.#options;
    const rounding = step * 1e-6 + cost * 1e-9;
    return Math.max(0, Math.ceil((cost - rounding) / step)) * step;
  }
}

/** More than it can ever cost to find a bar for a piece that has none. */
function penaltyFor(
  { sizes, wanted, kinds }: CutOrder,
  best: Sawing,
  options: SearchOptions,
): number {
  const dearest = Math.max(...kinds.map(({ cost }) => cost));
  const enough = kinds.some(
    (kind) => kind.limit === Infinity && weightIn(kind, sizes[0] ?? 0) <= kind.capacity,
  );
  if (enough && !options.budget) return dearest + options.step;
  if (missingIn(best) === 0) return costOf(best, kinds) + options.step;
  const pieces = wanted.reduce((sum, count) => sum + count, 0);
  return kinds.reduce((sum, { cost, limit }) => sum + cost * Math.min(limit, pieces), options.step);
}

/** Index of the part to go on with: of the lowest bound, that with most bars settled, of these the last. */
function lowest(parts: readonly Part[]): number {
  let chosen = 0;
  for (const [index, { bound, fixed }] of parts.entries()) {
    const best = parts[chosen]!;
    if (bound > best.bound || (bound === best.bound && fixed.length < best.fixed.length)) continue;
    chosen = index;
  }
  return chosen;
}

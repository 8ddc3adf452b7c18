import { Fillings, type Opening } from "./fillings.ts";
import { quickFilling } from "./quick-filling.ts";
import { Simplex, type Row } from "./simplex.ts";
import { weightIn, type BarPattern, type CutOrder } from "./types.ts";

/** Part of the search: what is still to be sawn, and how that is restricted. */
export interface Restricted {
  /** Pieces of each size still to be sawn. */
  readonly left: readonly number[];
  /** For each kind of bar, how many more there must be and may be. */
  readonly least: readonly number[];
  readonly most: readonly number[];
  /** How often a pattern may be used, by its {@link patternKey}. */
  readonly caps: ReadonlyMap<string, number>;
}

/** What all bars together may come to, by another measure than the cost. */
export interface Budget {
  /** For each kind of bar. */
  readonly each: readonly number[];
  readonly most: number;
}

export interface Relaxed {
  /** Patterns with numbers of bars that need not be whole. */
  readonly used: readonly { readonly pattern: BarPattern; readonly bars: number }[];
  /** No way to saw what is left costs less; holds whatever the simplex has reached. */
  readonly bound: number;
}

export function patternKey({ kind, counts }: BarPattern): string {
  return `${kind}:${counts.join()}`;
}

/**
 * The linear relaxation of cutting stock with several kinds of bars by column generation (Gilmore
 * and Gomory 1961, 1963). Patterns that were found once stay in a pool for later parts of the search.
 *
 * Each piece without a bar costs `penalty`. The bound is Lagrange's: any prices of the pieces, less
 * what the best bar at these prices earns, times the bars there can be.
 */
export class Relaxation {
  /** Rough count of arithmetic done so far: what effort is measured in. */
  effort = 0;
  readonly #order: CutOrder;
  readonly #penalty: number;
  readonly #budget: Budget | null;
  readonly #pool = new Map<string, BarPattern>();
  readonly #most: number;
  /** Of each size in each kind. */
  readonly #weights: readonly (readonly number[])[];

  /** @param most effort after which an answer may be short of the best. */
  constructor(order: CutOrder, penalty: number, budget: Budget | null, most: number) {
    this.#order = order;
    this.#most = most;
    this.#weights = order.kinds.map((kind) => order.sizes.map((size) => weightIn(kind, size)));
    this.#penalty = penalty;
    this.#budget = budget;
    for (const kind of order.kinds.keys()) this.know({ kind, counts: order.sizes.map(() => 0) });
  }

  get spent(): boolean {
    return this.effort > this.#most;
  }

  know(pattern: BarPattern): void {
    this.#pool.set(patternKey(pattern), pattern);
  }

  /** @param enough once the bound is above this, it need not be better. */
  solve(part: Restricted, spent: number, enough: number): Relaxed {
    const program = new Program(this.#order, part, this.#budget, spent);
    const simplex = new Simplex<BarPattern>(program.rows, this.#penalty);
    const columns = [...this.#pool.values()]
      .filter((pattern) => program.takes(pattern))
      .map((pattern) => ({ pattern, column: program.column(pattern) }));
    this.effort += 4 * columns.length * program.rows.length;
    let bound = 0;
    const most = MOST_PIVOTS + 20 * program.rows.length;
    for (let pivot = 0; pivot < most; pivot++) {
      const duals = simplex.duals();
      this.effort += program.rows.length * (2 * program.rows.length + columns.length);
      if (simplex.enterSpare(duals)) continue;
      const known = this.#bestKnown(columns, duals);
      if (known) {
        if (!simplex.enter(known.column, this.#cost(known.pattern), known.pattern)) break;
        continue;
      }
      const quick = this.#quick(program, part, duals);
      const { patterns, bound: proven } =
        quick.length > 0 ? { patterns: quick, bound: 0 } : this.#exact(program, part, duals);
      bound = Math.max(bound, proven);
      if (patterns.length === 0 || bound > enough || this.spent) break;
      for (const pattern of patterns) {
        this.know(pattern);
        columns.push({ pattern, column: program.column(pattern) });
      }
    }
    return { used: simplex.used().map(({ tag, level }) => ({ pattern: tag, bars: level })), bound };
  }

  #cost({ kind }: BarPattern): number {
    return this.#order.kinds[kind]!.cost;
  }

  #bestKnown<C extends { pattern: BarPattern; column: Float64Array }>(
    columns: readonly C[],
    duals: Float64Array,
  ): C | null {
    let best: C | null = null;
    let least = -TINY;
    for (const each of columns) {
      let reduced = this.#cost(each.pattern);
      for (let row = 0; row < duals.length; row++) reduced -= duals[row]! * each.column[row]!;
      if (reduced >= least) continue;
      best = each;
      least = reduced;
    }
    return best;
  }

  /** Useful new patterns that are found fast. */
  #quick(program: Program, { left, most, caps }: Restricted, duals: Float64Array): BarPattern[] {
    const values = program.valuesOf(duals);
    return this.#openings(program, duals).flatMap((opening, kind) => {
      if (most[kind] === 0) return [];
      this.effort += QUICK_EFFORT;
      const counts = quickFilling(this.#weights[kind]!, values, left, opening);
      return counts && !caps.has(patternKey({ kind, counts })) ? [{ kind, counts }] : [];
    });
  }

  /** For each kind of bar its best new pattern, and the bound at these prices. */
  #exact(program: Program, { left, most, caps }: Restricted, duals: Float64Array) {
    const { kinds } = this.#order;
    const openings = this.#openings(program, duals);
    const values = program.valuesOf(duals);
    const patterns: BarPattern[] = [];
    const best = kinds.map(() => 0);
    for (const kerf of new Set(kinds.map((kind) => kind.kerf))) {
      const its = [...kinds.keys()].filter((k) => kinds[k]!.kerf === kerf && most[k]! > 0);
      if (its.length === 0) continue;
      const rooms = its.map((kind) => openings[kind]!);
      const fillings = new Fillings(this.#weights[its[0]!]!, values, left, rooms);
      this.effort += 8 * fillings.work;
      for (const kind of its) {
        const allowed = (counts: readonly number[]): boolean =>
          caps.size === 0 || !caps.has(patternKey({ kind, counts }));
        const { counts, atMost } = fillings.best(openings[kind]!, allowed);
        best[kind] = Math.max(atMost, openings[kind]!.above);
        if (counts) patterns.push({ kind, counts: [...counts] });
      }
    }
    return { patterns, bound: this.#bound(program, duals, best) };
  }

  #openings(program: Program, duals: Float64Array): readonly Opening[] {
    return this.#order.kinds.map(({ capacity, cost }, kind) => ({
      room: capacity,
      above: cost - program.barWorth(kind, duals) + TINY,
    }));
  }

  /**
   * From prices at which the best filling of each kind is worth at most `best`: all prices scaled
   * down until no bar earns anything (Farley 1990), or less what all the bars there can be earn.
   */
  #bound(program: Program, duals: Float64Array, best: readonly number[]): number {
    const worth = program.worth(duals);
    let scale = 1;
    let earned = 0;
    for (const [kind, { cost }] of this.#order.kinds.entries()) {
      if (program.barsAtMost(kind) === 0) continue;
      const value = best[kind]! + program.barWorth(kind, duals);
      if (value <= cost) continue;
      scale = Math.min(scale, cost / value);
      earned += program.barsAtMost(kind) * (value - cost);
    }
    return Math.max(scale * worth, worth - earned);
  }
}

const MOST_PIVOTS = 500;
/** Of a quick filling. */
const QUICK_EFFORT = 2000;
const TINY = 1e-9;

/** A row, and what a bar brings into it: by its kind, and by its pattern where that is capped. */
interface ProgramRow extends Row {
  readonly size: number | null;
  readonly inBar: (kind: number) => number;
  readonly cap: string | null;
}

/** The rows of one part of the search. */
class Program {
  readonly rows: readonly ProgramRow[];
  readonly #part: Restricted;
  readonly #pieces: number;

  constructor(order: CutOrder, part: Restricted, budget: Budget | null, spent: number) {
    this.#part = part;
    this.#pieces = part.left.reduce((sum, count) => sum + count, 0);
    this.rows = [
      ...pieceRows(part),
      ...barRows(order, part),
      ...budgetRows(budget, spent),
      ...capRows(part),
    ];
  }

  takes(pattern: BarPattern): boolean {
    const { left, most, caps } = this.#part;
    if (most[pattern.kind] === 0 || pattern.counts.some((count, size) => count > left[size]!))
      return false;
    return caps.size === 0 || caps.get(patternKey(pattern)) !== 0;
  }

  column(pattern: BarPattern): Float64Array {
    const key = this.#part.caps.size > 0 ? patternKey(pattern) : "";
    return Float64Array.from(this.rows, ({ size, inBar, cap }) => {
      if (size !== null) return pattern.counts[size]!;
      if (cap !== null) return cap === key ? 1 : 0;
      return inBar(pattern.kind);
    });
  }

  worth(duals: Float64Array): number {
    return this.rows.reduce((sum, { amount }, row) => sum + amount * duals[row]!, 0);
  }

  /** Of a piece of each size. */
  valuesOf(duals: Float64Array): Float64Array {
    const values = new Float64Array(this.#part.left.length);
    for (const [row, { size }] of this.rows.entries())
      if (size !== null) values[size] = duals[row]!;
    return values;
  }

  /** Of a bar whatever is sawn from it. */
  barWorth(kind: number, duals: Float64Array): number {
    return this.rows.reduce((sum, { inBar }, row) => sum + inBar(kind) * duals[row]!, 0);
  }

  barsAtMost(kind: number): number {
    return Math.min(this.#part.most[kind]!, this.#pieces + this.#part.least[kind]!);
  }
}

function pieceRows({ left }: Restricted): readonly ProgramRow[] {
  return left.flatMap((amount, size) =>
    amount > 0 ? [{ atLeast: true, amount, size, inBar: () => 0, cap: null }] : [],
  );
}

function barRows({ kinds }: CutOrder, { least, most }: Restricted): readonly ProgramRow[] {
  return [...kinds.keys()].flatMap((kind) => {
    const inBar = (other: number): number => (other === kind ? 1 : 0);
    const row = { size: null, inBar, cap: null };
    return [
      ...(most[kind]! < Infinity && most[kind]! > 0
        ? [{ ...row, atLeast: false, amount: most[kind]! }]
        : []),
      ...(least[kind]! > 0 ? [{ ...row, atLeast: true, amount: least[kind]! }] : []),
    ];
  });
}

function budgetRows(budget: Budget | null, spent: number): readonly ProgramRow[] {
  if (!budget) return [];
  // In bars of the dearest kind: large numbers would round.
  const unit = Math.max(...budget.each) || 1;
  const inBar = (kind: number): number => budget.each[kind]! / unit;
  const amount = Math.max(0, budget.most - spent) / unit;
  return [{ atLeast: false, amount, size: null, inBar, cap: null }];
}

function capRows({ caps }: Restricted): readonly ProgramRow[] {
  return [...caps].flatMap(([cap, amount]) =>
    amount > 0 ? [{ atLeast: false, amount, size: null, inBar: () => 0, cap }] : [],
  );
}

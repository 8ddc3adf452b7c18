import { describe, expect, it } from "vitest";
import type { EstimateInput } from "../../src/estimate-data.ts";
import type { FigureRecord } from "../../src/pricing/types.ts";
import type { FormulaName } from "../../src/formulas.ts";
import { valueOf } from "../../src/formulas.ts";
import { Amount } from "../../src/money.ts";
import type { Place } from "../../src/problem.ts";
import { DEMOS, demoInput } from "../helpers/demo.ts";
import { toolBoard } from "../worked/tool-board.ts";
import { moved, numbersOf, pricedAgain, pricedOnce, rowOf } from "./moving.ts";
import type { Cell, PricedOnce } from "./moving.ts";

/**
 * Moving a row of a table moves exactly the figures whose trace names it: every row of every table of
 * the demos and of the hand-worked job, with other numbers in all its cells, the nest as it was.
 *
 * Not so, and said here in full: what the nest answers (and what was measured on its sheets) stays, for
 * the nest does; a formula may take a move up ({@link takesUp}); a size or length on offer that is not
 * taken decides by not being taken.
 */

/** Ids of the figures whose value, range or formula is another one, or that come or go. */
function changed(before: readonly FigureRecord[], after: readonly FigureRecord[]): Set<string> {
  const [was, is] = [before, after].map((all) => new Map(all.map((one) => [one.id, keyOf(one)])));
  const ids = [...new Set([...was!.keys(), ...is!.keys()])];
  return new Set(ids.filter((id) => was!.get(id) !== is!.get(id)));
}

function keyOf({ value, spread, origin }: FigureRecord): string {
  const made = origin.kind === "derived" ? [origin.formula, origin.inputs] : origin.source.kind;
  return JSON.stringify([value, spread?.low, spread?.high, made]);
}

/** For every figure the rows that its trace ends at. */
function tracesOf(figures: readonly FigureRecord[]): ReadonlyMap<string, ReadonlySet<string>> {
  const traces = new Map<string, ReadonlySet<string>>();
  for (const one of figures) {
    const { id, origin } = one;
    const rows =
      origin.kind === "derived"
        ? origin.inputs.flatMap((input) => [...(traces.get(input) ?? [])])
        : placesOf(one).map(rowOf);
    traces.set(id, new Set(rows));
  }
  return traces;
}

function placesOf({ origin }: FigureRecord): readonly Place[] {
  if (origin.kind === "derived") return [];
  return origin.source.kind === "computed" ? origin.source.from : [origin.source.place];
}

interface Move {
  readonly row: string;
  readonly cells: readonly Cell[];
  readonly after: readonly FigureRecord[];
  readonly changed: ReadonlySet<string>;
}

function moveRow(once: PricedOnce, row: string, cells: readonly Cell[]): Move {
  const now = moved(once, cells);
  const after = now.length === 0 ? once.figures : pricedAgain(once, now);
  if (after === null) throw new Error(`no price with ${JSON.stringify(now)}`);
  return { row, cells: now, after, changed: changed(once.figures, after) };
}

/** Where a figure was read: what comes or goes with a choice has its price in another cell. */
function cellOf(figures: readonly FigureRecord[], id: string): string {
  const figure = figures.find((one) => one.id === id);
  return figure?.origin.kind === "given" ? placesOf(figure).map(rowOf).join() : "";
}

/** Lines of the quote go by number: with one more or less, the same number is another line. */
function linesIn(figures: readonly FigureRecord[]): number {
  return figures.filter(({ id }) => /^quote\.line-\d+$/.test(id)).length;
}

const PICKING: ReadonlySet<FormulaName> = new Set<FormulaName>([
  "whole units",
  "rounded up",
  "rounded to step",
  "rounded up to step",
  "at least",
  "by the minute or the hour",
  "repeat percentage",
  "days sooner",
  "smallest that covers",
  "where taken",
]);

/**
 * Whether a derived figure may stay though an input moves: it rounds, or picks one of several;
 * something it is multiplied by is 0; or two inputs moved, and what one gains the other gives (the line
 * that makes a total round; a price and the cost that it is a multiple of).
 */
function takesUp(formula: FormulaName, movedInputs: number, inputs: readonly Amount[]): boolean {
  return PICKING.has(formula) || movedInputs > 1 || inputs.some((one) => one.isZero());
}

function rowsIn(cells: readonly Cell[]): ReadonlyMap<string, readonly Cell[]> {
  const rows = new Map<string, Cell[]>();
  for (const cell of cells) rows.set(rowOf(cell), [...(rows.get(rowOf(cell)) ?? []), cell]);
  return rows;
}

const JOBS: readonly (readonly [string, () => Promise<EstimateInput>])[] = [
  ...DEMOS.map((demo) => [demo, async () => ({ ...(await demoInput(demo)), steps: 1 })] as const),
  ["tool-board", async () => toolBoard()],
];

describe.each(JOBS)("every row of every table of %s", async (_, inputOf) => {
  const once = pricedOnce(await inputOf());
  const traces = tracesOf(once.figures);
  const named = new Set([...traces.values()].flatMap((rows) => [...rows]));
  const cells = numbersOf(once.input);
  const rows = rowsIn(cells.filter((cell) => named.has(rowOf(cell))));
  const moves = [...rows].map(([row, its]) => moveRow(once, row, its));
  const value = new Map(once.figures.map((one) => [one.id, one.value]));

  it("moves no figure whose trace does not name it", () => {
    expect(moves.filter((move) => move.changed.size > 0).length).toBeGreaterThan(30);
    const strays = moves.flatMap((move) => {
      const now = tracesOf(move.after);
      const sameLines = linesIn(once.figures) === linesIn(move.after);
      return [...move.changed]
        .filter((id) => sameLines || !id.startsWith("quote.line-"))
        .filter((id) => !traces.get(id)?.has(move.row) && !now.get(id)?.has(move.row))
        .filter((id) => cellOf(once.figures, id) === cellOf(move.after, id))
        .map((id) => `${id} by ${move.row}`);
    });
    expect(strays).toEqual([]);
  });

  it("moves nothing at all where no trace names it", () => {
    const rest = cells.filter((cell) => !named.has(rowOf(cell)));
    const all = moved(once, rest);
    // Such as the billing step of one's own machine, which is 0.
    expect(rest.length - all.length).toBeLessThan(5);
    const after = pricedAgain(once, all);
    // A row of hand work done once, as it is anyway, is named as soon as it says more than that.
    const now = tracesOf(after ?? []);
    const rows = new Set(rest.map(rowOf));
    // One with 0 leaves the task out: with more, what the task is counted by comes with it.
    const isNamed = (id: string): boolean =>
      [...(now.get(id) ?? [])].some((row) => rows.has(row)) ||
      (!value.has(id) && id.startsWith("work."));
    expect(after && [...changed(once.figures, after)].filter((id) => !isNamed(id))).toEqual([]);
  });

  it("moves every figure that was read from one of its cells", () => {
    let seen = 0;
    for (const move of moves) {
      const columns = new Set(move.cells.map(({ column }) => column));
      for (const { id, origin } of once.figures) {
        if (origin.kind !== "given" || origin.source.kind !== "cell") continue;
        const { place } = origin.source;
        if (rowOf(place) !== move.row || !columns.has(place.column ?? "")) continue;
        seen += 1;
        expect(move.changed.has(id), `${id} by ${move.row}`).toBe(true);
      }
    }
    expect(seen).toBeGreaterThan(40);
  });

  it("moves what is worked out from them, but where a formula takes the move up", () => {
    let seen = 0;
    const still = moves.flatMap(({ row, after }) => {
      const now = new Map(after.map((one) => [one.id, one.value]));
      return after.flatMap(({ id, origin }) => {
        if (origin.kind === "given" || !value.has(id)) return [];
        const inputs = origin.inputs.map((input) => new Amount(now.get(input) ?? NaN));
        const movedInputs = origin.inputs.filter((input) => value.get(input) !== now.get(input));
        if (movedInputs.length === 0) return [];
        seen += 1;
        expect(valueOf(origin.formula, inputs).toString()).toBe(now.get(id));
        const stays = value.get(id) === now.get(id);
        const known = takesUp(origin.formula, new Set(movedInputs).size, inputs);
        return stays && !known ? [`${id} (${origin.formula}) by ${row}`] : [];
      });
    });
    expect(seen).toBeGreaterThan(500);
    expect(still).toEqual([]);
  });

  it("moves each time that names its feed, and each plan of bars that takes its length", () => {
    const bars = once.bars.flatMap((planned) => planned.bars);
    const taken = new Set(bars.map(({ bar }) => rowOf(bar.place)));
    // Rows of sheets and of the machine may be named for the nest alone.
    const decides = (by: string, row: string): boolean =>
      by === "motion" ? row.includes("feeds.csv") : by === "saw plan" && taken.has(row);
    let seen = 0;
    const idle = once.figures.flatMap(({ id, origin }) => {
      if (origin.kind !== "given" || origin.source.kind !== "computed") return [];
      const { by, from } = origin.source;
      const its = moves.filter(({ row }) => from.some((place) => rowOf(place) === row));
      const asked = its.filter(({ row }) => decides(by, row));
      seen += asked.length;
      return asked.filter((move) => !move.changed.has(id)).map(({ row }) => `${id} by ${row}`);
    });
    expect(seen).toBeGreaterThan(1);
    expect(idle).toEqual([]);
  });
});

import type { Estimate, TimedStock } from "../estimate-data.ts";
import type { Planned } from "../log/entries.ts";
import { formText } from "../log/form.ts";
import { stockName } from "../units.ts";

/** The form for what a job really took: a row for all that is worth noting, with its estimate. */
export function tookForm(estimate: Estimate): string {
  return formText([
    ...estimate.stocks.flatMap((stock) => machineRows(stock, estimate.machine.id)),
    ...boughtRows(estimate),
    ...workRows(estimate),
  ]);
}

/**
 * Minutes that the machine runs, without loading and set-up, for each operation and where there are
 * several for the whole run. What is neither work nor a start, travel above all, goes with the
 * contours: each is travelled to once.
 */
function machineRows({ times, feeds, ...stock }: TimedStock, machine: string): readonly Planned[] {
  const done = times.flatMap(({ operations }) => operations);
  const running = times.reduce((sum, { runningS }) => sum + runningS, 0);
  const rest = running - total(done, ({ workingS, pierceS }) => workingS + pierceS);
  const contours = total(done, (one) => one.contours);
  const common = {
    ...NOTHING,
    what: "machine",
    item: stockName(stock),
    unit: "min",
    machine,
    material: stock.material,
    thicknessMm: stock.thicknessMm,
  } as const;
  const rows = feeds.flatMap(({ operation, feedMmS, passes }): Planned[] => {
    const its = done.filter((one) => one.operation === operation);
    if (its.length === 0) return [];
    const working = total(its, ({ workingS }) => workingS);
    const share = contours === 0 ? 0 : total(its, (one) => one.contours) / contours;
    const all = working + total(its, ({ pierceS }) => pierceS) + rest * share;
    return [
      {
        ...common,
        operation,
        estimated: all / SECONDS,
        workingMin: working / SECONDS,
        halfFeedMin: total(its, ({ atHalfFeedS }) => atHalfFeedS) / SECONDS,
        twiceFeedMin: total(its, ({ atTwiceFeedS }) => atTwiceFeedS) / SECONDS,
        feedMmS: feedMmS.likely,
        passes,
      },
    ];
  });
  const whole: Planned = { ...common, operation: "all", estimated: running / SECONDS };
  return rows.length > 1 ? [...rows, whole] : rows;
}

const SECONDS = 60;

const NOTHING = {
  operation: null,
  machine: "",
  material: "",
  thicknessMm: null,
  workingMin: null,
  halfFeedMin: null,
  twiceFeedMin: null,
  feedMmS: null,
  passes: null,
  eachMin: null,
} as const;

function boughtRows({ shopping }: Estimate): readonly Planned[] {
  return shopping.flatMap(({ kind, item, quantity, unit }): Planned[] => {
    if (kind !== "sheet" && kind !== "paint") return [];
    const what = kind === "sheet" ? "sheets" : "paint";
    return [{ ...NOTHING, what, item, unit, estimated: Number(quantity) }];
  });
}

/** A task that is done for several parts is one row. */
function workRows({ making, figures }: Estimate): readonly Planned[] {
  const byId = new Map(figures.map((figure) => [figure.id, figure]));
  return [...new Set(making.tasks.map(({ task }) => task))].map((item) => {
    const times = making.tasks.flatMap(({ task, figure }) =>
      task === item ? (byId.get(figure) ?? []) : [],
    );
    const each = new Set(
      // With a set-up it is a sum, of which the whole tells nothing of the table's minutes.
      times.map(({ origin }) =>
        origin.kind === "derived" && origin.formula === "product" ? (origin.inputs[0] ?? "") : "",
      ),
    );
    const [only = "", ...others] = each;
    // Minutes that a job says itself are no figure of the table's.
    const ofTable = others.length === 0 && only.startsWith("task.") ? byId.get(only) : undefined;
    return {
      ...NOTHING,
      what: "hand work",
      item,
      unit: "min",
      estimated: total(times, ({ value }) => Number(value)),
      eachMin: ofTable === undefined ? null : Number(ofTable.value),
    };
  });
}

function total<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((sum, item) => sum + of(item), 0);
}

import type { SawnBars } from "../estimate-data.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import type { Job, StockLengthRow, Tables } from "../job/types.ts";
import { planCuts } from "../nesting/saw-plan.ts";
import type { SawPlan } from "../nesting/saw-plan.ts";
import type { Problem } from "../problem.ts";
import type { PlannedBars } from "../pricing/types.ts";
import { lengthText } from "../units.ts";

/** Lengths from bars: which stocked length costs least, and what is sawn from which bar. */

/** A section's plan, as the price and the estimate take it. */
export type JobBars = PlannedBars & SawnBars;

/** The plan of each section that the job uses, in the order of its list. */
export function planJobBars(job: Job, tables: Tables): readonly JobBars[] {
  return sectionsOf(job).flatMap((stock) => {
    const plan = planSection(job, tables, stock);
    if (!plan) return [];
    const { bar: row, bars, barsBound } = plan;
    return [{ row, stock, description: row.description, barMm: row.lengthMm, bars, barsBound }];
  });
}

/** Lengths that no stocked bar is long enough for. */
export function barProblems(job: Job, tables: Tables, doubts: Doubts): readonly Problem[] {
  return job.lengths.flatMap(({ stock, lengthMm, place }) => {
    if (mayHold(doubts, "stock-lengths.csv", { id: stock })) return [];
    const usable = rowsOf(tables, stock).map((row) => row.lengthMm - row.endTrimMm);
    if (usable.length === 0 || usable.some((longest) => lengthMm <= longest)) return [];
    return [
      {
        code: "longer-than-bars",
        severity: "error",
        ...place,
        column: "length",
        found: lengthText(lengthMm),
        expected: `at most ${lengthText(Math.max(...usable))}, the longest bar of ${stock} less its end trim`,
        mend: "Join it from shorter lengths, or add a longer bar to stock-lengths.csv",
      },
    ];
  });
}

function sectionsOf({ lengths }: Job): readonly string[] {
  return [...new Set(lengths.map(({ stock }) => stock))];
}

function rowsOf({ stockLengths }: Tables, stock: string): readonly StockLengthRow[] {
  return stockLengths.filter(({ id }) => id === stock);
}

function planSection(job: Job, tables: Tables, stock: string): SawPlan<StockLengthRow> | null {
  const wanted = job.lengths.filter((use) => use.stock === stock);
  const lengths = wanted.map(({ name, lengthMm, quantity }) => ({
    name,
    lengthMm,
    count: quantity * job.pieces,
  }));
  return planCuts(lengths, rowsOf(tables, stock));
}

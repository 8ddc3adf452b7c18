import type { SawnBars } from "../estimate-data.ts";
import { mayHold } from "../job/doubts.ts";
import type { Doubts } from "../job/doubts.ts";
import { isFromShelf } from "../job/table-checks.ts";
import type { Job, StockLengthRow, Tables } from "../job/types.ts";
import { counted } from "../names.ts";
import { planCuts } from "../nesting/bars/saw-plan.ts";
import type { SawPlan } from "../nesting/bars/saw-plan.ts";
import type { PlannedBars } from "../pricing/types.ts";
import { checked, errorAt, inColumn } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { lengthText } from "../units.ts";
import { withBest } from "../work.ts";
import type { Work } from "../work.ts";

/** Lengths from bars: what is sawn from which bar of which length, for the least money. */

type Plan = SawPlan<StockLengthRow>;

/** The plan of each section that the job uses, in the order of its list. */
export function* planJobBars(
  job: Job,
  tables: Tables,
): Work<Checked<readonly PlannedBars[]>, never> {
  const planned: PlannedBars[] = [];
  for (const stock of sectionsOf(job)) {
    const plan = yield* withBest<Plan, Plan, never>(planSection(job, tables, stock), () => null);
    planned.push({ ...plan, stock });
  }
  return checked(
    planned,
    planned.flatMap((plan) => missingProblems(plan, job, tables)),
  );
}

/** The plan as the estimate shows it. */
export function sawnBars({ stock, bars, cost, costBound }: PlannedBars): SawnBars {
  return {
    stock,
    description: bars[0]?.bar.description ?? "",
    bars: bars.map(({ bar, pieces, leftMm }) => ({
      barMm: bar.lengthMm,
      fromShelf: isFromShelf(bar),
      pieces,
      leftMm,
      kept: bar.keepFromMm !== null && leftMm >= bar.keepFromMm,
    })),
    cost: cost.toString(),
    costBound: costBound.toString(),
  };
}

/** Lengths that there are not enough bars for; only where all bars of a section are counted. */
export function barsMissing(job: Job, tables: Tables): readonly Problem[] {
  return sectionsOf(job).flatMap((stock) => {
    const rows = rowsOf(tables, stock);
    if (rows.length === 0 || rows.some(({ onHand }) => onHand === null)) return [];
    return missingProblems({ ...drained(planSection(job, tables, stock)), stock }, job, tables);
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

/** Lengths that are short enough, but that the bars on hand do not yield. */
function missingProblems(
  { stock, missing }: PlannedBars,
  job: Job,
  tables: Tables,
): readonly Problem[] {
  const onHand = rowsOf(tables, stock).map(
    (row) => `${row.onHand ?? "any number"} of ${lengthText(row.lengthMm)}`,
  );
  return missing.flatMap(({ name, lengthMm, count }) => {
    const use = job.lengths.find(
      (one) => one.stock === stock && one.name === name && one.lengthMm === lengthMm,
    );
    if (!use) return [];
    return errorAt(inColumn(use.place, "qty"), {
      code: "not-enough-bars",
      found: `${counted(count, "piece")} of ${name} too many`,
      expected: `what comes out of the bars of ${stock} on hand: ${onHand.join(", ")}`,
      mend: "Correct on_hand in stock-lengths.csv, or add a length there that can be bought",
    });
  });
}

function sectionsOf({ lengths }: Job): readonly string[] {
  return [...new Set(lengths.map(({ stock }) => stock))];
}

function rowsOf({ stockLengths }: Tables, stock: string): readonly StockLengthRow[] {
  return stockLengths.filter(({ id }) => id === stock);
}

function planSection(job: Job, tables: Tables, stock: string): Work<Plan> {
  const lengths = job.lengths
    .filter((use) => use.stock === stock)
    .map(({ name, lengthMm, quantity }) => ({ name, lengthMm, count: quantity * job.pieces }));
  return planCuts(`sawing ${stock}`, lengths, rowsOf(tables, stock));
}

function drained<Result>(work: Work<Result>): Result {
  let turn = work.next();
  while (turn.done !== true) turn = work.next();
  return turn.value;
}

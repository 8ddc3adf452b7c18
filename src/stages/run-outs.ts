import type { MachineRow } from "../job/types.ts";
import { runsOutBy } from "../machine/run-out.ts";
import type { Feed, SheetTime } from "../machine/types.ts";
import type { Nest } from "../nesting/types.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";

/** Sheets on which the beam would turn beyond the bed while it engraves, the worst of a stock. */
export function runOutProblems(
  { sheets }: Nest,
  times: readonly SheetTime[],
  feeds: readonly Feed[],
  machine: MachineRow,
): readonly Problem[] {
  const feed = feeds.find(({ operation }) => operation === "engrave");
  if (feed === undefined) return [];
  const overs = sheets.map(({ widthMm, heightMm }, index) =>
    runsOutBy({ widthMm, heightMm, order: times[index]?.order ?? [] }, feed, machine),
  );
  const most = Math.max(...overs);
  if (most < LEAST_MM) return [];
  return [
    warningAt(inColumn(feed.place, "feed_mm_s"), {
      code: "engraving-beyond-bed",
      found: `${trimmed(feed.feedMmS.likely, 2)} mm/s, at which the beam turns ${lengthText(Math.ceil(most * 10) / 10)} beyond the bed on ${sheets[overs.indexOf(most)]?.sheet ?? ""}`,
      expected: `room to turn on the bed of ${machine.id} beside what is engraved`,
      mend: "Engrave slower, keep it further from the sheet's edge, or take a smaller sheet",
    }),
  ];
}

/** Less is rounding. */
const LEAST_MM = 0.05;

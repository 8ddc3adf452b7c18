import { counted, sameText } from "../names.ts";
import { errorAt, warningAt } from "../problem.ts";
import type { Fault, Problem } from "../problem.ts";
import { trimmed } from "../units.ts";
import type { Job, MachineRow, Tables } from "./types.ts";

/** In how many days a job wants its machine, against what the machine's row says of it. */

/** What sooner costs must be known; a machine of one's own is as quick as one is. */
export function rushProblems(
  { machine, machineDays }: Pick<Job, "machine" | "machineDays">,
  tables: Tables,
): readonly Problem[] {
  const id = machine ?? tables.machine;
  const row = tables.machines.find((one) => id !== null && sameText(one.id, id));
  if (machineDays === null || row === undefined) return [];
  const { days, place } = machineDays;
  if (row.usualDays === null) return [errorAt(place, notKnown(days, row))];
  if (days > row.usualDays) return [warningAt(place, savesNothing(days, row, row.usualDays))];
  return days === 0 ? [warningAt(place, sameDay(row, row.usualDays))] : [];
}

function notKnown(days: number, { id }: MachineRow): Fault {
  return {
    code: "rush-not-known",
    found: String(days),
    expected: `no such entry for ${id}, which has no usual_days and rush_percent_per_day in machines.csv`,
    mend: "Remove the line, or fill in both columns if the service can be quicker for more",
  };
}

function savesNothing(days: number, { id }: MachineRow, usualDays: number): Fault {
  return {
    code: "days-beyond-usual",
    found: String(days),
    expected: `fewer than the ${counted(usualDays, "day")} in which ${id} is ready without being asked (usual_days in machines.csv): later costs no less`,
    mend: "Remove the line, or write in how many days it is wanted",
  };
}

function sameDay({ rushPercentPerDay }: MachineRow, usualDays: number): Fault {
  const percent = trimmed(usualDays * (rushPercentPerDay ?? 0), 2);
  return {
    code: "same-day",
    found: "0",
    expected: `1 or more, unless it is wanted on the very day: that is charged as ${counted(usualDays, "day")} sooner, ${percent} % on top`,
    mend: "Ask the service whether it can, or write more days",
  };
}

import type { EstimateInput } from "../estimate-data.ts";
import type { Need } from "../job/references.ts";
import type { MachineRow } from "../job/types.ts";
import { missingPrices } from "../pricing/price.ts";
import { checked, inColumn, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { barProblems } from "./bars.ts";
import { sizeText, stockGroups, stockText } from "./nest.ts";
import type { StockGroup } from "./nest.ts";
import { readInput } from "./read.ts";
import type { ReadJob } from "./read.ts";
import { missingFeeds } from "./time.ts";

/** Everything that can go wrong before the long work begins, found before it begins. */

export interface ReadyToNest {
  readonly read: ReadJob;
  readonly groups: readonly StockGroup[];
}

export interface ReadyToRun extends ReadyToNest {
  readonly machine: MachineRow;
}

/** Nesting needs no machine; where one is named its bed bounds the sheets. */
export function readyToNest(input: EstimateInput, need: Need): Checked<ReadyToNest> {
  const read = readInput(input, need);
  if (!read.value) return { value: null, problems: read.problems };
  const groups = stockGroups(read.value, read.value.machine);
  const problems = [
    ...read.problems,
    ...sheetProblems(groups, read.value),
    ...flippedFaces(read.value),
  ];
  return checked({ read: read.value, groups }, problems);
}

/** Time and price need a machine, a feed for every operation and, for a price, every rate. */
export function readyToRun(input: EstimateInput, need: "time" | "quote"): Checked<ReadyToRun> {
  const ready = readyToNest(input, need);
  if (!ready.value) return { value: null, problems: ready.problems };
  const { read, groups } = ready.value;
  const { machine, job, tables } = read;
  if (!machine) return { value: null, problems: [...ready.problems, noMachine(read)] };
  const pricing =
    need === "quote" ? [...missingPrices(job, tables), ...barProblems(job, tables)] : [];
  const problems = [...ready.problems, ...missingFeeds(groups, tables, machine), ...pricing];
  return checked({ read, groups, machine }, problems);
}

/** A stock that is sold only in sheets that the machine's bed can not take. */
function sheetProblems(
  groups: readonly StockGroup[],
  { machine, tables }: ReadJob,
): readonly Problem[] {
  return groups.flatMap((group) => {
    const [first] = group.parts;
    if (group.rows.length > 0 || !first || !machine) return [];
    const sizes = tables.sheets.filter(({ id }) => group.sold.includes(id)).map(sizeText);
    return [
      {
        code: "no-sheet-for-bed",
        severity: "error",
        ...first.part.place,
        column: "material",
        found: `${stockText(group)}, sold as ${sizes.join(", ")}`,
        expected: `a sheet of at most ${machine.bedWidthMm} x ${machine.bedHeightMm} mm, the bed of ${machine.id}`,
        mend: "Add the size it can be cut down to in sheets.csv, or choose a machine with a larger bed",
      },
    ];
  });
}

/** Face down, a score or an engraving comes mirrored on the other face. */
function flippedFaces({ parts }: ReadJob): readonly Problem[] {
  return parts.flatMap(({ part, geometry }) => {
    const marked = geometry.scores.length + geometry.engravings.length > 0;
    if (!part.flip || !marked) return [];
    return warningAt(inColumn(part.place, "flip"), {
      code: "marks-flipped",
      found: "yes",
      expected: "no for a part with scored or engraved lines, which would come on its other face",
      mend: "Write no, unless either face will do",
    });
  });
}

function noMachine({ job, tables }: ReadJob): Problem {
  const known = tables.machines.map(({ id }) => id).join(", ");
  return {
    code: "no-machine",
    severity: "error",
    file: "job.yaml",
    line: null,
    column: "machine",
    found: job.machine ?? "",
    expected: known === "" ? "a machine in machines.csv" : `one of ${known}`,
    mend: "Name a machine in job.yaml, or in settings.csv of the tables",
  };
}

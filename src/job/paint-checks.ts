import { spreadFaults, spreadOf } from "./table-checks.ts";
import type { CellFault, CellsOf, SpreadCells } from "./table-checks.ts";
import type { ValuesOf } from "./rows.ts";
import type { FINISH_COLUMNS, METHOD_COLUMNS, PAINT_COLUMNS } from "./table-columns.ts";
import type { Drying, Spread } from "./types.ts";

/** What must agree between the cells of a paint, of a step of a finish, and of a way to put it on. */

export function paintFaults(row: CellsOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  const thins = row.kind === "thinner";
  const ofAmount = thins ? thinnerFaults(row) : row.kind === undefined ? [] : amountFaults(row);
  const told = ofAmount.some(({ code }) => code === NO_CONTENT.code);
  return [
    ...ofAmount,
    ...dryingFaults(row),
    ...thinningFaults(row).filter(({ code }) => !told || code !== NO_CONTENT.code),
  ];
}

/** A can's spread is told, or follows from solids and film; two answers could contradict each other. */
function amountFaults(row: CellsOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  const { low, likely, high, solidsPercent, filmUm, contentMl, lossPercent, method } = row;
  const unsaid = lossPercent === null && method === null ? [NO_LOSS] : [];
  const film = solidsPercent !== null && filmUm !== null;
  if (likely === undefined) return unsaid;
  if (likely === null) {
    if (!film) return [...unsaid, NO_SPREAD];
    return contentMl === null ? [...unsaid, NO_CONTENT] : unsaid;
  }
  if (typeof solidsPercent === "number" || typeof filmUm === "number")
    return [...unsaid, { ...SPREAD_TWICE, found: String(likely) }];
  const columns = ["spread_low_m2", "spread_m2", "spread_high_m2"] as const;
  return [...unsaid, ...spreadFaults({ low, likely, high }, columns)];
}

/** What is poured into paint is counted by volume alone. */
function thinnerFaults({ contentMl }: CellsOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  return contentMl === null ? [NO_CONTENT] : [];
}

function thinningFaults({
  kind,
  thinner,
  thinnerPercent,
  contentMl,
}: CellsOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  const unshared = typeof thinner === "string" && thinnerPercent === null;
  const unmeasured = typeof thinnerPercent === "number" && contentMl === null;
  return [
    ...(unshared ? [NO_SHARE] : []),
    ...(unmeasured && kind !== "thinner" ? [NO_CONTENT] : []),
  ];
}

/** Half of the times would make a calendar that is half made up. */
function dryingFaults(row: CellsOf<typeof PAINT_COLUMNS>): readonly CellFault[] {
  const { flashMinutes: flash, handleMinutes: handle, cureHours: cure } = row;
  const { recoatWithinMinutes: within, recoatAfterMinutes: after } = row;
  const said = [flash, handle, cure, within, after].some((one) => typeof one === "number");
  if (!said) return [];
  return [
    ...(flash === null ? [needed("flash_minutes", "before the next coat")] : []),
    ...(handle === null ? [needed("handle_minutes", "before it may be touched")] : []),
    ...windowFaults(flash, within, after),
  ];
}

type Minutes = number | null | undefined;

function windowFaults(flash: Minutes, within: Minutes, after: Minutes): readonly CellFault[] {
  if (within === undefined || after === undefined || (within === null && after === null)) return [];
  if (within === null || after === null)
    return [
      needed(
        within === null ? "recoat_within_minutes" : "recoat_after_minutes",
        "of the two between which no coat may come",
      ),
    ];
  if (typeof flash === "number" && within < flash) return [shortWindow(within, flash)];
  return after > within ? [] : [closedWindow(within, after)];
}

export function dryingOf(row: ValuesOf<typeof PAINT_COLUMNS>): Drying | null {
  const { flashMinutes: flash, handleMinutes: handle, cureHours } = row;
  const { recoatWithinMinutes: within, recoatAfterMinutes: after } = row;
  if (flash === null || handle === null) return null;
  const recoat = within === null || after === null ? null : { within, after };
  return { flash, recoat, handle, cureHours };
}

/** Null where nothing is said. */
export function optionalSpread({
  low,
  likely,
  high,
}: Omit<SpreadCells, "likely"> & { readonly likely: number | null }): Spread | null {
  return likely === null ? null : spreadOf({ low, likely, high });
}

export function finishFaults(row: CellsOf<typeof FINISH_COLUMNS>): readonly CellFault[] {
  const { faces, edges, low, likely, high, paint } = row;
  const bare = faces === "none" && edges === false ? [NOTHING_COATED] : [];
  const dry =
    paint?.name === null && typeof likely === "number"
      ? [{ ...SOAKS_NOTHING, found: String(likely) }]
      : [];
  return [...bare, ...dry, ...spanFaults({ low, likely, high }, "soak", "percent")];
}

export function methodFaults(row: CellsOf<typeof METHOD_COLUMNS>): readonly CellFault[] {
  const { lossLow, lossLikely, lossHigh, pastLow, pastLikely, pastHigh } = row;
  const loss = { low: lossLow, likely: lossLikely, high: lossHigh };
  const past = { low: pastLow, likely: pastLikely, high: pastHigh };
  return [...spanFaults(loss, "loss", "percent"), ...spanFaults(past, "past", "mm")];
}

/** Of three columns `soak_low_percent`, `soak_percent`, `soak_high_percent`, all of which may be empty. */
function spanFaults(
  { low, likely, high }: Readonly<Record<"low" | "likely" | "high", Minutes>>,
  what: string,
  unit: string,
): readonly CellFault[] {
  const columns = [`${what}_low_${unit}`, `${what}_${unit}`, `${what}_high_${unit}`] as const;
  if (likely === undefined) return [];
  if (likely !== null) return spreadFaults({ low, likely, high }, columns);
  const ends = typeof low === "number" || typeof high === "number";
  return ends ? [needed(columns[1], "between the low and the high one")] : [];
}

function needed(column: string, what: string): CellFault {
  return {
    column,
    code: "cell-missing-beside",
    found: "",
    expected: `a number, ${what}, since cells beside it are filled`,
    mend: `Fill in ${column}, or empty the cells beside it`,
  };
}

function shortWindow(within: number, flash: number): CellFault {
  return {
    column: "recoat_within_minutes",
    code: "recoat-before-flash",
    found: String(within),
    expected: `at least the flash_minutes of ${flash}`,
    mend: "Correct one of the two: no coat could come in time",
  };
}

function closedWindow(within: number, after: number): CellFault {
  return {
    column: "recoat_after_minutes",
    code: "recoat-window",
    found: String(after),
    expected: `more than the recoat_within_minutes of ${within}`,
    mend: "Write both in minutes, 2880 for 48 hours, or empty both where any time will do",
  };
}

const NO_SPREAD: CellFault = {
  column: "spread_m2",
  code: "paint-without-spread",
  found: "",
  expected: "the area a can covers in one coat, or both solids_percent and film_um",
  mend: "Fill in spread_m2 from the can's label, or the other two from the data sheet",
};

const SPREAD_TWICE: Omit<CellFault, "found"> = {
  column: "spread_m2",
  code: "spread-twice",
  expected: "either spread_m2, or solids_percent and film_um",
  mend: "Empty the cells of the way that is known less well",
};

const NO_CONTENT: CellFault = {
  column: "content_ml",
  code: "paint-without-content",
  found: "",
  expected: "how many ml there are in one, a number above 0",
  mend: "Fill in content_ml: nothing else says how far it goes",
};

const NO_LOSS: CellFault = {
  column: "loss_percent",
  code: "paint-without-loss",
  found: "",
  expected: "what is lost, in percent, or a method of methods.csv that says it",
  mend: "Fill in loss_percent (0 for none), or name the method",
};

const NO_SHARE: CellFault = {
  column: "thinner_percent",
  code: "thinner-without-share",
  found: "",
  expected: "how much thinner is added, in percent of the paint",
  mend: "Fill in thinner_percent, or empty thinner",
};

const NOTHING_COATED: CellFault = {
  column: "edges",
  code: "nothing-coated",
  found: "no",
  expected: "yes for a step that takes no face",
  mend: "Write yes for edges alone, or front or both under faces",
};

const SOAKS_NOTHING: Omit<CellFault, "found"> = {
  column: "soak_percent",
  code: "soak-without-paint",
  expected: "an empty cell: the step has no paint that could soak in",
  mend: "Name the paint, or empty the cell",
};

import type { CellFault, CellsOf } from "./table-checks.ts";
import type { MACHINE_COLUMNS } from "./table-columns.ts";

/** What must agree between the cells of a row of machines.csv. */

type MachineCells = CellsOf<typeof MACHINE_COLUMNS>;

export function machineFaults(row: MachineCells): readonly CellFault[] {
  return [
    ...(row.kind === "own" ? ownFaults(row) : []),
    ...(row.kind === "service" ? serviceFaults(row) : []),
    ...PAIRS.flatMap((pair) => halfTold(row, pair)),
    // What is only a service's is told as that of an own machine.
    ...(row.kind === "own" ? [] : [...halfTold(row, RUSH), ...aboveHourFaults(row)]),
  ];
}

/** Which columns only a service's bill is made from, and only an own machine's hour. */
const OF_SERVICE = {
  minimum_minutes: "minimumMinutes",
  billing_step_minutes: "billingStepMinutes",
  above_hour_rate: "aboveHourRate",
  setup_charge: "setupCharge",
  sheet_charge: "sheetCharge",
  minimum_charge: "minimumCharge",
  minimum_further: "minimumFurther",
  usual_days: "usualDays",
  rush_percent_per_day: "rushPercentPerDay",
} as const satisfies Readonly<Record<string, keyof MachineCells>>;
const OF_OWN = {
  price: "price",
  consumables_per_hour: "consumablesPerHour",
  power_kw: "powerKw",
} as const satisfies Readonly<Record<string, keyof MachineCells>>;

/** One's own machine costs what it runs; a minimum there would be read and never counted. */
function ownFaults(row: MachineCells): readonly CellFault[] {
  const costs = filled(row, OF_OWN);
  return [
    ...filled(row, OF_SERVICE)
      .filter(({ found }) => Number(found) > 0)
      .map((cell) => ({
        ...cell,
        code: "minimum-not-used",
        expected: "0 for one's own machine, which is charged as it runs",
        mend: "Write 0, or write service under kind if somebody bills it",
      })),
    ...(row.rate === null && costs.length === 0 ? [NO_HOUR] : []),
    ...(row.rate ? costs.map((cell) => ({ ...cell, ...RATE_TWICE })) : []),
    ...(row.rate === null && row.ratePer === "minute" && costs.length > 0 ? [BY_HOUR] : []),
  ];
}

function serviceFaults(row: MachineCells): readonly CellFault[] {
  return [
    ...(row.rate === null ? [NO_RATE] : []),
    ...filled(row, OF_OWN).map((cell) => ({
      ...cell,
      code: "cost-not-used",
      expected: "an empty cell for a service, which is paid by its rate",
      mend: "Empty the cell, or write own under kind if the machine is yours",
    })),
  ];
}

/** Columns of which neither says anything without the other. */
const PAIRS = [
  { price: "price", life_hours: "lifeHours" },
  { power_kw: "powerKw", electricity_per_kwh: "electricityPerKwh" },
] as const satisfies readonly Pair[];
const RUSH: Pair = { usual_days: "usualDays", rush_percent_per_day: "rushPercentPerDay" };

type Pair = Readonly<Record<string, keyof MachineCells>>;

function halfTold(row: MachineCells, pair: Pair): readonly CellFault[] {
  const told = Object.entries(pair);
  const isEmpty = ([, field]: (typeof told)[number]): boolean => row[field] === null;
  const missing = told.find(isEmpty);
  const other = told.find(([, field]) => row[field] !== null && row[field] !== undefined);
  if (missing === undefined || other === undefined) return [];
  return [
    {
      column: missing[0],
      code: "half-told",
      found: "",
      expected: `a number beside ${other[0]}, which says nothing without it`,
      mend: `Fill in ${missing[0]}, or empty ${other[0]}`,
    },
  ];
}

function aboveHourFaults(row: MachineCells): readonly CellFault[] {
  const { aboveHourRate, aboveHourStepMinutes, minimumCharge, minimumFurther, ratePer } = row;
  return [
    ...(aboveHourRate && ratePer === "hour"
      ? [{ ...HOUR_TWICE, found: aboveHourRate.toString() }]
      : []),
    ...(aboveHourRate === null && (aboveHourStepMinutes ?? 0) > 0
      ? [without("above_hour_rate", "above_hour_step_minutes")]
      : []),
    ...(minimumCharge === null && minimumFurther
      ? [without("minimum_charge", "minimum_further")]
      : []),
  ];
}

function without(column: string, other: string): CellFault {
  return {
    column,
    code: "half-told",
    found: "",
    expected: `an amount, since ${other} says nothing without it`,
    mend: `Fill in ${column}, or empty ${other}`,
  };
}

function filled(
  row: MachineCells,
  columns: Readonly<Record<string, keyof MachineCells>>,
): readonly Pick<CellFault, "column" | "found">[] {
  return Object.entries(columns).flatMap(([column, field]) => {
    const value = row[field];
    return value === null || value === undefined ? [] : [{ column, found: String(value) }];
  });
}

const NO_HOUR: CellFault = {
  column: "rate",
  code: "machine-without-rate",
  found: "",
  expected:
    "what an hour costs, or price and life_hours, consumables_per_hour, power_kw and electricity_per_kwh to work it out from",
  mend: "Fill in rate, or what the machine cost and how long it lasts",
};

const NO_RATE: CellFault = {
  column: "rate",
  code: "machine-without-rate",
  found: "",
  expected: "what the service takes for a minute or hour; 0 where it bills by length alone",
  mend: "Fill in rate: a missing amount is never taken for zero",
};

const RATE_TWICE = {
  code: "rate-twice",
  expected: "an empty cell beside rate: what an hour costs is told or worked out, not both",
  mend: "Empty this cell, or empty rate to have it worked out",
};

const BY_HOUR: CellFault = {
  column: "rate_per",
  code: "hour-worked-out",
  found: "minute",
  expected: "hour, since what is worked out from price and life is the cost of an hour",
  mend: "Write hour",
};

const HOUR_TWICE: Omit<CellFault, "found"> = {
  column: "above_hour_rate",
  code: "hour-twice",
  expected: "an empty cell where rate_per is hour already",
  mend: "Empty the cell, or write the price of a minute under rate and minute under rate_per",
};

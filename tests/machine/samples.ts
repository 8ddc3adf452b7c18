import { pathArea, pathBounds, pathLength, polylinePath } from "../../src/geometry/path.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import type { FeedRow, MachineRow, Operation } from "../../src/job/types.ts";
import type { PlacedLines } from "../../src/machine/types.ts";
import { Amount } from "../../src/money.ts";

/** Small things that the machine's tests are made from. */

export const ROW = {
  place: { file: "table.csv", line: 2, column: null },
  validFrom: "2026-01-01",
  source: "invented for the test",
};

export function machine(overrides: Partial<MachineRow> = {}): MachineRow {
  return {
    ...ROW,
    id: "laser",
    description: "Laser",
    kind: "own",
    ratePer: "hour",
    rate: new Amount(30),
    price: null,
    lifeHours: null,
    consumablesPerHour: null,
    powerKw: null,
    electricityPerKwh: null,
    aboveHourRate: null,
    aboveHourStepMinutes: 0,
    setupCharge: null,
    sheetCharge: null,
    minimumCharge: null,
    minimumFurther: null,
    usualDays: null,
    rushPercentPerDay: null,
    minimumMinutes: 0,
    billingStepMinutes: 0,
    setupMinutes: 5,
    focusMinutes: 0,
    loadMinutes: 2,
    originMinutes: 0,
    unloadMinutes: 0,
    bedWidthMm: 1300,
    bedHeightMm: 900,
    travelMmS: 200,
    accelerationMmS2: 1000,
    cornerToleranceMm: 0.05,
    settleS: 0,
    fumeMinutes: 0,
    engraveBothWays: true,
    rasterAccelerationMmS2: null,
    lineIntervalMm: 0.1,
    ...overrides,
  };
}

export function feed(
  operation: Operation,
  likely: number,
  overrides: Partial<FeedRow> = {},
): FeedRow {
  return {
    ...ROW,
    id: `${operation}-row`,
    machine: "laser",
    material: "acrylic cast",
    thicknessMm: 3,
    operation,
    feedMmS: { low: likely / 2, likely, high: likely * 2 },
    passes: 1,
    pierceS: 0,
    power: "",
    measured: false,
    pricePerM: null,
    pricePerM2: null,
    ...overrides,
  };
}

export function rectangle(x: number, y: number, width: number, height: number): Path {
  return polylinePath(
    [
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ],
    true,
  );
}

export function copyOf(
  part: string,
  copy: number,
  outline: Path,
  rest: Partial<PlacedLines> = {},
): PlacedLines {
  return { part, copy, outline, holes: [], scores: [], engravings: [], ...rest };
}

/** Ends of the segments, in order: enough to tell contours of these tests apart. */
export function corners({ start, segments }: Path): readonly Point[] {
  return [start, ...segments.map(({ to }) => to)];
}

/** What stays the same wherever a closed path is begun and whichever way it is run. */
export function fingerprint(path: Path): string {
  const box = pathBounds(path);
  return [pathLength(path), Math.abs(pathArea(path)), ...Object.values(box)]
    .map((value: number) => value.toFixed(6))
    .join(" ");
}

/** Crossed plates with half laps: whether their slots are as deep together as the plates are high. */

export interface HalfLapPlate {
  readonly part: string;
  /** Of the sheet that it is cut from. */
  readonly thicknessMm: number;
  readonly heightMm: number;
  readonly slotWidthMm: number;
  readonly slotDepthMm: number;
  readonly slotSide: "top" | "bottom";
  /** How many of it are made in all. */
  readonly copies: number;
}

/** Two plates that are meant for each other and do not go home, or leave their slots open. */
export interface LapFault<P extends HalfLapPlate> {
  readonly plates: readonly [P, P];
  /** By how much one stands out of the other, mm; below 0 so much of the slots stays open. */
  readonly outMm: number;
}

/** A slot is for a sheet whose thickness is as near, in thicknesses (common practice, no source). */
const REACH_THICKNESSES = 0.25;

/** What a file takes off, and what a slot may be too deep, mm (common practice, no source). */
const MOST_OUT_MM = 0.1;
const MOST_OPEN_MM = 1;

/** What sums of decimals leave. */
const DUST_MM = 1e-6;

/**
 * Each plate against those whose slots take it and whom it takes: of the other side if there are
 * any, else turned upside down, else another copy of itself. A plate that goes with one of them is
 * right; else the nearest is told, each pair once.
 */
export function lapFaults<P extends HalfLapPlate>(plates: readonly P[]): LapFault<P>[] {
  const faults = new Map<string, LapFault<P>>();
  for (const plate of plates) {
    const told = partnersOf(plate, plates).map((other): LapFault<P> => {
      const pair = [plate, other] as const;
      return { plates: pair, outMm: outOf(...pair) };
    });
    const [first, ...rest] = told;
    if (first === undefined || told.some(({ outMm }) => isHome(outMm))) continue;
    const nearest = rest.reduce(
      (best, one) => (Math.abs(one.outMm) < Math.abs(best.outMm) ? one : best),
      first,
    );
    const key = nearest.plates.map((one) => plates.indexOf(one)).sort((a, b) => a - b);
    if (!faults.has(key.join())) faults.set(key.join(), nearest);
  }
  return [...faults.values()];
}

function isHome(outMm: number): boolean {
  return outMm <= MOST_OUT_MM + DUST_MM && outMm >= -MOST_OPEN_MM - DUST_MM;
}

function partnersOf<P extends HalfLapPlate>(plate: P, plates: readonly P[]): P[] {
  const fitting = plates.filter(
    (other) => other !== plate && takes(plate, other) && takes(other, plate),
  );
  const facing = fitting.filter(({ slotSide }) => slotSide !== plate.slotSide);
  if (facing.length > 0) return facing;
  if (fitting.length > 0) return fitting;
  return plate.copies > 1 && takes(plate, plate) ? [plate] : [];
}

function takes({ slotWidthMm }: HalfLapPlate, { thicknessMm }: HalfLapPlate): boolean {
  return Math.abs(slotWidthMm - thicknessMm) <= REACH_THICKNESSES * thicknessMm;
}

/**
 * Floor on floor, the plate from above stands as far above the foot of the other as the other is
 * high less both slots: flush below at 0, flush above at the difference of the heights. Of unequal
 * plates either will do.
 */
function outOf(one: HalfLapPlate, other: HalfLapPlate): number {
  const deep = one.slotDepthMm + other.slotDepthMm;
  const [a, b] = [one.heightMm - deep, other.heightMm - deep];
  if (isHome(a)) return a;
  return isHome(b) || Math.abs(b) < Math.abs(a) ? b : a;
}

/** Copies of one area each, mm2. */
export interface Portion {
  readonly area: number;
  readonly copies: number;
}

/**
 * The most of `offered` that whole copies can take, mm2; never too little. What is left of a sheet
 * beside one copy of more than half of it is of no use to another, and is not counted.
 *
 * Subset sums (Martello and Toth 1990, chapter 4) on areas rounded down to a grid, so that every set
 * that fits still does; their values are not rounded.
 */
export function attainableArea(portions: readonly Portion[], offered: number): number {
  if (offered <= 0) return 0;
  const sum = portions.reduce((all, { area, copies }) => all + area * copies, 0);
  const total = sum * (1 + ROUNDING);
  if (total <= offered || portions.length > MOST_PORTIONS) return Math.min(total, offered);
  const most = new Float64Array(CELLS + 1);
  for (const { area, copies } of portions) {
    const cells = Math.floor((area / offered) * CELLS * (1 - ROUNDING));
    let left = cells === 0 ? copies : Math.min(copies, Math.floor(CELLS / cells));
    // Lots of 1, 2, 4, ... copies make up any number of them.
    for (let lot = 1; left > 0; lot *= 2) {
      const taken = Math.min(lot, left);
      left -= taken;
      addLot(most, taken * cells, taken * area);
    }
  }
  return Math.min(offered, most[CELLS]! * (1 + ROUNDING));
}

/** More kinds of pieces than this leave next to nothing that they could not fill. */
const MOST_PORTIONS = 60;
const CELLS = 1000;
const ROUNDING = 1e-9;

function addLot(most: Float64Array, cells: number, area: number): void {
  for (let cell = CELLS; cell >= cells; cell--)
    most[cell] = Math.max(most[cell]!, most[cell - cells]! + area);
}

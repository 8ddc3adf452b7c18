import type { Estimate, PriceRange, RangeDriver } from "../estimate-data.ts";
import { counted } from "../names.ts";
import { placeText } from "../problem.ts";
import { columns, wrapped } from "./wrap.ts";

/** How far cost and profit may lie off, for the maker; the customer never sees it. */
export function rangeBlock({ range, currency }: Estimate): readonly string[] {
  if (range === null) return [];
  const heading = `What may come of it (${currency.code}; ${range.draws} draws of ${counted(range.drivers.length, "uncertain row")})`;
  return [heading, ...outcomes(range), "  It swings most, from P10 to P90, by", ...drivers(range)];
}

function outcomes({ cost, profit, lossChance }: PriceRange): readonly string[] {
  const rows = [
    ["", "1 in 10 below", "half below", "1 in 10 above"],
    ["Cost, contingency left out", cost.p10, cost.p50, cost.p90],
    ["Profit at the quoted price", profit.p10, profit.p50, profit.p90],
  ];
  const loss = `  Chance that the job costs more than its net price: ${chanceText(lossChance)}`;
  return [...columns(rows, [1, 2, 3]).map((line) => `  ${line}`), loss];
}

/** Draws can not tell a chance of one in ten thousand from none. */
export function chanceText(chance: number): string {
  if (chance === 0) return "hardly any";
  if (chance < LEAST) return `below ${LEAST * 100} %`;
  return `${Math.round(chance * 100)} %`;
}

const LEAST = 0.01;

/** What each row alone swings the cost by, from its P10 to its P90. */
function drivers({ drivers: all }: PriceRange): readonly string[] {
  const shown = all.slice(0, MOST);
  const widest = Math.max(...shown.map(({ swing }) => swing.length));
  return shown.flatMap((driver) =>
    wrapped(driverText(driver), WIDTH, `    ${driver.swing.padStart(widest)}  `),
  );
}

function driverText({ label, place: { file, line } }: RangeDriver): string {
  return `${label} (${placeText({ file, line, column: null })})`;
}

const WIDTH = 80;

const MOST = 5;

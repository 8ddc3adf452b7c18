import type { SawnBar } from "../estimate-data.ts";
import { lengthText } from "../units.ts";

/** What bars and their ends are called in the answers. */

export function shelfText({ fromShelf }: SawnBar): string {
  return fromShelf ? " from the shelf" : "";
}

/** `380 mm left, keep it`, `12 mm left`; empty where less than a millimetre is. */
export function leftText({ leftMm, kept }: SawnBar): string {
  const whole = Math.floor(leftMm + ROUNDING_MM);
  if (whole < 1) return "";
  return `${lengthText(whole)} left${kept ? ", keep it" : ""}`;
}

/** So that 250 mm and a rounding error is 250 mm. */
const ROUNDING_MM = 1e-6;

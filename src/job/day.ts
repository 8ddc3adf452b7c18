/** ISO 8601 calendar days as texts; they sort by plain `<`. */

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/** Whether it is a day of the Gregorian calendar, written `2026-11-25`. */
export function isDay(text: string): boolean {
  const [, year = "", month = "", day = ""] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? [];
  const days = DAYS_IN_MONTH[Number(month) - 1];
  if (days === undefined) return false;
  const leapDay = month === "02" && isLeap(Number(year)) ? 1 : 0;
  return Number(day) >= 1 && Number(day) <= days + leapDay;
}

/**
 * The day that another way of writing can only mean: `20.11.2026` is day, month and year, as is
 * `20/11/2026`; `1/2/2026` may be either, so that it is null.
 */
export function dayMeant(text: string): string | null {
  const [, first = "", mark = "", second = "", year = ""] =
    /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(text) ?? [];
  const days = [[second, first], ...(mark === "." ? [] : [[first, second]])]
    .map(([month = "", day = ""]) => `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`)
    .filter(isDay);
  const [only, other = only] = days;
  return only === other ? (only ?? null) : null;
}

function isLeap(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** The day so many calendar days after another. @param days whole, 0 or more. */
export function dayAfter(from: string, days: number): string {
  let [year = 0, month = 1, day = 1] = from.split("-").map(Number);
  day += days;
  while (day > daysIn(year, month)) {
    day -= daysIn(year, month);
    month += 1;
    if (month > DAYS_IN_MONTH.length) [year, month] = [year + 1, 1];
  }
  return `${String(year).padStart(4, "0")}-${twoDigits(month)}-${twoDigits(day)}`;
}

/** @param month from 1. */
function daysIn(year: number, month: number): number {
  const leapDay = month === 2 && isLeap(year) ? 1 : 0;
  return (DAYS_IN_MONTH[month - 1] ?? 0) + leapDay;
}

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}

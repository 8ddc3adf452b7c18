import type { FinishMade } from "../estimate-data.ts";
import { columns } from "./wrap.ts";

/** How paint dries, in words for the bench. */

type Drying = NonNullable<FinishMade["steps"][number]["drying"]>;
type Calendar = NonNullable<FinishMade["calendar"]>;
type Planned = Calendar["planned"][number];

/** `next coat after 10 min, within 1 h or after 48 h; touch after 90 min; hard after 24 h`. */
export function timesText({ flash, recoat, handle, cureHours }: Drying): string {
  const window =
    recoat === null
      ? ""
      : `, within ${durationText(recoat.within)} or after ${durationText(recoat.after)}`;
  const hard = cureHours === null ? [] : [`hard after ${durationText(cureHours * 60)}`];
  return [
    `next coat after ${durationText(flash)}${window}`,
    `touch after ${durationText(handle)}`,
    ...hard,
  ].join("; ");
}

/** `90 min`; whole hours from two hours on, and from one hour where it is one. */
function durationText(minutes: number): string {
  return minutes >= 60 && minutes % 60 === 0 ? `${minutes / 60} h` : `${minutes} min`;
}

/** The days of painting; empty where it is not known how the paints dry. */
export function calendarLines(calendar: Calendar | null): readonly string[] {
  if (calendar === null) return [];
  const { planned, touch, hard } = calendar;
  const rows = [
    ...planned.map((one) => row(one, plannedText(one))),
    row(touch, "all may be touched"),
    ...(hard.day === touch.day && hard.minute === touch.minute ? [] : [row(hard, "all is hard")]),
  ];
  const shown = rows.map(([day = "", ...others], index) => [
    rows[index - 1]?.[0] === day ? "" : day,
    ...others,
  ]);
  return ["    When, in days of painting:", ...columns(shown, [1]).map((line) => `      ${line}`)];
}

/** Read before all calendars; the temperatures are those of a craft guide, 65 to 85 degrees F. */
export const DRYING_CAUTION =
  "Times to dry hold from 18 to 29 degrees: where it is colder or damp they are longer, and what the can or the data sheet says comes first.";

function row({ day, minute }: { day: number; minute: number }, text: string): readonly string[] {
  const whole = Math.round(minute);
  const clock = `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  return [`day ${day}`, clock, text];
}

function plannedText({ step, coat, waitedFor }: Planned): string {
  const nth = coat === null || coat.of === 1 ? "" : ` ${coat.coat} of ${coat.of}`;
  const where = coat === null ? "" : `, ${coat.where}`;
  return `${step}${nth}${where}${WAITED[waitedFor]}`;
}

const WAITED: Readonly<Record<Planned["waitedFor"], string>> = {
  nothing: "",
  flash: " (flashed off)",
  recoat: " (coat below dry through)",
  touch: " (dry to touch)",
  morning: " (next morning)",
};

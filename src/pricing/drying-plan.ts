import type { Drying } from "../job/types.ts";
import { beginAt, endOf, nextMorning } from "./working-day.ts";

/**
 * When each coat of a finish can come. Coats between which nothing is touched (no sanding, no masking)
 * make a batch; in a batch all coats of the front come before those of the back, or coat by coat in
 * turn, now or on the next morning: the first of these to be dry enough to touch is taken.
 */

/** What lies up while it is coated; edges are coated with the front. */
export type Side = "front" | "back";

/** One coat on one side of all parts of the finish. */
export interface CoatToDo {
  readonly step: string;
  /** Of its step, from 1; and how many there are. */
  readonly coat: number;
  readonly of: number;
  readonly side: Side;
  /** What is coated: `front and edges`. */
  readonly where: string;
  /** Of work. */
  readonly minutes: number;
  readonly drying: Drying;
}

/** What a finish is made of, in order. */
export type ToDo =
  | {
      readonly kind: "batch";
      readonly front: readonly CoatToDo[];
      readonly back: readonly CoatToDo[];
    }
  /** Touches the parts. */
  | { readonly kind: "touch"; readonly step: string };

/** What was waited for before it. */
export type WaitedFor = "nothing" | "flash" | "recoat" | "touch" | "morning";

export interface Planned {
  readonly step: string;
  /** Null for a step that touches the parts. */
  readonly coat: Pick<CoatToDo, "coat" | "of" | "where"> | null;
  /** Minutes from the first morning. */
  readonly begin: number;
  readonly waitedFor: WaitedFor;
}

export interface DryingPlan {
  readonly planned: readonly Planned[];
  /** Minutes from the first morning until all may be touched, and until all is hard. */
  readonly touchMin: number;
  readonly hardMin: number;
  /** Coats that come too late for the time within which they may come, with nothing between. */
  readonly late: readonly Late[];
}

export interface Late {
  readonly step: string;
  readonly below: string;
  /** Between the coat below and the moment at which it could have come, minutes. */
  readonly afterMin: number;
  readonly recoat: NonNullable<Drying["recoat"]>;
}

/** @param openMin of work in a day. */
export function planDrying(todo: readonly ToDo[], openMin: number): DryingPlan {
  let state: State = START;
  for (const one of todo) {
    state =
      one.kind === "touch"
        ? touched(state, one.step, openMin)
        : firstToTouch(ordersOf(one, state, openMin));
  }
  const { planned, late } = state;
  return { planned, late, touchMin: touchAt(state), hardMin: hardAt(state) };
}

interface State {
  /** The person is free from then on. */
  readonly now: number;
  /** What comes next is left for the morning, though it could come before. */
  readonly isPostponed: boolean;
  /** The last coat on each side. */
  readonly wet: readonly Wet[];
  /** That lies up. */
  readonly up: Side | null;
  readonly planned: readonly Planned[];
  readonly late: readonly Late[];
}

interface Wet {
  readonly side: Side;
  readonly step: string;
  readonly end: number;
  readonly drying: Drying;
  /** Something came between, so that it could not be kept wet. */
  readonly wasTouched: boolean;
}

const START: State = { now: 0, isPostponed: false, wet: [], up: null, planned: [], late: [] };

function ordersOf(
  { front, back }: ToDo & { kind: "batch" },
  state: State,
  openMin: number,
): readonly State[] {
  const inTurn = front.flatMap((coat) => [coat, ...back.filter((one) => isSame(one, coat))]);
  return [state, postponed(state, front, openMin)].flatMap((start) => {
    const bySide = coated(start, front, openMin);
    return [
      coated(bySide, back, openMin),
      coated(postponed(bySide, back, openMin), back, openMin),
      coated(start, inTurn, openMin),
    ];
  });
}

/** Not before the morning after the first of the coats could come: so that no evening parts them. */
function postponed(state: State, [first]: readonly CoatToDo[], openMin: number): State {
  if (first === undefined) return state;
  const begin = coatedOnce(state, first, openMin).planned.at(-1)?.begin ?? state.now;
  return { ...state, now: nextMorning(begin), isPostponed: true };
}

function isSame(a: CoatToDo, b: CoatToDo): boolean {
  return a.step === b.step && a.coat === b.coat;
}

/** Of those that may be touched equally soon the first. */
function firstToTouch(states: readonly State[]): State {
  return states.reduce((best, one) => (touchAt(one) < touchAt(best) ? one : best));
}

function coated(start: State, coats: readonly CoatToDo[], openMin: number): State {
  return coats.reduce((state, coat) => coatedOnce(state, coat, openMin), start);
}

function coatedOnce(state: State, coat: CoatToDo, openMin: number): State {
  const { side, minutes, step } = coat;
  const below = state.wet.find((one) => one.side === side);
  const flashed = below === undefined ? 0 : below.end + below.drying.flash;
  const turned = state.up === null || state.up === side ? 0 : touchAt(state);
  const ready = Math.max(state.now, flashed, turned);
  const soonest = beginAt(ready, minutes, openMin);
  const late = below === undefined ? null : lateBy(below, coat, soonest);
  const begin = late === null || !below ? soonest : openAgain(below, late.recoat, minutes, openMin);
  const waitedFor = state.isPostponed
    ? "morning"
    : reasonOf({ begin, soonest, ready, flashed, turned, now: state.now });
  const end = endOf(begin, minutes, openMin);
  const wet = { side, step, end, drying: coat.drying, wasTouched: false };
  return {
    now: end,
    isPostponed: false,
    wet: [...state.wet.filter((one) => one.side !== side), wet],
    up: side,
    planned: [
      ...state.planned,
      { step, coat: { coat: coat.coat, of: coat.of, where: coat.where }, begin, waitedFor },
    ],
    late: late === null || below?.wasTouched === true ? state.late : [...state.late, late],
  };
}

/** Null where the coat may come then. */
function lateBy({ drying, end, step: below }: Wet, { step }: CoatToDo, begin: number): Late | null {
  const { recoat } = drying;
  const afterMin = begin - end;
  return recoat !== null && afterMin > recoat.within && afterMin < recoat.after
    ? { step, below, afterMin, recoat }
    : null;
}

function openAgain(
  { end }: Wet,
  { after }: Late["recoat"],
  minutes: number,
  openMin: number,
): number {
  return beginAt(end + after, minutes, openMin);
}

function reasonOf(
  at: Readonly<Record<"begin" | "soonest" | "ready" | "flashed" | "turned" | "now", number>>,
): WaitedFor {
  if (at.begin > at.soonest) return "recoat";
  if (at.soonest > at.ready) return "morning";
  if (at.ready === at.now) return "nothing";
  return at.ready === at.turned ? "touch" : "flash";
}

function touched(state: State, step: string, openMin: number): State {
  if (state.wet.length === 0) return state;
  const dry = Math.max(state.now, touchAt(state));
  const begin = beginAt(dry, 0, openMin);
  const waitedFor = begin > dry ? "morning" : dry > state.now ? "touch" : "nothing";
  return {
    ...state,
    now: begin,
    up: null,
    wet: state.wet.map((one) => ({ ...one, wasTouched: true })),
    planned: [...state.planned, { step, coat: null, begin, waitedFor }],
  };
}

/** When nothing is wet any more. */
function touchAt({ wet }: State): number {
  return Math.max(0, ...wet.map(({ end, drying }) => end + drying.handle));
}

function hardAt({ wet }: State): number {
  return Math.max(
    0,
    ...wet.map(
      ({ end, drying }) => end + Math.max(drying.handle, (drying.cureHours ?? 0) * MIN_PER_HOUR),
    ),
  );
}

const MIN_PER_HOUR = 60;

import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Drying } from "../../src/job/types.ts";
import { planDrying } from "../../src/pricing/drying-plan.ts";
import type { CoatToDo, DryingPlan, Side, ToDo } from "../../src/pricing/drying-plan.ts";
import { beginAt, endOf, nextMorning, workingDays } from "../../src/pricing/working-day.ts";

/** Calendars worked by hand, with the times of trade facts 4.4. */

/** Aerosol FAQ, craft guide: next coat within 1 h or after 48 h; flash 5 to 10 min; touch 1 to 2 h. */
const ENAMEL: Drying = {
  flash: 10,
  recoat: { within: 60, after: 2880 },
  handle: 90,
  cureHours: 24,
};
/** Alkyd enamel data sheet, by brush: recoat 24 h, touch 5 to 9 h. */
const BRUSHED: Drying = { flash: 1440, recoat: null, handle: 420, cureHours: 168 };

const SIX_HOURS = 360;
const DAY = 1440;

function coats(
  step: string,
  count: number,
  side: Side,
  drying = ENAMEL,
  minutes = 10,
): readonly CoatToDo[] {
  return Array.from({ length: count }, (_, index) => ({
    step,
    coat: index + 1,
    of: count,
    side,
    where: side,
    minutes,
    drying,
  }));
}

function shown({ planned }: DryingPlan): readonly string[] {
  return planned.map(
    ({ step, coat, begin, waitedFor }) =>
      `${step}${coat === null ? "" : ` ${coat.coat} ${coat.where}`} ${begin} ${waitedFor}`,
  );
}

describe("a working day of six hours", () => {
  it.each([
    [0, 10, 0],
    [350, 10, 350],
    [351, 10, DAY],
    [361, 0, DAY],
    [DAY + 5, 400, 2 * DAY],
    [DAY, 400, DAY],
  ])("work at %d for %d min begins at %d", (at, minutes, begin) => {
    expect(beginAt(at, minutes, SIX_HOURS)).toBe(begin);
  });

  it("goes on the next morning with what is longer than a day", () => {
    expect(endOf(DAY, 800, SIX_HOURS)).toBe(3 * DAY + 80);
    expect(endOf(DAY, 360, SIX_HOURS)).toBe(DAY + 360);
    expect([0, 1, DAY].map(nextMorning)).toEqual([0, DAY, DAY]);
  });

  it.each([
    [0, 0],
    [180, 0.5],
    [360, 1],
    [1000, 1],
    [2 * DAY + 90, 2.25],
  ])("%d min from the first morning are %d working days", (at, days) => {
    expect(workingDays(at, SIX_HOURS)).toBe(days);
  });
});

describe("coats of an enamel", () => {
  it("follow each other as soon as they have flashed off", () => {
    const plan = planDrying(
      [{ kind: "batch", front: coats("colour", 3, "front"), back: [] }],
      SIX_HOURS,
    );
    expect(shown(plan)).toEqual([
      "colour 1 front 0 nothing",
      "colour 2 front 20 flash",
      "colour 3 front 40 flash",
    ]);
    expect([plan.touchMin, plan.hardMin]).toEqual([50 + 90, 50 + DAY]);
  });

  it("come side by side, since in turn they would come too late", () => {
    const batch = {
      kind: "batch",
      front: [...coats("prime", 1, "front"), ...coats("colour", 2, "front")],
      back: [...coats("prime", 1, "back"), ...coats("colour", 2, "back")],
    } as const;
    const plan = planDrying([batch], SIX_HOURS);
    // 0, 20, 40 and 50 + 90 to turn, then again: 190 + 90 until it may be touched.
    expect(shown(plan).map((one) => one.replace(/ \w+$/, ""))).toEqual([
      "prime 1 front 0",
      "colour 1 front 20",
      "colour 2 front 40",
      "prime 1 back 140",
      "colour 1 back 160",
      "colour 2 back 180",
    ]);
    expect(plan.planned[3]?.waitedFor).toBe("touch");
    expect(plan.touchMin).toBe(280);
    expect(plan.late).toEqual([]);
  });

  it("wait for 48 h where they are masked between, for which the first must be dry to touch", () => {
    const todo: readonly ToDo[] = [
      { kind: "touch", step: "scuff" },
      { kind: "batch", front: coats("colour", 1, "front"), back: [] },
      { kind: "touch", step: "mask" },
      { kind: "batch", front: coats("second", 2, "front"), back: [] },
    ];
    const plan = planDrying(todo, SIX_HOURS);
    // Touched at 10 + 90; 60 min are over, so 10 + 2880, on the third morning, and 20 min on.
    expect(shown(plan)).toEqual([
      "colour 1 front 0 nothing",
      "mask 100 touch",
      "second 1 front 2890 recoat",
      "second 2 front 2910 flash",
    ]);
    expect(plan.touchMin).toBe(2920 + 90);
    // Nobody could have done better: it is told in the calendar, and no slip.
    expect(plan.late).toEqual([]);
  });

  it("are begun the next morning rather than left overnight in the middle", () => {
    const todo: readonly ToDo[] = [
      { kind: "batch", front: coats("prime", 1, "front", ENAMEL, 330), back: [] },
      { kind: "touch", step: "sand" },
      { kind: "batch", front: coats("colour", 2, "front", ENAMEL, 30), back: [] },
    ];
    const plan = planDrying(todo, SIX_HOURS);
    // Sanded at 420, after the day: the next morning; colour could come at 330 + 2880 = 3210, the last
    // half hour of the third day. The second coat would be caught by the evening, and wait for 48 h more.
    expect(shown(plan)).toEqual([
      "prime 1 front 0 nothing",
      `sand ${DAY} morning`,
      `colour 1 front ${3 * DAY} morning`,
      `colour 2 front ${3 * DAY + 40} flash`,
    ]);
    const late = planDrying(
      [
        { kind: "batch", front: coats("prime", 1, "front", BRUSHED, 300), back: [] },
        { kind: "batch", front: coats("colour", 2, "front", ENAMEL, 40), back: [] },
      ],
      SIX_HOURS,
    );
    // Dry at 300 + 1440, an hour before the end of day two: 40 min, and the second coat would be caught
    // by the evening and then wait for 48 h. So both come on the third morning.
    expect(shown(late).slice(1)).toEqual([
      `colour 1 front ${2 * DAY} morning`,
      `colour 2 front ${2 * DAY + 50} flash`,
    ]);
  });

  it("that take longer than the time within which the next must come are told", () => {
    const batch = {
      kind: "batch",
      front: coats("colour", 2, "front", ENAMEL, 200),
      back: [],
    } as const;
    const plan = planDrying([batch], SIX_HOURS);
    // The second coat does not fit in the first day, and the next morning is too late.
    expect(plan.late).toEqual([
      { step: "colour", below: "colour", afterMin: DAY - 200, recoat: { within: 60, after: 2880 } },
    ]);
    expect(plan.planned[1]).toMatchObject({ begin: 3 * DAY, waitedFor: "recoat" });
  });
});

describe("coats by brush", () => {
  it("come in turn on both sides, which is sooner where they dry for a day", () => {
    const batch = {
      kind: "batch",
      front: coats("paint", 2, "front", BRUSHED),
      back: coats("paint", 2, "back", BRUSHED),
    } as const;
    const plan = planDrying([batch], 10 * 60);
    // Touched after 7 h: the back at 430 the same day; again a day after each. Side by side: four days.
    expect(shown(plan)).toEqual([
      "paint 1 front 0 nothing",
      "paint 1 back 430 touch",
      `paint 2 front ${DAY + 10} flash`,
      `paint 2 back ${DAY + 440} touch`,
    ]);
    expect(plan.hardMin).toBe(DAY + 450 + 168 * 60);
  });
});

describe("any finish", () => {
  const drying: fc.Arbitrary<Drying> = fc.record({
    flash: fc.integer({ min: 0, max: 30 }),
    recoat: fc.option(
      fc.record({
        within: fc.integer({ min: 30, max: 240 }),
        after: fc.integer({ min: 241, max: 3000 }),
      }),
      { nil: null },
    ),
    handle: fc.integer({ min: 0, max: 600 }),
    cureHours: fc.option(fc.integer({ min: 0, max: 100 }), { nil: null }),
  });
  const step = fc.record({
    drying,
    count: fc.integer({ min: 1, max: 3 }),
    both: fc.boolean(),
    minutes: fc.integer({ min: 0, max: 500 }),
    touch: fc.boolean(),
  });

  it("is planned so that no coat comes too early, in the forbidden time, or at night", () => {
    let judged = 0;
    const steps = fc.array(step, { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(steps, fc.integer({ min: 60, max: 720 }), (drawn, openMin) => {
        const todo = drawn.flatMap(
          ({ drying: dries, count, both, minutes, touch }, index): ToDo[] => [
            {
              kind: "batch",
              front: coats(`s${index}`, count, "front", dries, minutes),
              back: both ? coats(`s${index}`, count, "back", dries, minutes) : [],
            },
            ...(touch ? [{ kind: "touch", step: `t${index}` } as const] : []),
          ],
        );
        const plan = planDrying(todo, openMin);
        const all = todo.flatMap((one) =>
          one.kind === "batch" ? [...one.front, ...one.back] : [],
        );
        const placed = plan.planned.filter(({ coat }) => coat !== null);
        expect(placed).toHaveLength(all.length);
        expect(faultsOf(plan, all, openMin)).toEqual([]);
        expect(plan.hardMin).toBeGreaterThanOrEqual(plan.touchMin);
        judged += placed.length;
      }),
      { numRuns: 300, seed: 41 },
    );
    expect(judged).toBeGreaterThan(1500);
  });
});

/** A plan judged step by step, by nothing but the times of its coats. */
function faultsOf(plan: DryingPlan, all: readonly CoatToDo[], openMin: number): readonly string[] {
  const faults: string[] = [];
  const hold = (isSo: boolean, what: string): void => {
    if (!isSo) faults.push(what);
  };
  const last = new Map<Side, { end: number; drying: Drying }>();
  const touchable = (): number =>
    Math.max(0, ...[...last.values()].map(({ end, drying }) => end + drying.handle));
  let [free, up] = [0, null as Side | null];
  for (const { step, coat, begin } of plan.planned) {
    hold(begin >= free, `${step} begun while at work`);
    const its = all.find(
      (one) => one.step === step && one.coat === coat?.coat && one.where === coat.where,
    );
    const turned = its !== undefined && up !== null && up !== its.side;
    hold((its !== undefined && !turned) || begin >= touchable(), `${step} touched wet`);
    free = begin;
    if (its === undefined) continue;
    hold((begin % DAY) + Math.min(its.minutes, openMin) <= openMin + 1e-6, `${step} at night`);
    const below = last.get(its.side);
    const waited = begin - (below?.end ?? -Infinity);
    const { within = Infinity, after = 0 } = below?.drying.recoat ?? {};
    hold(waited >= (below?.drying.flash ?? 0), `${step} before it has flashed off`);
    hold(waited <= within || waited >= after, `${step} in the forbidden time`);
    free = endOf(begin, its.minutes, openMin);
    last.set(its.side, { end: free, drying: its.drying });
    up = its.side;
  }
  hold(plan.touchMin >= touchable(), "said to be dry while wet");
  return faults;
}

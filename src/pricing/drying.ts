import type { FinishRow, Part } from "../job/types.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Place, Problem } from "../problem.ts";
import { isCoat, paintOf, stepId, stepsOf } from "./coated-area.ts";
import { planDrying } from "./drying-plan.ts";
import type { CoatToDo, DryingPlan, Late, Side, ToDo } from "./drying-plan.ts";
import { distinct } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { madeId, partId } from "./parts.ts";
import { placesUnder } from "./places-under.ts";
import type { PricingInput } from "./types.ts";

/** When the finishes of a job are dry: each by itself, begun on the first morning of painting. */

export interface FinishDrying extends DryingPlan {
  readonly finish: string;
  /** Every row and drawing that it depends on. */
  readonly from: readonly Place[];
}

/** Those whose paints say how they dry; of others a remark is left. */
export function dryings(ledger: Ledger, input: PricingInput, day: WorkingDay): FinishDrying[] {
  const finishes = [...new Set(input.parts.flatMap(({ part }) => part.finish ?? []))];
  const pace = sprayPace(ledger);
  const silent: Problem[] = [];
  const plans = finishes.flatMap((finish) => {
    const steps = stepsOf(input, finish);
    const coats = steps.filter((step) => isCoat(step, input));
    const unknown = coats.filter((step) => dryingOf(step, input) === null);
    silent.push(...unknown.flatMap((step) => notKnown(step, input)));
    if (unknown.length > 0 || coats.length === 0) return [];
    return [planOf({ ledger, input, finish, pace, day }, steps)];
  });
  const late = plans.flatMap(({ finish, late: its }) =>
    its.map((one) => tooLate(one, finish, input)),
  );
  ledger.remarks.push(...once(silent), ...once(late));
  return plans;
}

export interface WorkingDay {
  readonly openMin: number;
  /** Id of its hours. */
  readonly figure: string;
}

interface Subject {
  readonly ledger: Ledger;
  readonly input: PricingInput;
  readonly finish: string;
  readonly pace: Pace;
  readonly day: WorkingDay;
}

function planOf(subject: Subject, steps: readonly FinishRow[]): FinishDrying {
  const { input, ledger, finish, day, pace } = subject;
  const parts = input.parts.map(({ part }) => part).filter((part) => part.finish === finish);
  const plan = planDrying(todoOf(subject, steps, parts), day.openMin);
  const coats = steps.filter((step) => isCoat(step, input));
  const ids = [day.figure, ...pace.figures, ...coats.map((step) => `${stepId(step)}.area`)];
  const paints = coats.flatMap((step) => paintOf(step, input)?.place ?? []);
  const rows = [...steps.map(({ place }) => place), ...paints];
  return { ...plan, finish, from: distinct([...rows, ...placesUnder(ledger.sheet, ids)]) };
}

/** Steps with paint that follow each other make a batch; any other step touches the parts. */
function todoOf(
  subject: Subject,
  steps: readonly FinishRow[],
  parts: readonly Part[],
): readonly ToDo[] {
  return steps.reduce<readonly ToDo[]>((done, step) => {
    const drying = dryingOf(step, subject.input);
    if (drying === null) return [...done, { kind: "touch", step: step.step }];
    const last = done.at(-1);
    const batch = last?.kind === "batch" ? last : { front: [], back: [] };
    const coats = (side: Side): readonly CoatToDo[] =>
      Array.from({ length: step.coats }, (_, index) => ({
        step: step.step,
        coat: index + 1,
        of: step.coats,
        side,
        where: whereOf(step, side),
        minutes: subject.pace.minPerM2 * sideArea(subject.ledger, step, parts, side),
        drying,
      }));
    const back = step.faces === "both" ? coats("back") : [];
    return [
      ...(last?.kind === "batch" ? done.slice(0, -1) : done),
      { kind: "batch", front: [...batch.front, ...coats("front")], back: [...batch.back, ...back] },
    ];
  }, []);
}

function whereOf({ faces, edges }: FinishRow, side: Side): string {
  if (side === "back") return "back";
  if (faces === "none") return "edges";
  return edges ? "front and edges" : "front";
}

function dryingOf(step: FinishRow, input: PricingInput) {
  const row = paintOf(step, input);
  return row?.kind === "paint" ? row.drying : null;
}

/** m2 of one coat on one side of all copies; edges go with the front. */
function sideArea(
  ledger: Ledger,
  { faces, edges }: FinishRow,
  parts: readonly Part[],
  side: Side,
): number {
  const value = (id: string): number => ledger.sheet.value(id).toNumber();
  return parts.reduce((sum, { name }) => {
    const face = faces === "none" ? 0 : value(partId(name, "face"));
    const edge = edges && side === "front" ? value(partId(name, "edge")) : 0;
    return sum + (face + edge) * value(madeId(ledger, name));
  }, 0);
}

/** How long a square metre of coat takes, over all hand work that is counted by it. */
interface Pace {
  readonly minPerM2: number;
  readonly figures: readonly string[];
}

function sprayPace({ sheet, making }: Ledger): Pace {
  const tasks = making.tasks.filter(({ basis }) => basis === "coat m2");
  const total = (ids: readonly string[]): number =>
    ids.reduce((sum, id) => sum + sheet.value(id).toNumber(), 0);
  const paces = [...new Set(tasks.map(({ task }) => task))].map((task) => {
    const its = tasks.filter((one) => one.task === task);
    const minutes = its.map(({ figure }) => figure);
    const areas = its.flatMap(({ count }) => count ?? []);
    const area = total(areas);
    return { minPerM2: area === 0 ? 0 : total(minutes) / area, figures: [...minutes, ...areas] };
  });
  return {
    minPerM2: paces.reduce((sum, one) => sum + one.minPerM2, 0),
    figures: paces.flatMap(({ figures }) => figures),
  };
}

function notKnown(step: FinishRow, input: PricingInput): readonly Problem[] {
  const row = paintOf(step, input);
  if (row === null) return [];
  return [
    warningAt(inColumn(row.place, "flash_minutes"), {
      code: "drying-not-known",
      found: "",
      expected: `how ${row.id} dries, for the calendar of ${step.id}`,
      mend: "Fill in flash_minutes and handle_minutes from the can: the lead time has no drying of it",
    }),
  ];
}

function tooLate(
  { step, below, afterMin, recoat }: Late,
  finish: string,
  input: PricingInput,
): Problem {
  const row = stepsOf(input, finish).find((one) => one.step === step);
  const place = row?.place ?? { file: "finishes.csv", line: null, column: null };
  const minutes = Math.round(afterMin);
  return warningAt(inColumn(place, "paint"), {
    code: "recoat-missed",
    found: `${step} ${minutes} min after ${below}`,
    expected: `within ${recoat.within} min or after ${recoat.after} min, or the coat below wrinkles; the calendar waits`,
    mend: "Paint fewer parts at a time, or plan the days that the maker's sheet has for it",
  });
}

/** A paint that is used by several steps is told of once. */
function once(problems: readonly Problem[]): readonly Problem[] {
  const told = new Map(problems.map((one) => [`${one.file}\n${one.line}`, one]));
  return [...told.values()];
}

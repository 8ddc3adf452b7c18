import { rollForLast } from "../mix-roll.ts";
import { keep, type NestJob } from "../nest-job.ts";
import { copiesOf } from "../size.ts";
import { bestOf, judged, type Tried } from "../tried.ts";
import { rectanglesOnRoll } from "./on-roll.ts";
import { advanced, type RectangleSearch } from "./searches.ts";

/**
 * Each search goes on for its share of the looks: half of them go to all sheets together, the rest to
 * the sizes that may still win. Yields copies seen to.
 *
 * @param step rounds before this one.
 */
export function* roundOfRectangles(
  job: NestJob,
  searches: readonly RectangleSearch[],
  step: number,
): Generator<number, void, void> {
  const looks = (step === 0 ? LOOKS_OF_FIRST : LOOKS_OF_ROUND) / job.stocks;
  const each = copiesOf(job.outlines.map(({ piece }) => piece));
  const together = searches.length > job.bought ? SHARE_TOGETHER : 0;
  for (const [number, search] of searches.entries()) {
    const seen = Math.min(number, job.bought) * each;
    yield seen;
    const best = bestOf(job.tried, job.mix);
    if (number < job.bought && isToRest(job, number, best)) continue;
    const share =
      number < job.bought ? (1 - together) / job.bought : together / (searches.length - job.bought);
    const work = advanced(search, job.outlines, looks * share);
    let turn = work.next();
    for (; turn.done !== true; turn = work.next()) yield seen;
    if (turn.value === null) continue;
    const found = judged(job, turn.value);
    if (number >= job.tried.length && number < job.bought) job.tried = [...job.tried, found];
    else keep(job, found);
  }
  const rolled = rollForLast(job, rectanglesOnRoll(job.outlines, step));
  let turn = rolled.next();
  for (; turn.done !== true; turn = rolled.next()) yield (job.bought + 1) * each - 1;
  if (turn.value !== null) keep(job, turn.value);
}

/** Of all searches in all stocks: a tenth of a second, then half of one. */
const LOOKS_OF_FIRST = 8_000_000;
const LOOKS_OF_ROUND = 40_000_000;
const SHARE_TOGETHER = 0.5;

/** A size tried before that certainly costs more than the best. */
function isToRest({ tried, bounds }: NestJob, number: number, best: Tried | null): boolean {
  if (number >= tried.length || best === null || best.leftOver > 0) return false;
  return best !== tried[number] && bounds[number]!.gte(best.nest.sheetCost);
}

import { randomFrom } from "../../dist/random.js";

/**
 * A second way to a short tour, which shares nothing with the one that is measured: simulated
 * annealing that moves runs of stops, turns them round, and changes entrances (S. Kirkpatrick,
 * C. Gelatt, M. Vecchi, "Optimization by simulated annealing", Science 220, 1983). From and to 0,0.
 * @returns the length of the shortest tour met, mm.
 */
export function annealed(stops, tour, moves, seed) {
  const random = randomFrom(seed);
  const upTo = (count) => Math.floor(random() * count);
  const home = { enter: { x: 0, y: 0 }, leave: { x: 0, y: 0 } };
  const order = tour.map(({ stop, entrance }) => ({ stop, way: stops[stop].entrances[entrance] }));
  const place = new Int32Array(stops.length);
  order.forEach(({ stop }, at) => (place[stop] = at));
  const after = stops.map(() => []);
  stops.forEach(({ before }, stop) => before.forEach((one) => after[one].push(stop)));
  const near = stops.map((stop) => nearest(stop, stops));
  const way = (at) => (at < 0 || at >= order.length ? home : order[at].way);
  let length = 0;
  for (let at = 0; at <= order.length; at += 1) length += apart(way(at - 1), way(at));
  let best = length;
  const hot = length / stops.length;

  for (let move = 0; move < moves; move += 1) {
    const heat = hot * (1 - move / moves) ** 3;
    const allowed = -heat * Math.log(1 - random());
    const roll = random();
    const change = roll < 0.3 ? reenter() : roll < 0.5 ? turnRound() : moveRun();
    if (change === null || change.mm > allowed) continue;
    change.make();
    length += change.mm;
    best = Math.min(best, length);
  }
  return best;

  function reenter() {
    const at = upTo(order.length);
    const { entrances } = stops[order[at].stop];
    const other = entrances[upTo(entrances.length)];
    const mm =
      apart(way(at - 1), other) +
      apart(other, way(at + 1)) -
      apart(way(at - 1), way(at)) -
      apart(way(at), way(at + 1));
    return { mm, make: () => (order[at] = { ...order[at], way: other }) };
  }

  function turnRound() {
    const first = upTo(order.length - 1);
    const last = Math.min(order.length - 1, first + 1 + upTo(30));
    const run = order.slice(first, last + 1);
    const waits = run.some(({ stop }) => stops[stop].before.some((one) => place[one] >= first));
    if (waits || run.some(({ way: { enter, leave } }) => enter !== leave)) return null;
    const mm =
      apart(way(first - 1), way(last)) +
      apart(way(first), way(last + 1)) -
      apart(way(first - 1), way(first)) -
      apart(way(last), way(last + 1));
    return { mm, make: () => put(first, run.toReversed()) };
  }

  /** To beside a stop near one of its ends. */
  function moveRun() {
    const first = upTo(order.length);
    const last = Math.min(order.length - 1, first + upTo(12));
    const { stop } = order[first];
    const beside = place[near[stop][upTo(near[stop].length)]];
    const target = beside + upTo(2);
    if (target >= first && target <= last + 1) return null;
    const run = order.slice(first, last + 1);
    const [low, high] = target < first ? [target, first - 1] : [last + 1, target - 1];
    const blocked = run.some(({ stop }) =>
      (target < first ? stops[stop].before : after[stop]).some(
        (one) => place[one] >= low && place[one] <= high,
      ),
    );
    if (blocked) return null;
    const mm =
      apart(way(first - 1), way(last + 1)) -
      apart(way(first - 1), way(first)) -
      apart(way(last), way(last + 1)) +
      apart(way(target - 1), way(first)) +
      apart(way(last), way(target)) -
      apart(way(target - 1), way(target));
    const over = order.slice(low, high + 1);
    return {
      mm,
      make: () => put(Math.min(first, low), target < first ? [...run, ...over] : [...over, ...run]),
    };
  }

  function put(first, run) {
    run.forEach((one, index) => {
      order[first + index] = one;
      place[one.stop] = first + index;
    });
  }
}

function apart({ leave }, { enter }) {
  return Math.sqrt((leave.x - enter.x) ** 2 + (leave.y - enter.y) ** 2);
}

const NEAREST = 10;

function nearest(own, stops) {
  const mm = ({ entrances }) =>
    Math.min(...own.entrances.flatMap((one) => entrances.map((other) => apart(one, other))));
  return stops
    .flatMap((other, stop) => (other === own ? [] : [{ stop, mm: mm(other) }]))
    .sort((a, b) => a.mm - b.mm)
    .slice(0, NEAREST)
    .map(({ stop }) => stop);
}

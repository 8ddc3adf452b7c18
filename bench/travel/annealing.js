import { randomFrom } from "../../dist/random.js";

/**
 * A second way to a short tour, which shares nothing with the one that is measured: simulated
 * annealing that moves runs of stops, turns them round, and changes entrances (S. Kirkpatrick,
 * C. Gelatt, M. Vecchi, "Optimization by simulated annealing", Science 220, 1983). From and to 0,0.
 * @returns the length of the shortest tour met, mm.
 */
export function annealed(stops, tour, moves, seed) {
  const random = randomFrom(seed);
  const annealing = new Annealing(stops, tour, random);
  let length = annealing.length();
  let best = length;
  const hot = length / stops.length;
  for (let move = 0; move < moves; move += 1) {
    const allowed = -hot * (1 - move / moves) ** 3 * Math.log(1 - random());
    const change = annealing.change();
    if (change === null || change.mm > allowed) continue;
    change.make();
    length += change.mm;
    best = Math.min(best, length);
  }
  return best;
}

const HOME = { enter: { x: 0, y: 0 }, leave: { x: 0, y: 0 } };
const LONGEST_TURNED = 30;
const LONGEST_MOVED = 12;
const NEAREST = 10;

class Annealing {
  constructor(stops, tour, random) {
    this.stops = stops;
    this.random = random;
    this.order = tour.map(({ stop, entrance }) => ({ stop, way: stops[stop].entrances[entrance] }));
    this.place = new Int32Array(stops.length);
    for (const [at, { stop }] of this.order.entries()) this.place[stop] = at;
    this.after = stops.map(() => []);
    for (const [stop, { before }] of stops.entries())
      for (const one of before) this.after[one].push(stop);
    this.near = stops.map((stop) => nearest(stop, stops));
  }

  length() {
    let sum = 0;
    for (let at = 0; at <= this.order.length; at += 1) sum += this.step(at);
    return sum;
  }

  /** Something to try, with how much longer it makes the tour; null where it may not be. */
  change() {
    const roll = this.random();
    if (roll < 0.3) return this.reenter();
    return roll < 0.5 ? this.turnRound() : this.moveRun();
  }

  reenter() {
    const at = this.upTo(this.order.length);
    const { entrances } = this.stops[this.order[at].stop];
    const way = entrances[this.upTo(entrances.length)];
    const now = this.step(at) + this.step(at + 1);
    const mm = apart(this.way(at - 1), way) + apart(way, this.way(at + 1)) - now;
    return { mm, make: () => (this.order[at] = { ...this.order[at], way }) };
  }

  turnRound() {
    const first = this.upTo(this.order.length - 1);
    const last = Math.min(this.order.length - 1, first + 1 + this.upTo(LONGEST_TURNED));
    const run = this.order.slice(first, last + 1);
    const waits = ({ stop }) => this.stops[stop].before.some((one) => this.place[one] >= first);
    if (run.some(waits) || run.some(({ way }) => way.enter !== way.leave)) return null;
    const now = this.step(first) + this.step(last + 1);
    const mm =
      apart(this.way(first - 1), this.way(last)) + apart(this.way(first), this.way(last + 1)) - now;
    return { mm, make: () => this.put(first, run.toReversed()) };
  }

  /** To beside a stop near one of its ends. */
  moveRun() {
    const first = this.upTo(this.order.length);
    const last = Math.min(this.order.length - 1, first + this.upTo(LONGEST_MOVED));
    const near = this.near[this.order[first].stop];
    const target = this.place[near[this.upTo(near.length)]] + this.upTo(2);
    if (target >= first && target <= last + 1) return null;
    const run = this.order.slice(first, last + 1);
    const isBack = target < first;
    const [low, high] = isBack ? [target, first - 1] : [last + 1, target - 1];
    const waits = ({ stop }) =>
      (isBack ? this.stops[stop].before : this.after[stop]).some(
        (one) => this.place[one] >= low && this.place[one] <= high,
      );
    if (run.some(waits)) return null;
    const now = this.step(first) + this.step(last + 1) + this.step(target);
    const mm =
      apart(this.way(first - 1), this.way(last + 1)) +
      apart(this.way(target - 1), this.way(first)) +
      apart(this.way(last), this.way(target)) -
      now;
    const over = this.order.slice(low, high + 1);
    const all = isBack ? [...run, ...over] : [...over, ...run];
    return { mm, make: () => this.put(Math.min(first, low), all) };
  }

  put(first, run) {
    for (const [index, one] of run.entries()) {
      this.order[first + index] = one;
      this.place[one.stop] = first + index;
    }
  }

  way(at) {
    return at < 0 || at >= this.order.length ? HOME : this.order[at].way;
  }

  /** From the stop before to a stop. */
  step(at) {
    return apart(this.way(at - 1), this.way(at));
  }

  upTo(count) {
    return Math.floor(this.random() * count);
  }
}

function apart({ leave }, { enter }) {
  return Math.sqrt((leave.x - enter.x) ** 2 + (leave.y - enter.y) ** 2);
}

function nearest(own, stops) {
  const mm = ({ entrances }) =>
    Math.min(...own.entrances.flatMap((one) => entrances.map((other) => apart(one, other))));
  return stops
    .flatMap((other, stop) => (other === own ? [] : [{ stop, mm: mm(other) }]))
    .sort((a, b) => a.mm - b.mm)
    .slice(0, NEAREST)
    .map(({ stop }) => stop);
}

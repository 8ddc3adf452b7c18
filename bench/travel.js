import { heading, say } from "./drawings/print.js";
import { annealed } from "./travel/annealing.js";
import { generatedSheet, KINDS } from "./travel/sheets.js";
import { cutStops } from "../dist/machine/stops.js";
import { leastTravel, shortTour, tourLength } from "../dist/machine/tour.js";

/**
 * How near the travel over generated sheets is to the shortest: against strong tours found with many
 * times the effort, from several seeds and by a second method, and against what no tour can go below.
 * Everything is measured in this run; seconds are those of the processor. Exits 1 where a tour is more than 10 % longer than the strong
 * one, takes a second, or is shorter than the bound.
 *
 *   npm run bench:travel            30 times the effort
 *   npm run bench:travel -- 200     200 times
 */

const HOME = { x: 0, y: 0 };
const SIZES = [20, 100, 300, 1000];
const SHEETS = 3;
const MOST_LONGER = 1.1;
const MOST_SECONDS = 1;
const ROUNDS_EACH = 20;
const ANNEALED_EACH = 1000;

const effort = Number(process.argv[2] ?? 30);
heading(
  `Travel over ${SHEETS} sheets of each kind and size, mm; strong: the shortest of ours, of ${effort} times the effort and of a second method`,
);
say("contours  sheets    nearest first     ours   second   strong  longer  worst  bound  seconds");
const wrong = SIZES.flatMap((size) => KINDS.flatMap((kind) => measured(size, kind)));
if (wrong.length > 0) {
  for (const one of wrong) say(one);
  process.exitCode = 1;
}

function measured(size, kind) {
  const sheets = Array.from({ length: size < 1000 ? SHEETS : 1 }, (_, seed) =>
    oneSheet(size, kind, seed + 1),
  );
  const sum = (of) => sheets.reduce((total, one) => total + of(one), 0);
  const longer = sheets.map(({ own, strong }) => own / strong);
  const worst = Math.max(...longer);
  const seconds = Math.max(...sheets.map((one) => one.seconds));
  const [own, strong, bound] = [
    sum((one) => one.own),
    sum((one) => one.strong),
    sum((one) => one.bound),
  ];
  say(
    [
      String(size).padStart(8),
      kind.padEnd(8),
      sum((one) => one.nearest)
        .toFixed(0)
        .padStart(14),
      own.toFixed(0).padStart(8),
      sum((one) => one.second)
        .toFixed(0)
        .padStart(8),
      strong.toFixed(0).padStart(8),
      percent(own / strong - 1).padStart(7),
      percent(worst - 1).padStart(6),
      percent(bound / own).padStart(6),
      seconds.toFixed(2).padStart(8),
    ].join(" "),
  );
  return [
    ...(worst > MOST_LONGER ? [`${size} ${kind}: more than 10 % longer than the strong tour`] : []),
    ...(seconds > MOST_SECONDS ? [`${size} ${kind}: took longer than a second`] : []),
    ...(sheets.some(({ strong, bound }) => strong < bound)
      ? [`${size} ${kind}: a tour below the bound`]
      : []),
  ];
}

function oneSheet(size, kind, seed) {
  const lines = generatedSheet(kind, size, seed);
  const begun = process.cpuUsage();
  const stops = cutStops(lines, "twice");
  const tour = shortTour(stops, HOME, HOME);
  const { user, system } = process.cpuUsage(begun);
  const seconds = (user + system) / 1e6;
  const own = tourLength(stops, tour, HOME, HOME);
  const start = shortTour(stops, HOME, HOME, { rounds: 0, seed: 1 });
  const nearest = tourLength(stops, start, HOME, HOME);
  const rounds = effort * Math.max(1000, ROUNDS_EACH * size);
  const second = annealed(stops, start, effort * ANNEALED_EACH * size, seed);
  const strong = Math.min(
    own,
    second,
    ...[2, 3].map((other) =>
      tourLength(stops, shortTour(stops, HOME, HOME, { rounds, seed: other }), HOME, HOME),
    ),
  );
  return { own, nearest, second, strong, seconds, bound: leastTravel([stops], HOME, strong) };
}

function percent(share) {
  return `${(100 * share).toFixed(1)} %`;
}

import type {
  Estimate,
  FigureRecord,
  FinishMade,
  FixingUsed,
  LengthSawn,
  SawnBars,
  TaskDone,
} from "../estimate-data.ts";
import type { Operation } from "../job/types.ts";
import type { CautionTopic } from "../machine/types.ts";
import { capital, counted } from "../names.ts";
import { coatText } from "../pricing/coats.ts";
import { clockText, lengthText, sizeText, stockName, trimmed } from "../units.ts";
import { numberedSheets, outerSize } from "./cut-list-csv.ts";
import type { NumberedSheet } from "./cut-list-csv.ts";
import { leftText, shelfText } from "./bar-words.ts";
import { calendarLines, DRYING_CAUTION, timesText } from "./drying-words.ts";
import { layoutName } from "./layout-name.ts";
import { keptTexts } from "./leftover-words.ts";
import { PAGE_WIDTH } from "./pages.ts";
import type { Block } from "./pages.ts";
import { wrapped } from "./wrap.ts";

/** The work of a job in the order in which a bench does it. */

export const BOX = "[ ] ";

type Items = Block["items"];

interface Step {
  readonly title: string;
  /** Cautions that are read before it; a topic of a later step as well is only named there. */
  readonly topics: readonly CautionTopic[];
  readonly isIts: (task: TaskDone) => boolean;
  /** What is made, beside the tasks. */
  readonly made: (bench: Bench) => Items;
  /** Tasks that come before what is made; the others follow it. */
  readonly isFirst?: (task: TaskDone) => boolean;
}

/** The estimate with its figures by id. */
interface Bench {
  readonly estimate: Estimate;
  readonly figure: (id: string) => FigureRecord;
}

/** A task belongs to the first step that takes it. */
const STEPS: readonly Step[] = [
  {
    title: "Prepare",
    topics: [],
    isIts: ({ section }) => section === "Design and preparation",
    made: () => [],
  },
  {
    title: "Cut the sheets",
    topics: ["laser", "fume"],
    isIts: ({ section, basis }) =>
      basis === "sheet" || section === "Materials" || section === "Cutting",
    made: (bench) => numberedSheets(bench.estimate.stocks).map((sheet) => sheetLines(sheet, bench)),
  },
  {
    title: "Saw the lengths",
    topics: ["sawing"],
    isIts: ({ basis }) => basis === "saw cut",
    made: (bench) => [
      ...bench.estimate.making.lengths.map((length) => lengthLines(length, bench)),
      ...bench.estimate.bars.flatMap(barItems),
    ],
  },
  {
    title: "Edges and holes",
    topics: ["drilling"],
    isIts: ({ section, basis, hazard }) =>
      section === "Making and assembly" &&
      (basis === "part" || basis === "hole" || hazard === "drilling"),
    made: () => [],
  },
  {
    title: "Sand, scuff and paint",
    topics: ["sanding", "spray", "solvent"],
    isIts: ({ section }) => section === "Finishing",
    isFirst: ({ basis }) => basis !== "coat m2",
    made: ({ estimate }) => finishItems(estimate),
  },
  {
    title: "Fit and assemble",
    topics: ["solvent", "mains"],
    isIts: ({ section }) => section !== "Delivery",
    made: (bench) => fixingItems(bench),
  },
  { title: "Pack", topics: [], isIts: () => true, made: () => [] },
];

/** Steps with nothing to do are left out; cautions that no step takes come first. */
export function benchSteps(estimate: Estimate): readonly Block[] {
  const byId = new Map(estimate.figures.map((figure) => [figure.id, figure]));
  const figure = (id: string): FigureRecord => {
    const found = byId.get(id);
    if (!found) throw new RangeError(`there is no figure "${id}"`);
    return found;
  };
  const bench = { estimate, figure };
  const worked = STEPS.map((step) => ({ step, work: workItems(step, bench) })).filter(
    ({ work }) => work.length > 0,
  );
  const told = new Set<CautionTopic>();
  const blocks = worked.map(({ step, work }, index) => ({
    title: `${index + 1} ${step.title}`,
    items: [...cautionItems(step.topics, told, estimate), ...work],
  }));
  const others = estimate.cautions.map(({ topic }) => topic).filter((topic) => !told.has(topic));
  return [{ title: "Mind", items: cautionItems(others, told, estimate) }, ...blocks];
}

function workItems(step: Step, bench: Bench): Items {
  const tasks = bench.estimate.making.tasks.filter(
    (task) => STEPS.find(({ isIts }) => isIts(task)) === step,
  );
  const isFirst = step.isFirst ?? (() => false);
  const lines = (some: readonly TaskDone[]): Items => some.map((task) => taskLines(task, bench));
  return [
    ...lines(tasks.filter(isFirst)),
    ...step.made(bench),
    ...lines(tasks.filter((task) => !isFirst(task))),
  ];
}

/** In full the first time, then by name. */
function cautionItems(
  topics: readonly CautionTopic[],
  told: Set<CautionTopic>,
  { cautions }: Estimate,
): Items {
  const distinct = [...new Set(topics)];
  const items = distinct.flatMap((topic) => {
    const its = cautions.filter((caution) => caution.topic === topic);
    if (its.length === 0) return [];
    if (told.has(topic)) return [wrapped(`${topic}: as above`, PAGE_WIDTH, "! ")];
    return its.map(({ text, because }) =>
      wrapped(`${topic}: ${text} (${because})`, PAGE_WIDTH, "! "),
    );
  });
  for (const topic of distinct) told.add(topic);
  return items;
}

function sheetLines(
  { number, stock, sheet, index }: NumberedSheet,
  bench: Bench,
): readonly string[] {
  const time = stock.times[index];
  const size = sizeText(sheet.widthMm, sheet.heightMm);
  const head = `${layoutName(number, sheet.sheet)}: ${stockName(stock)}, ${size}`;
  const operations = (time?.operations ?? []).map(
    ({ operation, lengthMm, contours, passes, workingS, pierceS }) =>
      `${operation} ${trimmed(lengthMm / 1000, 2)} m in ${counted(contours, "contour")}, ${counted(passes, "pass", "passes")}${settingText(stock, operation)}, ${clockText(workingS + pierceS)}`,
  );
  const travel = time
    ? [
        `travel ${trimmed(time.travelMm / 1000, 2)} m, ${clockText(time.travelS)}; machine ${clockText(time.runningS)} in all`,
      ]
    : [];
  const lying = bench.estimate.parts.flatMap((part) => {
    const count = sheet.placements.filter((one) => one.part === part.name).length;
    return count === 0 ? [] : [`${count} x ${part.name}, ${outerSize(part)}`];
  });
  return [
    ...wrapped(head, PAGE_WIDTH, BOX),
    ...[...operations, ...travel, ...lying].flatMap((text) => wrapped(text, PAGE_WIDTH, "      ")),
    ...keptTexts(stock, index, bench).flatMap((text) => wrapped(text, PAGE_WIDTH, `      ${BOX}`)),
  ];
}

/** ` at 12.5 mm/s, power 65-75 %`. */
function settingText({ feeds }: NumberedSheet["stock"], operation: Operation): string {
  const feed = feeds.find((one) => one.operation === operation);
  if (feed === undefined) return "";
  const power = feed.power === "" ? "" : `, power ${feed.power}`;
  return ` at ${trimmed(feed.feedMmS.likely, 2)} mm/s${power}`;
}

function lengthLines(
  { name, lengthMm, note, figure }: LengthSawn,
  bench: Bench,
): readonly string[] {
  const text = `${bench.figure(figure).value} x ${name}, ${lengthText(lengthMm)}`;
  return wrapped(`In all ${text}${noted(note)}`, PAGE_WIDTH, "    ");
}

function barItems({ description, bars }: SawnBars): Items {
  return bars.map((bar, index) => {
    const cuts = bar.pieces.map(({ name, lengthMm }) => `${name} ${lengthText(lengthMm)}`);
    const counts = [...new Set(cuts)].map(
      (cut) => `${cuts.filter((one) => one === cut).length} x ${cut}`,
    );
    const size = `${lengthText(bar.barMm)}${shelfText(bar)}`;
    const head = `bar ${index + 1} of ${bars.length}, ${description}, ${size}`;
    const left = leftText(bar);
    const text = `${head}: ${counts.join(", ")}${left === "" ? "" : `; ${left}`}`;
    return wrapped(text, PAGE_WIDTH, BOX);
  });
}

function finishItems(estimate: Estimate): Items {
  const { finishes } = estimate.making;
  const dries = finishes.some(({ steps }) => steps.some(({ drying }) => drying !== null));
  return [
    ...(dries ? [wrapped(DRYING_CAUTION, PAGE_WIDTH, "! ")] : []),
    ...finishes.map((finish) => finishLines(finish, estimate)),
  ];
}

/** A box for each coat. */
function finishLines(
  { finish, steps, calendar }: FinishMade,
  { parts }: Estimate,
): readonly string[] {
  const its = parts.filter((part) => part.finish === finish);
  const copies = its.map(({ copies: count, name }) => `${count} x ${name}`).join(", ");
  const most = Math.max(0, ...steps.map(({ coats }) => coats));
  return [
    ...wrapped(`${finish}: ${copies}`, PAGE_WIDTH, "    "),
    ...steps.flatMap((step) => {
      const boxes = BOX.repeat(step.coats).padStart(BOX.length * most);
      const facts = [
        coatText(step),
        ...(step.description === "" ? [] : [step.description]),
        ...(step.drying === null ? [] : [timesText(step.drying)]),
      ];
      return wrapped(`${step.step}: ${facts.join("; ")}`, PAGE_WIDTH, `    ${boxes}`);
    }),
    ...calendarLines(calendar),
  ];
}

/** Each item with its number in one piece, and below it those of the order as a whole. */
function fixingItems(bench: Bench): Items {
  const { making, pieces, pieceName } = bench.estimate;
  const inPieces = making.fixings.filter(({ eachPiece }) => eachPiece !== null);
  const others = making.fixings.filter(({ eachPiece }) => eachPiece === null);
  const headed = (head: string, uses: readonly FixingUsed[]): Items =>
    uses.map((use, index) => [
      ...(index === 0 ? wrapped(head, PAGE_WIDTH, "    ") : []),
      ...fixingLines(use, bench),
    ]);
  return [
    ...headed(`For one ${pieceName}, and in brackets for all ${pieces}:`, inPieces),
    ...headed("For the order as a whole:", others),
  ];
}

function fixingLines(use: FixingUsed, bench: Bench): readonly string[] {
  const { value, unit } = bench.figure(use.figure);
  const all = trimmed(Number(value), 3);
  const number = use.eachPiece === null ? all : `${trimmed(Number(use.eachPiece), 3)} (${all})`;
  const count = unit === "ml" ? `${number} ml of` : `${number} x`;
  const where = placeWords(use);
  return wrapped(
    `${count} ${use.description}${where === "" ? "" : `: ${where}`}${noted(use.note)}`,
    PAGE_WIDTH,
    BOX,
  );
}

/** `1 for each hole of 5.5 mm in cap-plate`. */
function placeWords({ quantity, per, part, holeDiameterMm, glue }: FixingUsed): string {
  const where = part ?? "every part";
  if (glue !== null)
    return `${quantity} to each ${per === "part" ? where : per}, ${runWords(glue)}`;
  if (per === "part") return `${quantity} for each ${where}`;
  if (per !== "hole") return "";
  const hole = holeDiameterMm === null ? "round hole" : `hole of ${lengthText(holeDiameterMm)}`;
  return `${quantity} for each ${hole} in ${where}`;
}

/** `a bead of 2 mm, 36 mm long`. */
function runWords(glue: NonNullable<FixingUsed["glue"]>): string {
  return glue.kind === "bead"
    ? `a bead of ${lengthText(glue.diameterMm)}, ${lengthText(glue.lengthMm)} long`
    : `a film of ${lengthText(glue.filmMm)} on ${glue.areaCm2} cm2`;
}

function taskLines(task: TaskDone, bench: Bench): readonly string[] {
  const { label, value } = bench.figure(task.figure);
  const facts = [
    ...(task.count === null ? [] : [countWords(task, bench.figure(task.count), bench.estimate)]),
    ...(task.times === 1 ? [] : [`${task.times} times`]),
    `${trimmed(Number(value), 1)} min`,
  ];
  return wrapped(`${capital(label)}: ${facts.join(", ")}${noted(task.note)}`, PAGE_WIDTH, BOX);
}

/** `192 parts`, `12 x way-marker`, `1.42 m2`. */
function countWords({ basis }: TaskDone, { value }: FigureRecord, { pieceName }: Estimate): string {
  if (basis === "piece") return `${value} x ${pieceName}`;
  if (basis === "m2") return `${trimmed(Number(value), 2)} m2`;
  if (basis === "edge m") return `${trimmed(Number(value), 1)} m of edges`;
  if (basis === "coat m2") return `${trimmed(Number(value), 2)} m2 of coats`;
  return counted(value, basis === "saw cut" ? "length" : basis);
}

function noted(note: string): string {
  return note === "" ? "" : ` (${note})`;
}

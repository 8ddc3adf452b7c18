import type { PartGeometry } from "../../src/drawing/types.ts";
import { recordOf } from "../../src/pricing/figure-record.ts";
import type {
  Estimate,
  EstimateInput,
  EstimatedPart,
  QuoteLine,
  TimedStock,
} from "../../src/estimate-data.ts";
import { FigureSheet } from "../../src/figure.ts";
import type { Source } from "../../src/figure.ts";
import { flattenPath } from "../../src/geometry/flatten.ts";
import {
  circlePath,
  pathArea,
  pathLength,
  polylinePath,
  reversePath,
} from "../../src/geometry/path.ts";
import type { Path } from "../../src/geometry/types.ts";
import type { SheetTime } from "../../src/machine/types.ts";
import type { NestedSheet } from "../../src/nesting/types.ts";
import type { Checked, Problem } from "../../src/problem.ts";
import type { Changes } from "../../src/tui/changes.ts";
import type {
  ExportOutcome,
  OpenedJob,
  ProgressListener,
  RunningEstimate,
  SaveOutcome,
  Services,
} from "../../src/tui/services.ts";

/** A small invented job: twelve wings and four caps of acrylic, two engraved bases of plywood each. */

export const LISTED = { wing: 3, cap: 1, base: 2 };
const PIECES = 4;
const PLACE = { file: "parts.csv", line: 2, column: null };
const GIVEN: Source = { kind: "cell", place: PLACE, cited: null };

export function rectangle(width: number, height: number, x = 0, y = 0): Path {
  const corners = [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ] as const;
  return polylinePath([...corners], true);
}

export function geometry(
  part: string,
  outline: Path,
  holes: readonly Path[] = [],
  engravings: readonly Path[] = [],
): PartGeometry {
  const areas = holes.reduce((sum, hole) => sum + Math.abs(pathArea(hole)), 0);
  return {
    part,
    place: PLACE,
    outline,
    holes: holes.map(reversePath),
    scores: [],
    drawnTwice: [],
    engravings,
    region: {
      outer: flattenPath(outline, 0.05),
      holes: holes.map((hole) => flattenPath(reversePath(hole), 0.05)),
    },
    flatteningMm: 0.05,
    areaMm2: pathArea(outline) - areas,
    cutLengthMm: [outline, ...holes].reduce((sum, path) => sum + pathLength(path), 0),
    roundHoles: holes.map(() => ({ diameterMm: 5, centre: { x: 10, y: 10 } })),
  };
}

const GEOMETRY = {
  wing: geometry("wing", rectangle(120, 80), [circlePath({ x: 20, y: 20 }, 10)]),
  cap: geometry("cap", circlePath({ x: 30, y: 30 }, 30)),
  base: geometry("base", rectangle(200, 150), [], [rectangle(100, 20, 50, 60)]),
};

export type FixturePart = keyof typeof LISTED;

export function fixtureEstimate(
  quantities: Readonly<Record<string, number>> = {},
  pieces = PIECES,
): Estimate {
  const each = (name: FixturePart): number => quantities[name] ?? LISTED[name];
  const part = (name: FixturePart, material: string, thicknessMm: number): EstimatedPart => ({
    name,
    material,
    thicknessMm,
    quantity: each(name),
    copies: each(name) * pieces,
    spare: 0,
    finish: name === "wing" ? "heron-grey" : null,
    note: name === "cap" ? "drilled after painting" : "",
    geometry: GEOMETRY[name],
    cut: GEOMETRY[name],
  });
  const parts = [
    part("wing", "acrylic-cast", 3),
    part("cap", "acrylic-cast", 3),
    part("base", "birch-plywood", 5),
  ];
  const acrylic = nested(600, 400, parts.slice(0, 2));
  const plywood = nested(900, 600, parts.slice(2));
  return {
    version: 1,
    jobName: "marsh-test",
    title: "Way-markers for the marsh",
    customer: "Wetland visitor centre",
    reference: "Q-17",
    date: "2026-11-25",
    pieces,
    pieceName: "way-marker",
    currency: { code: "EUR", minorDigits: 2 },
    machine: { id: "laser", description: "own CO2 laser" },
    seed: 1,
    steps: 10,
    parts,
    stocks: [
      stock("acrylic-cast", 3, "acrylic-3-600x400", acrylic),
      stock("birch-plywood", 5, "ply-5-900x600", plywood),
    ],
    ...priced(parts),
    shopping: [],
    bars: [],
    making: { finishes: [], fixings: [], lengths: [], tasks: [] },
    leadTime: null,
    sheetCharge: "whole sheets",
    terms: { maker: [], validUntil: null, stages: [], revisions: null, notIncluded: [] },
    notes: [],
    range: null,
    cautions: [
      {
        topic: "laser",
        text: "Never leave the laser alone while it cuts.",
        because: "the job is cut by laser",
      },
    ],
    warnings: [problem("spare-column", "warning", 1, "glitter")],
    madeFrom: [],
  };
}

/** Rows of copies, sheet after sheet: plain, and without overlap. */
function nested(
  widthMm: number,
  heightMm: number,
  parts: readonly EstimatedPart[],
): readonly NestedSheet[] {
  const sheets: NestedSheet[] = [];
  const pitch = { x: widthMm > 800 ? 210 : 140, y: widthMm > 800 ? 160 : 90 };
  const perRow = Math.floor(widthMm / pitch.x);
  const perSheet = perRow * Math.floor(heightMm / pitch.y);
  const copies = parts.flatMap(({ name, copies }) =>
    Array.from({ length: copies }, (_, index) => ({ part: name, copy: index + 1 })),
  );
  for (let start = 0; start < copies.length; start += perSheet) {
    const placements = copies.slice(start, start + perSheet).map((copy, index) => ({
      ...copy,
      turnDeg: 0,
      mirrored: false,
      xMm: 10 + (index % perRow) * pitch.x,
      yMm: 10 + Math.floor(index / perRow) * pitch.y,
    }));
    sheets.push({ sheet: "", widthMm, heightMm, placements });
  }
  return sheets;
}

function stock(
  material: string,
  thicknessMm: number,
  sheet: string,
  laid: readonly NestedSheet[],
): TimedStock {
  const sheets = laid.map((one) => ({ ...one, sheet }));
  const size = { sheet, widthMm: 600, heightMm: 400, panels: 1 };
  const leftover = { onSheet: 0, xMm: 5, yMm: 200, widthMm: 590, heightMm: 192.5, share: 0.473 };
  const tried = { ...size, sheets: sheets.length, cost: "24", leftover, gapPercent: 20 };
  const used = {
    sheet,
    form: "sheet",
    widthMm: 600,
    heightMm: 400,
    marginMm: 5,
    gapMm: 3,
    offcut: false,
    count: sheets.length,
    panels: 1,
    bought: sheets.length,
    lengthMm: null,
    cost: "24",
  } as const;
  return {
    material,
    thicknessMm,
    sheet,
    used: [used],
    sheets,
    unplaced: [],
    sheetCost: "24",
    costBound: "20.00",
    utilisation: 0.6,
    bySize: [
      { ...tried, utilisation: 0.6, complete: true, chosen: true },
      {
        ...tried,
        sheet: "large-1200x900",
        cost: "41.00",
        leftover: null,
        gapPercent: 105,
        utilisation: 0.3,
        complete: true,
        chosen: false,
      },
      {
        ...tried,
        sheet: "small-200x100",
        cost: "0",
        leftover: null,
        gapPercent: null,
        utilisation: 0,
        complete: false,
        chosen: false,
      },
    ],
    mix: null,
    boughtMix: null,
    leftover: null,
    steps: 10,
    feeds: [],
    times: sheets.map((): SheetTime => ({
      sheet,
      operations: [
        {
          operation: "cut",
          lengthMm: 4321,
          contours: 9,
          passes: 1,
          workingS: 240,
          slowestS: 300,
          fastestS: 200,
          atFullFeedS: 0,
          atHalfFeedS: 0,
          atTwiceFeedS: 0,
          pierceS: 5,
          backMm: 0,
          feed: { file: "feeds.csv", line: 3, column: null },
        },
      ],
      travelMm: 1500,
      leastTravelMm: 0,
      travelS: 10,
      runningS: 255,
      order: [],
    })),
  };
}

function priced(parts: readonly EstimatedPart[]): Pick<Estimate, "figures" | "quote"> {
  const sheet = new FigureSheet();
  for (const { name, quantity, copies } of parts) {
    sheet.given(`part.${name}.each`, `${name} in each piece`, "pcs", quantity, GIVEN);
    sheet.given(`part.${name}.pieces`, "pieces", "pcs", copies / quantity, GIVEN);
    sheet.derived(`part.${name}.copies`, `${name}, copies in all`, "pcs", "product", [
      `part.${name}.each`,
      `part.${name}.pieces`,
    ]);
  }
  sheet.given("cost.materials", "Materials, direct cost", "currency", 48, GIVEN);
  const copies = parts.map(({ name }) => `part.${name}.copies`);
  sheet.derived("cost.cutting", "Cutting, direct cost", "currency", "sum", copies);
  sheet.derived("cost.direct", "direct cost", "currency", "sum", [
    "cost.materials",
    "cost.cutting",
  ]);
  sheet.given("machine.minutes", "machine, minutes in all", "min", 12.75, GIVEN);
  const cost = sheet.value("cost.direct");
  return {
    figures: sheet.figures().map(recordOf),
    quote: [
      line({ line: "1", description: "Acrylic and plywood" }),
      line({
        section: "Cutting",
        line: "2",
        description: "Laser cutting and engraving",
        amount: cost.minus(48).toFixed(2),
        figure: "cost.cutting",
      }),
      line({
        section: "Total",
        description: "Net total",
        amount: cost.toFixed(2),
        kind: "subtotal",
        figure: "cost.direct",
      }),
      line({
        section: "Total",
        description: "Tax, 20 %",
        amount: cost.times(0.2).toFixed(2),
        kind: "tax",
      }),
      line({
        section: "Total",
        description: "Total",
        amount: cost.times(1.2).toFixed(2),
        kind: "total",
      }),
    ],
  };
}

function line(given: Partial<QuoteLine>): QuoteLine {
  return {
    section: "Materials",
    line: "",
    description: "",
    quantity: "1",
    unit: "lot",
    unitPrice: "48.00",
    amount: "48.00",
    kind: "line",
    basis: "",
    figure: "cost.materials",
    each: null,
    ...given,
  };
}

export function problem(
  code: string,
  severity: Problem["severity"],
  line: number,
  found: string,
): Problem {
  return {
    code,
    severity,
    file: "parts.csv",
    line,
    column: "thickness",
    found,
    expected: "a length like 3 mm",
    mend: "Write the thickness with its unit",
  };
}

export const INPUT: EstimateInput = {
  jobName: "marsh-test",
  job: [],
  tables: [],
  seed: 1,
  steps: 10,
};

export function openedJob(path = "jobs/marsh-test"): OpenedJob {
  return { path, input: INPUT };
}

/** One estimate that was started, to be answered by the test. */
export interface Started {
  readonly input: EstimateInput;
  readonly onProgress: ProgressListener;
  readonly answer: (result: Checked<Estimate>) => void;
  finished: boolean;
  cancelled: boolean;
}

export interface FakeServices extends Services {
  readonly started: Started[];
  readonly exports: Estimate[];
  readonly saves: Changes[];
}

/** Services that write down what was asked; estimates are answered by hand. */
export function fakeServices(given: Partial<Services> = {}): FakeServices {
  const started: Started[] = [];
  const exports: Estimate[] = [];
  const saves: Changes[] = [];
  return {
    started,
    exports,
    saves,
    openJob: async (path) => ({ value: openedJob(path), problems: [] }),
    startEstimate(input, onProgress): RunningEstimate {
      const result = new Promise<Checked<Estimate>>((answer) => {
        started.push({ input, onProgress, answer, finished: false, cancelled: false });
      });
      const one = started.at(-1);
      return {
        result,
        finishEarly: () => {
          if (one) one.finished = true;
        },
        cancel: () => {
          if (one) one.cancelled = true;
        },
      };
    },
    async exportQuote(estimate): Promise<ExportOutcome> {
      exports.push(estimate);
      return { kind: "written", dir: "out/marsh-test", files: ["quote.csv", "costing.csv"] };
    },
    async saveChanges(_, changes): Promise<SaveOutcome> {
      saves.push(changes);
      return { files: ["parts.csv"], problems: [] };
    },
    findJobs: async () => ["demo-data/marsh-test", "demo-data/other"],
    ...given,
  };
}

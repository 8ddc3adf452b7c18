import type { Estimate, TimedStock } from "../estimate-data.ts";
import { clockText, lengthText, trimmed } from "../units.ts";
import { sentence } from "../problem.ts";
import { numberedSheets } from "./cut-list-csv.ts";
import type { NumberedSheet } from "./cut-list-csv.ts";
import { layoutName } from "./layout-name.ts";
import { wrapped } from "./wrap.ts";

const WIDTH = 88;

/** A page for the workshop: cautions first, then what to work in which order, and what to mind. */
export function makersSheet(estimate: Estimate): string {
  const { title, reference, pieces, pieceName, machine } = estimate;
  const blocks = [
    [
      title,
      ...(reference === "" ? [] : [reference]),
      `${pieces} x ${pieceName}, on ${machine.description}`,
    ],
    heading("Before you start", cautionLines(estimate)),
    heading("Sheets", numberedSheets(estimate.stocks).flatMap(sheetLines)),
    heading("Bars", barLines(estimate)),
    heading(
      "Notes",
      estimate.notes.flatMap((note) => wrapped(note, WIDTH, "- ")),
    ),
    heading(
      "Warnings",
      estimate.warnings.flatMap((one) => wrapped(sentence(one), WIDTH, "- ")),
    ),
  ];
  const filled = blocks.filter((lines) => lines.length > 0);
  return `${filled.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

function heading(title: string, lines: readonly string[]): readonly string[] {
  return lines.length === 0 ? [] : [title.toUpperCase(), ...lines];
}

function cautionLines({ cautions }: Estimate): readonly string[] {
  return cautions.flatMap(({ topic, text, because }) =>
    wrapped(`${topic}: ${text} (${because})`, WIDTH, "- "),
  );
}

function sheetLines({ number, stock, sheet, index }: NumberedSheet): readonly string[] {
  const time = stock.times[index];
  const size = `${trimmed(sheet.widthMm, 1)} x ${trimmed(sheet.heightMm, 1)} mm`;
  const name = `${layoutName(number, sheet.sheet)}: ${stock.material} ${lengthText(stock.thicknessMm)}, ${size}`;
  const operations = (time?.operations ?? []).map(
    ({ operation, lengthMm, contours, passes, workingS, pierceS }) =>
      `    ${operation}: ${trimmed(lengthMm / 1000, 2)} m in ${contours} contours, ${passesText(passes)}, ${clockText(workingS + pierceS)}`,
  );
  const travel = time
    ? [
        `    travel: ${trimmed(time.travelMm / 1000, 2)} m, ${clockText(time.travelS)}; running ${clockText(time.runningS)}`,
      ]
    : [];
  return [`- ${name}, ${sheet.placements.length} parts`, ...operations, ...travel];
}

function passesText(passes: number): string {
  return passes === 1 ? "1 pass" : `${passes} passes`;
}

function barLines({ bars }: Estimate): readonly string[] {
  return bars.flatMap(({ description, barMm, bars: sawn }) =>
    sawn.map((pieces, index) => {
      const cuts = pieces.map(({ name, lengthMm }) => `${name} ${trimmed(lengthMm, 1)}`).join(", ");
      return `- bar ${index + 1}, ${description}, ${trimmed(barMm, 1)} mm: ${cuts}`;
    }),
  );
}

/** Machine time of a stock, loading and set-up left out, s. */
export function runningSeconds({ times }: TimedStock): number {
  return times.reduce((sum, { runningS }) => sum + runningS, 0);
}

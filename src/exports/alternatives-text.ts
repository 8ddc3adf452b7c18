import type { Alternative } from "../job/types.ts";
import { sentence } from "../problem.ts";
import type { AlternativePrice, AlternativesReport } from "../stages/alternatives.ts";
import { stockName } from "../units.ts";
import { lineTable, signed } from "./differences-text.ts";
import { wrapped } from "./wrap.ts";

const WIDTH = 80;

/** Each alternative with what it makes of the price, and of every line that is another. */
export function alternativesText({ alternatives, soldToo }: AlternativesReport): string {
  const blocks = alternatives.length > 0 ? alternatives.map(blockOf) : [noneText(soldToo)];
  return `${blocks.map((lines) => lines.join("\n")).join("\n\n")}\n`;
}

function blockOf({ alternative, difference, problems }: AlternativePrice): readonly string[] {
  const title = wrapped(nameOf(alternative), WIDTH);
  if (difference === null)
    return [
      ...title,
      ...distinctKinds(problems).flatMap((problem) =>
        wrapped(`can not be made: ${sentence(problem)}`, WIDTH, "  "),
      ),
    ];
  const { net, currency } = difference;
  const moved = difference.lines.filter((line) => Number(line.difference) !== 0);
  const lines = moved.length === 0 ? [] : lineTable(moved, currency);
  return [
    ...title,
    `  Net total ${net.before} -> ${net.after} ${currency.code}: ${signed(net.difference)}`,
    ...lines.map((line) => `  ${line}`),
  ];
}

/** `acrylic extruded 3 mm instead of acrylic cast 3 mm`, `no finish instead of reed`. */
function nameOf({ by, of, take, thicknessMm, takeThicknessMm }: Alternative): string {
  if (by === "finish") return `${take === "none" ? "no finish" : take} instead of ${of}`;
  const is = takeThicknessMm ?? thicknessMm;
  return `${named(take, is)} instead of ${named(of, thicknessMm)}`;
}

function named(material: string, thicknessMm: number | null): string {
  return thicknessMm === null ? material : stockName({ material, thicknessMm });
}

function noneText(soldToo: AlternativesReport["soldToo"]): readonly string[] {
  const sold = soldToo.map(
    ({ stock, materials }) =>
      `  ${stock}: ${materials.length === 0 ? "nothing else is sold so thick" : materials.join(", ")}`,
  );
  return [
    "The job names none: write them under alternatives: in job.yaml, each with material",
    "or finish, and take. Sold of the same thickness:",
    ...sold,
  ];
}

/** The same slip in many rows is told for the first of them. */
function distinctKinds(problems: AlternativePrice["problems"]): AlternativePrice["problems"] {
  return problems.filter(
    ({ code, found }, index) =>
      problems.findIndex((one) => one.code === code && one.found === found) === index,
  );
}

import type { EstimatedPart } from "../../estimate-data.ts";
import { pathBounds } from "../../geometry/path.ts";
import { counted } from "../../names.ts";
import { trimmed } from "../../units.ts";
import { columns, plain, windowStart } from "../line.ts";
import type { Line } from "../line.ts";
import { piecesOf, quantityOf } from "../changes.ts";
import { selectedPart } from "../state.ts";
import type { State } from "../state.ts";
import { cut, displayWidth } from "../text.ts";

/** The parts list with what it comes to, and a closer look at the part under the cursor. */

const DETAIL_ROWS = 5;
/** From here on there is room for the size: the smallest window, or half of a wide one. */
const ROOMY = 60;

export function partsPanel(state: State, cells: number, rows: number): readonly Line[] {
  const { estimate, cursors } = state;
  if (!estimate) return [];
  const shown = Math.max(1, rows - 1 - DETAIL_ROWS);
  const start = windowStart(estimate.parts.length, cursors.parts, shown);
  const list = estimate.parts
    .slice(start, start + shown)
    .map((part) => partLine(state, part, cells, part.name === selectedPart(state)));
  const blank = Array.from({ length: shown - list.length }, () => plain(""));
  const chosen = estimate.parts[cursors.parts];
  const heading = row(cells, ["part", "material, mm", "each", "copies", "size in mm", "finish"]);
  return [
    plain(`  ${heading}`, "muted"),
    ...list,
    ...blank,
    ...(chosen ? details(chosen, estimate.parts.length, cursors.parts, cells) : []),
  ];
}

function partLine(state: State, part: EstimatedPart, cells: number, chosen: boolean): Line {
  const each = quantityOf(state, part.name) ?? part.quantity;
  const changed = state.changes.quantities[part.name] !== undefined;
  const isTold = each === part.quantity && piecesOf(state) === state.estimate?.pieces;
  const text = row(cells, [
    part.name,
    `${part.material} ${trimmed(part.thicknessMm, 3)}`,
    `${changed ? "*" : ""}${each}`,
    isTold ? String(part.copies) : "…",
    sizeText(part),
    part.finish ?? "bare",
  ]);
  return [{ text: chosen ? "▸ " : "  " }, chosen ? { text, tone: "selected" } : { text }];
}

/** Names get what the numbers leave; a panel of half a narrower window has the size in the details alone. */
function row(cells: number, texts: readonly string[]): string {
  const [part = "", material = "", each = "", copies = "", size = "", finish = ""] = texts;
  const sized = cells >= ROOMY;
  const free = Math.max(20, cells - 2 - 5 - 6 - (sized ? 14 : 0) - 4);
  const third = Math.floor(free * 0.38);
  return columns([
    { text: part, width: third },
    { text: material, width: third },
    { text: each, width: 5, align: "right" },
    { text: copies, width: 6, align: "right" },
    ...(sized ? [{ text: size, width: 13, align: "right" } as const] : []),
    { text: finish, width: free - 2 * third },
  ]);
}

function details(
  part: EstimatedPart,
  count: number,
  index: number,
  cells: number,
): readonly Line[] {
  const { geometry, note } = part;
  const worked = [
    counted(geometry.roundHoles.length, "round hole"),
    ...(geometry.engravings.length > 0 ? ["engraved"] : []),
    ...(geometry.scores.length > 0 ? ["scored"] : []),
  ];
  const cutLength = trimmed(geometry.cutLengthMm / 1000, 3);
  const area = trimmed(geometry.areaMm2 / 100, 1);
  const drawn = `${geometry.place.file}${geometry.place.line === null ? "" : `, line ${geometry.place.line}`}`;
  const where = `  part ${index + 1} of ${count}, from ${drawn}`;
  return [
    plain(""),
    [
      {
        text: cut(part.name, Math.max(Math.floor(cells / 3), cells - displayWidth(where))),
        tone: "title",
      },
      { text: where },
    ],
    plain(`${sizeText(part)} mm, cut length ${cutLength} m, face ${area} cm²`),
    plain(worked.join(", ")),
    plain(note === "" ? "no note" : note, "muted"),
  ];
}

function sizeText({ geometry }: EstimatedPart): string {
  const { minX, minY, maxX, maxY } = pathBounds(geometry.outline);
  return `${trimmed(maxX - minX, 1)} x ${trimmed(maxY - minY, 1)}`;
}

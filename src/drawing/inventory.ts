import type { SourceText } from "../job/types.ts";
import { inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { piecesFromLines } from "./assemble.ts";
import { Drawings } from "./drawings.ts";
import type { Drawing } from "./open-drawing.ts";
import type { Outlined } from "./outlines.ts";
import { roundHole } from "./round-holes.ts";

/** What drawings hold, before a parts list says what of them is made. */

export interface DrawingFound {
  readonly file: string;
  /** In the order of `#outline-1`, `#outline-2` ...; none when the drawing can not be read. */
  readonly pieces: readonly PieceFound[];
  readonly problems: readonly Problem[];
}

export interface PieceFound {
  /** Whether it lies in a hole of another, as it seems while all lines count as cut. */
  readonly inside: boolean;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly holes: number;
  readonly roundHoles: number;
}

/** Every line counts as cut: which ones are scored or engraved is for the job to say. */
export function takeInventory(texts: readonly SourceText[]): readonly DrawingFound[] {
  const drawings = new Drawings(texts, []);
  return texts.map(({ name }) => {
    const opened = drawings.open(name);
    if (opened === null || opened.value === null)
      return { file: name, pieces: [], problems: opened?.problems ?? [] };
    const { value, problems } = drawings.pieces(opened.value, inFile(name));
    const found = value?.pieces ?? closedPieces(drawings, opened.value);
    const pieces = found.map(({ outline, box, holes }) => ({
      inside: outline.depth > 0,
      widthMm: box.maxX - box.minX,
      heightMm: box.maxY - box.minY,
      holes: holes.length,
      roundHoles: holes.filter(({ placed }) => roundHole(placed.path) !== null).length,
    }));
    return { file: name, pieces, problems: [...opened.problems, ...problems] };
  });
}

/** Where open lines stand in the way, which are scored in most drawings: without them. */
function closedPieces(drawings: Drawings, drawing: Drawing): readonly Outlined[] {
  const place = inFile(drawing.file);
  const lines = drawings.lines(drawing, null, place).value?.lines ?? [];
  const closed = lines.filter(({ path }) => path.closed);
  return piecesFromLines(closed, place).value?.pieces ?? [];
}

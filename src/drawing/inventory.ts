import type { SourceText } from "../job/types.ts";
import { inFile } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { piecesFromLines } from "./assemble.ts";
import type { DrawnLine } from "./drawn-line.ts";
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
  /**
   * Of the element or layer that holds just this piece. Null where it is the only piece, or where
   * not all lines of the drawing lie in pieces that have a name.
   */
  readonly id: string | null;
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
    const found = value?.pieces ?? closedPieces(linesOf(drawings, opened.value, null));
    const ids = idsOf(drawings, opened.value, found);
    const whole = found.map((piece, index) => foundAs(ids[index] ?? null, piece));
    const pieces = whole.length > 0 ? whole : soundPieces(drawings, opened.value);
    return { file: name, pieces, problems: [...opened.problems, ...problems] };
  });
}

function foundAs(id: string | null, { outline, box, holes }: Outlined): PieceFound {
  return {
    id,
    inside: outline.depth > 0,
    widthMm: box.maxX - box.minX,
    heightMm: box.maxY - box.minY,
    holes: holes.length,
    roundHoles: holes.filter(({ placed }) => roundHole(placed.path) !== null).length,
  };
}

/** Of a drawing with faulty outlines those that have a name: numbers will change when it is mended. */
function soundPieces(drawings: Drawings, drawing: Drawing): readonly PieceFound[] {
  const named = namedPieces(drawings, drawing, drawing.ids);
  return [...named.values()].map(({ id, piece }) => foundAs(id, piece));
}

function linesOf(drawings: Drawings, drawing: Drawing, id: string | null): readonly DrawnLine[] {
  return drawings.lines(drawing, id, inFile(drawing.file)).drawn?.lines ?? [];
}

/** Without the open lines, which are scored in most drawings and would stand in the way. */
function closedPieces(lines: readonly DrawnLine[]): readonly Outlined[] {
  const closed = lines.filter(({ path }) => path.closed);
  return piecesFromLines(closed, inFile("")).value?.pieces ?? [];
}

/** One for each piece, or none at all: by its outline a line finds its piece wherever it is filed. */
function idsOf(
  drawings: Drawings,
  drawing: Drawing,
  pieces: readonly Outlined[],
): readonly string[] {
  if (pieces.length < 2) return [];
  const given = drawing.ids.filter((one) => !MADE_UP.test(one));
  const named = namedPieces(drawings, drawing, given);
  const own = pieces.flatMap((piece) => named.get(likeness(piece)) ?? []);
  const lines = own.reduce((sum, one) => sum + one.lines, 0);
  const isComplete = own.length === pieces.length && new Set(own).size === own.length;
  return isComplete && lines === linesOf(drawings, drawing, null).length
    ? own.map(({ id }) => id)
    : [];
}

interface Named {
  readonly id: string;
  readonly piece: Outlined;
  /** Of the element or layer, open ones as well. */
  readonly lines: number;
}

/** Elements or layers that hold just one piece, the first of each likeness; none of very many. */
function namedPieces(
  drawings: Drawings,
  drawing: Drawing,
  ids: readonly string[],
): ReadonlyMap<string, Named> {
  const named = new Map<string, Named>();
  if (drawing.ids.length > MOST_IDS) return named;
  for (const id of ids) {
    const lines = linesOf(drawings, drawing, id);
    const [piece, second] = lines.length === 0 ? [] : closedPieces(lines);
    if (piece === undefined || second !== undefined || named.has(likeness(piece))) continue;
    named.set(likeness(piece), { id, piece, lines: lines.length });
  }
  return named;
}

/** A drawing of more is a map of something, and would be read as often. */
const MOST_IDS = 500;
/** Ids that a drawing program counts up, and the layer that every DXF has. */
const MADE_UP =
  /^(?:path|rect|circle|ellipse|poly(?:gon|line)|line|text|use|image|g|group|svg|layer)?[-_ ]?\d+(?:[-_.]\d+)*$/i;

function likeness({ box: { minX, minY, maxX, maxY }, holes }: Outlined): string {
  return [minX, minY, maxX, maxY, holes.length].map((value) => value.toFixed(2)).join();
}

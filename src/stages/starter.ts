import { writeCsv } from "../csv.ts";
import { takeInventory } from "../drawing/inventory.ts";
import type { DrawingFound, PieceFound } from "../drawing/inventory.ts";
import type { SourceText } from "../job/types.ts";
import { counted, plainName } from "../names.ts";
import { errorAt, inFile } from "../problem.ts";
import { trimmed } from "../units.ts";

/** A job to begin with, made from a folder of drawings. */

export interface Starter {
  readonly files: readonly { readonly name: string; readonly content: string }[];
  /** Those of the folder itself first. */
  readonly drawings: readonly (DrawingFound & { readonly parts: readonly string[] })[];
}

/** What all parts are cut from, as far as it is known. */
export interface StarterSheet {
  readonly material: string;
  readonly thickness: string;
}

const COLUMNS = ["part", "qty", "material", "thickness", "drawing", "turn", "finish", "note"];

/** @param texts the drawings of the folder. */
export function starterFor(
  title: string,
  texts: readonly SourceText[],
  { material, thickness }: StarterSheet,
): Starter {
  const taken = new Set<string>();
  const drawings = takeInventory(texts.toSorted(fromTop)).map((found) => {
    const named = isNameable(found.file) ? found : unnameable(found);
    return { ...named, parts: named.pieces.map((_, index) => partName(named, index, taken)) };
  });
  const rows = drawings.flatMap(({ file, pieces, parts }) =>
    pieces.map((piece, index) => {
      const one = piece.id ?? `outline-${index + 1}`;
      const drawing = cellOf(pieces.length === 1 && piece.id === null ? file : `${file}#${one}`);
      return [parts[index] ?? "", "1", material, thickness, drawing, "", "", noteOn(piece)];
    }),
  );
  return {
    drawings,
    files: [
      { name: "parts.csv", content: writeCsv(COLUMNS, rows) },
      { name: "job.yaml", content: jobFile(title) },
    ],
  };
}

/** Drawings of the folder itself come before those of folders in it. */
function fromTop(a: SourceText, b: SourceText): number {
  return depthOf(a) - depthOf(b) || (a.name < b.name ? -1 : 1);
}

function depthOf({ name }: SourceText): number {
  return name.split("/").length;
}

/** Whether the cell of a list leads to the file: a `#` ends its name there, and blanks are single. */
function isNameable(file: string): boolean {
  return !/[#\\\n\r\t]|\s{2}|^~|^[a-z]+:/i.test(file);
}

function unnameable({ file, problems }: DrawingFound): DrawingFound {
  const problem = errorAt(inFile(file), {
    code: "drawing-name",
    found: file,
    expected: "a name without #, \\ and runs of blanks, so that a parts list can name it",
    mend: "Rename the drawing, and add a row for it",
  });
  return { file, pieces: [], problems: [...problems, problem] };
}

/** A name that a spreadsheet would take for a formula is written as a path. */
function cellOf(drawing: string): string {
  return /^[\w]/.test(drawing) ? drawing : `./${drawing}`;
}

/**
 * The id of the piece, or the name of the file with its number; with the file and its folders where
 * another part has the same.
 */
function partName({ file, pieces }: DrawingFound, index: number, taken: Set<string>): string {
  const path = file.replace(/\.[a-z]+$/i, "").split("/");
  const id = pieces[index]?.id ?? null;
  const number = pieces.length === 1 ? "" : `-${id ?? index + 1}`;
  const ofFile = path.map((_, above) => `${path.slice(-1 - above).join("-")}${number}`);
  const names = [...(id === null ? [] : [id]), ...ofFile].map((one) =>
    one.replace(/^[=+\-@\s]+/, ""),
  );
  let name = names.find((one) => one !== "" && !taken.has(plainName(one))) ?? "";
  for (let again = 2; name === ""; again++) {
    const next = `${names[0] || "part"}-${again}`;
    if (!taken.has(plainName(next))) name = next;
  }
  taken.add(plainName(name));
  return name;
}

function noteOn({ widthMm, heightMm, holes, roundHoles, inside }: PieceFound): string {
  const size = `${trimmed(widthMm, 1)} x ${trimmed(heightMm, 1)} mm`;
  if (inside) return `${size}, inside another piece: cut, or only a scored line?`;
  if (holes === 0) return size;
  const round = roundHoles === 0 ? "" : `, ${roundHoles === holes ? "all" : roundHoles} round`;
  return `${size}, ${counted(holes, "hole")}${round}`;
}

function jobFile(title: string): string {
  return `# What is commissioned. Everything here may be left out.
title: ${JSON.stringify(title)}
# customer: Who it is for
# reference: Your number for it
# date: 2026-01-31          # prices valid on this day; without it the newest

pieces: 1                   # how many of it; quantities in parts.csv are for one
# piece_name: stand
# machine: bureau-60w       # an id of machines.csv

# Which lines of the drawings are not cut through: by class, stroke, id or layer.
# lines:
#   - class: engraved
#     do: engrave           # cut, score or engrave

# Sheets by the caliper, where parts slot into each other.
# measured:
#   - material: acrylic cast
#     thickness: 3 mm
#     measured: 2.93 mm

# Rules of the price that are not those of settings.csv.
# price:
#   delivery: 25.00

# notes:
#   - What the bench should know.
`;
}

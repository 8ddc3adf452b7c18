import type { Region } from "../geometry/types.ts";
import { clearanceFault, solidOf, TOLERANCE_MM, type Solid } from "./check-clearance.ts";
import { edgeRows, type EdgeRows } from "./check-edges.ts";
import type { Fault, NestPiece, NestedSheet, Placement, SheetChoice, Unplaced } from "./types.ts";

/**
 * The judge: says what is wrong with a nest, whoever made it. It shares no code with the search and
 * works another way (distances between edges as they lie, not no-fit regions), so that a fault of
 * the search can not hide itself.
 *
 * It holds that every copy is placed exactly once or counted as unplaced; that it lies inside the
 * sheet less margin, and the gap from every other, both with the flattening of the outline on top;
 * that it is turned and mirrored only as allowed; that every sheet is of a size chosen, keeps that
 * size's margin and gap, and that there are no more of a size than are on hand. Lengths are compared within {@link TOLERANCE_MM}.
 */
export function judge(
  pieces: readonly NestPiece[],
  choices: readonly SheetChoice[],
  sheets: readonly NestedSheet[],
  unplaced: readonly Unplaced[],
): readonly Fault[] {
  const forms: Forms = new Map();
  return [
    ...countFaults(pieces, sheets, unplaced),
    ...choices.flatMap((choice) => stockFaults(choice, sheets)),
    ...sheets.flatMap((sheet, index) => {
      const choice = choices.find(({ id }) => id === sheet.sheet);
      return choice === undefined
        ? [sheetFault(index, `sheet ${index + 1} is ${sheet.sheet}, which is not on offer`)]
        : sheetFaults(pieces, choice, sheet, index, forms);
    }),
  ];
}

/** A nest that failed its judgement: a fault of this program, not of its input. */
export class JudgementError extends Error {
  readonly faults: readonly Fault[];

  constructor(label: string, faults: readonly Fault[]) {
    super(`the nest of ${label} failed its judgement: ${faults[0]?.what ?? "no fault named"}`);
    this.name = "JudgementError";
    this.faults = faults;
  }
}

/** Turns are compared to a thousand-millionth of a degree: 2e-9 mm over 100 mm. */
const TOLERANCE_DEG = 1e-9;
const MM_PER_M = 1000;

function countFaults(
  pieces: readonly NestPiece[],
  sheets: readonly NestedSheet[],
  unplaced: readonly Unplaced[],
): readonly Fault[] {
  const placements = sheets.flatMap((sheet) => sheet.placements);
  const known = new Set(pieces.map(({ part }) => part));
  const strangers = [...placements, ...unplaced].filter(({ part }) => !known.has(part));
  return [
    ...strangers.map(({ part }) => countFault(part, `${part} is not among the pieces`)),
    ...pieces.flatMap((piece) => copyFaults(piece, placements, unplaced)),
  ];
}

function copyFaults(
  { part, copies }: NestPiece,
  placements: readonly Placement[],
  unplaced: readonly Unplaced[],
): readonly Fault[] {
  const placed = placements.filter((placement) => placement.part === part);
  const left = unplaced.filter((each) => each.part === part).map((each) => each.copies);
  const seen = new Set<number>();
  const faults: Fault[] = [];
  for (const { copy } of placed) {
    if (!Number.isInteger(copy) || copy < 1 || copy > copies)
      faults.push(countFault(part, `${part} has no copy ${copy}`));
    else if (seen.has(copy)) faults.push(countFault(part, `${part} copy ${copy} is placed twice`));
    seen.add(copy);
  }
  if (left.some((count) => !Number.isInteger(count) || count < 1))
    faults.push(countFault(part, `${part}: copies left over are not counted in whole numbers`));
  const told = placed.length + left.reduce((sum, count) => sum + count, 0);
  if (told !== copies)
    faults.push(countFault(part, `${part}: ${told} of ${copies} copies are accounted for`));
  return faults;
}

function countFault(part: string, what: string): Fault {
  return { kind: "count", sheet: null, parts: [part], what };
}

function stockFaults(choice: SheetChoice, all: readonly NestedSheet[]): readonly Fault[] {
  if (choice.onHand === null) return [];
  const sheets = all.filter(({ sheet }) => sheet === choice.id);
  const used =
    choice.form === "sheet"
      ? Math.ceil(sheets.length / (choice.panels ?? 1))
      : sheets.reduce((length, { heightMm }) => length + heightMm, 0) / MM_PER_M;
  if (used <= choice.onHand + TOLERANCE_MM) return [];
  const what = `${used} of ${choice.id} used, ${choice.onHand} on hand`;
  return [sheetFault(null, what)];
}

function sheetFault(sheet: number | null, what: string): Fault {
  return { kind: "sheet", sheet, parts: [], what };
}

function sheetFaults(
  pieces: readonly NestPiece[],
  choice: SheetChoice,
  sheet: NestedSheet,
  index: number,
  forms: Forms,
): readonly Fault[] {
  const byPart = new Map(pieces.map((piece) => [piece.part, piece]));
  const lying = sheet.placements.flatMap((placement) => {
    const piece = byPart.get(placement.part);
    return piece ? [{ piece, placement, solid: laid(piece, placement, forms) }] : [];
  });
  return [
    ...sizeFaults(choice, sheet, index),
    ...lying.flatMap(({ piece, placement }) => turnFaults(piece, placement, index)),
    ...lying.flatMap(({ piece, solid }) => edgeFaults(piece, solid, choice, sheet, index)),
    ...shapeFaults(lying, choice, index),
    ...gapFaults(lying, choice.gapMm, index),
  ];
}

function sizeFaults(choice: SheetChoice, sheet: NestedSheet, index: number): readonly Fault[] {
  const rightHeight =
    choice.heightMm === null
      ? sheet.heightMm > 0 && sheet.heightMm <= mostLength(choice) + TOLERANCE_MM
      : sheet.heightMm === choice.heightMm;
  const rightOutline = sheet.outline === choice.outline?.region;
  if (sheet.widthMm === choice.widthMm && rightHeight && rightOutline) return [];
  const what = `sheet ${index + 1} is ${sheet.sheet} of ${sheet.widthMm} x ${sheet.heightMm} mm, not ${choice.id}`;
  return [sheetFault(index, what)];
}

/** A length of roll is as long as one likes, but ends somewhere. */
function mostLength({ longestMm }: SheetChoice): number {
  return longestMm ?? Number.MAX_VALUE;
}

function turnFaults(piece: NestPiece, placement: Placement, sheet: number): readonly Fault[] {
  const { part, turnDeg, mirrored } = placement;
  const faults: Fault[] = [];
  if (!turnAllowed(piece, turnDeg))
    faults.push(turnFault(part, sheet, `${part} is turned by ${turnDeg} degrees`));
  if (mirrored && !piece.flip) faults.push(turnFault(part, sheet, `${part} is mirrored`));
  return faults;
}

function turnAllowed({ turn }: NestPiece, turnDeg: number): boolean {
  if (!Number.isFinite(turnDeg)) return false;
  switch (turn) {
    case "any":
      return true;
    case "quarter":
      return isMultiple(turnDeg, 90);
    case "half":
      return isMultiple(turnDeg, 180);
    case "fixed":
      return isMultiple(turnDeg, 360);
  }
}

function isMultiple(angleDeg: number, stepDeg: number): boolean {
  return Math.abs(angleDeg - Math.round(angleDeg / stepDeg) * stepDeg) <= TOLERANCE_DEG;
}

function turnFault(part: string, sheet: number, what: string): Fault {
  return { kind: "turn", sheet, parts: [part], what };
}

function edgeFaults(
  piece: NestPiece,
  { box }: Solid,
  choice: SheetChoice,
  sheet: NestedSheet,
  index: number,
): readonly Fault[] {
  const kept = choice.marginMm + piece.flatteningMm - TOLERANCE_MM;
  const inside =
    box.minX >= kept &&
    box.minY >= kept &&
    box.maxX <= sheet.widthMm - kept &&
    box.maxY <= sheet.heightMm - kept;
  if (inside) return [];
  const what = `${piece.part} reaches into the margin or over the edge of sheet ${index + 1}`;
  return [{ kind: "outside", sheet: index, parts: [piece.part], what }];
}

/** Against all that is around an odd-shaped sheet, and what is gone out of it, as if pieces lay there. */
function shapeFaults(
  lying: readonly Lying[],
  { outline, widthMm, heightMm, marginMm }: SheetChoice,
  index: number,
): readonly Fault[] {
  if (outline === undefined || heightMm === null) return [];
  const { region, flatteningMm } = outline;
  const far = widthMm + heightMm;
  const around = [
    { x: -far, y: -far },
    { x: far, y: -far },
    { x: far, y: far },
    { x: -far, y: far },
  ];
  const solids = [{ outer: around, holes: [region.outer] }, ...region.holes.map(withoutHoles)].map(
    (beyond) => solidOf(edgeRows(turned(beyond, 0, false)), 0, 0),
  );
  return lying.flatMap(({ piece, solid }): readonly Fault[] => {
    const needed = marginMm + flatteningMm + piece.flatteningMm;
    const found = solids.map((beyond) => clearanceFault(solid, beyond, needed));
    if (found.every((fault) => fault === null)) return [];
    const what = `${piece.part} reaches into the margin or over the edge of sheet ${index + 1}`;
    return [{ kind: "outside", sheet: index, parts: [piece.part], what }];
  });
}

function withoutHoles(outer: Region["outer"]): Region {
  return { outer, holes: [] };
}

interface Lying {
  readonly piece: NestPiece;
  readonly placement: Placement;
  readonly solid: Solid;
}

/** Compares each piece with those whose boxes, sorted along x, come near enough to matter. */
function gapFaults(lying: readonly Lying[], gapMm: number, sheet: number): readonly Fault[] {
  const sorted = [...lying].sort((a, b) => a.solid.box.minX - b.solid.box.minX);
  const widest = lying.reduce((most, { piece }) => Math.max(most, piece.flatteningMm), 0);
  const reach = gapMm + 2 * widest;
  const faults: Fault[] = [];
  for (const [index, a] of sorted.entries()) {
    for (let next = index + 1; next < sorted.length; next++) {
      const b = sorted[next]!;
      if (b.solid.box.minX > a.solid.box.maxX + reach) break;
      const needed = gapMm + a.piece.flatteningMm + b.piece.flatteningMm;
      const found = clearanceFault(a.solid, b.solid, needed);
      if (found === null) continue;
      const parts = [a, b].map(({ placement: { part, copy } }) => `${part} copy ${copy}`);
      const what = `${parts.join(" and ")} on sheet ${sheet + 1}: ${found}`;
      faults.push({ kind: "too close", sheet, parts: [a.piece.part, b.piece.part], what });
    }
  }
  return faults;
}

/** Pieces as they are turned, the same for all copies. */
type Forms = Map<string, EdgeRows>;

/** As it lies on the sheet: mirrored, turned about 0,0, moved. */
function laid({ part, region }: NestPiece, placement: Placement, forms: Forms): Solid {
  const { turnDeg, mirrored, xMm, yMm } = placement;
  const key = JSON.stringify([part, turnDeg, mirrored]);
  const form = forms.get(key) ?? edgeRows(turned(region, turnDeg, mirrored));
  forms.set(key, form);
  return solidOf(form, xMm, yMm);
}

function turned({ outer, holes }: Region, turnDeg: number, mirrored: boolean): Float64Array {
  const sine = sineOfDegrees(turnDeg);
  const cosine = sineOfDegrees(turnDeg + 90);
  const side = mirrored ? -1 : 1;
  const count = holes.reduce((sum, hole) => sum + hole.length, outer.length);
  const edges = new Float64Array(4 * count);
  let at = 0;
  for (const ring of [outer, ...holes]) {
    const first = at;
    for (const { x, y } of ring) {
      edges[at] = side * x * cosine - y * sine;
      edges[at + 1] = side * x * sine + y * cosine;
      at += 4;
    }
    // Each ends where the next begins.
    for (let from = first; from < at; from += 4) {
      const next = from + 4 < at ? from + 4 : first;
      edges[from + 2] = edges[next]!;
      edges[from + 3] = edges[next + 1]!;
    }
  }
  return edges;
}

/** Exact at quarter turns, so that a long straight edge does not lean by a rounding error. */
function sineOfDegrees(angleDeg: number): number {
  const quarters = angleDeg / 90;
  if (!Number.isInteger(quarters)) return Math.sin((angleDeg * Math.PI) / 180);
  return [0, 1, 0, -1][((quarters % 4) + 4) % 4]!;
}

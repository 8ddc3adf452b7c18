import { isStraight } from "../geometry/flatten.ts";
import { pathArea, pathBounds } from "../geometry/path.ts";
import { warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import { lengthText, trimmed } from "../units.ts";
import type { PartGeometry } from "./types.ts";

/** The page of a drawing, mm. */
export interface PageSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * A warning where a part has the size of the page, or of a sheet of paper, and much of it is holes:
 * often a border was drawn around the part, which then counts as a hole in it.
 *
 * @param page null where the drawing has none.
 */
export function borderAround(part: PartGeometry, page: PageSize | null): Problem[] {
  const { outline, holes, areaMm2, place } = part;
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const [widthMm, heightMm] = [maxX - minX, maxY - minY];
  const boxMm2 = widthMm * heightMm;
  const isRectangle =
    isStraight(outline) && Math.abs(pathArea(outline)) >= boxMm2 * (1 - SAME_SHARE);
  if (!isRectangle || holes.length === 0 || areaMm2 > boxMm2 * (1 - LEAST_HOLES)) return [];
  const size = { widthMm, heightMm };
  const isPage = page !== null && isAlike(size, page);
  const isPaper = PAPERS.some((paper) => isAlike(size, paper) || isAlike(size, turned(paper)));
  if (!isPage && !isPaper) return [];
  const around = holes.length === 1 ? "another line" : `${holes.length} others`;
  const fault = {
    code: "outline-border",
    found: `an outline of ${trimmed(widthMm, 2)} x ${lengthText(heightMm)} around ${around}`,
    expected: `the outline of the part; this one has the size of ${isPage ? "the page" : "a sheet of paper"}, and what lies in it counts as holes`,
    mend: "If it is a border, delete it or leave it out by a line rule (`do: leave out`)",
  };
  return [warningAt(place, fault)];
}

/** Of its box that a rectangle may lack. */
const SAME_SHARE = 1e-6;
/** Share of the box: a plate has smaller holes. */
const LEAST_HOLES = 0.1;
const SAME_MM = 0.5;

function isAlike(a: PageSize, b: PageSize): boolean {
  return Math.abs(a.widthMm - b.widthMm) <= SAME_MM && Math.abs(a.heightMm - b.heightMm) <= SAME_MM;
}

function turned({ widthMm, heightMm }: PageSize): PageSize {
  return { widthMm: heightMm, heightMm: widthMm };
}

const INCH_MM = 25.4;

/** ISO 216 A0 to A6; ANSI Y14.1 A to E and legal paper. From memory. */
const PAPERS: readonly PageSize[] = [
  [841, 1189],
  [594, 841],
  [420, 594],
  [297, 420],
  [210, 297],
  [148, 210],
  [105, 148],
  [8.5 * INCH_MM, 11 * INCH_MM],
  [11 * INCH_MM, 17 * INCH_MM],
  [17 * INCH_MM, 22 * INCH_MM],
  [22 * INCH_MM, 34 * INCH_MM],
  [34 * INCH_MM, 44 * INCH_MM],
  [8.5 * INCH_MM, 14 * INCH_MM],
].map(([widthMm = 0, heightMm = 0]) => ({ widthMm, heightMm }));

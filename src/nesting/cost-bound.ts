import { regionArea, ringArea, ringPerimeter } from "../geometry/ring.ts";
import { Amount } from "../money.ts";
import { allApart, mayShare, sidesOf, type Rectangles, type Sides } from "./apart.ts";
import { attainableArea, type Portion } from "./attainable.ts";
import { convexHull, leastWidth } from "./convex.ts";
import { turnedAs } from "./turns.ts";
import type { NestPiece, SheetChoice } from "./types.ts";

/**
 * No set of the sheets on offer that takes all pieces costs less, whatever mix it is: a proven lower
 * bound, not a guess.
 *
 * It covers areas. A piece of area A that keeps half a gap r to all sides takes at least
 * A + 2 r sqrt(pi A) + pi r^2 (Brunn-Minkowski), and pieces grown so lie apart on the sheet less its
 * margin grown by r. Of that a sheet gives no more than whole copies that go on it can take
 * ({@link attainableArea}). The cheapest whole number of sheets whose areas add up to what pieces take
 * is sought for all pieces, and for those alone that go on few sizes; and the cheapest for rectangles
 * of which no two share a sheet. Pieces that go on no size are left out of account.
 */
export function costBound(pieces: readonly NestPiece[], choices: readonly SheetChoice[]): Amount {
  const gapMm = Math.min(...choices.map((choice) => choice.gapMm));
  const smallestMm2 = Math.min(...pieces.map(({ region }) => Math.abs(ringArea(region.outer))));
  const thinnestMm = Math.min(...pieces.map(({ region }) => leastWidth(convexHull(region.outer))));
  const demands = pieces
    .map((piece): Demand => {
      const area = areaTaken(piece, gapMm, smallestMm2);
      const { copies } = piece;
      const fits = choices.map((on) => mayFit(piece, on) && mayTake(on, area));
      return { area, copies, fits, sides: sidesOf(piece) };
    })
    .filter(({ fits }) => fits.includes(true));
  if (demands.length === 0) return new Amount(0);
  const kinds = new Map(demands.map(({ fits }) => [fits.join(), fits]));
  const groups = [...kinds.values()].map((fits) =>
    demands.filter((other) => other.fits.every((fit, i) => !fit || fits[i]!)),
  );
  return [...groups, demands]
    .flatMap((group) => [cheapestCover(choices, group, thinnestMm), ...costsApart(choices, group)])
    .reduce((most, cost) => (cost.gt(most) ? cost : most));
}

/** The copies of one piece. */
interface Demand {
  /** Of one copy, mm2. */
  readonly area: number;
  readonly copies: number;
  /** By choice. */
  readonly fits: readonly boolean[];
  readonly sides: Sides | null;
}

function mayTake(choice: SheetChoice, area: number): boolean {
  return choice.form === "roll" || area * (1 - ROUNDING) <= areaOffered(choice);
}

/** For each size: what it costs to give a sheet to each of the rectangles that share none of it. */
function costsApart(choices: readonly SheetChoice[], group: readonly Demand[]): readonly Amount[] {
  const rectangles = group.flatMap(({ sides, ...demand }) =>
    sides === null ? [] : [{ ...demand, sides }],
  );
  if (rectangles.length === 0 || rectangles.length > MOST_RECTANGLES) return [];
  return choices
    .filter(({ form }) => form === "sheet")
    .flatMap((size) => {
      const apart = allApart(rectangles, size);
      const goesOn = choices.map((_, i) => apart.some(({ fits }) => fits[i]));
      if (choices.some(({ form }, i) => form === "roll" && goesOn[i])) return [];
      const count = apart.reduce((sum, { copies }) => sum + copies, 0);
      const covers = choices.flatMap((choice, i): Cover[] => {
        const { price, onHand, panels = 1 } = choice;
        const most = onHand ?? Infinity;
        if (!goesOn[i]) return [];
        const one = apart.every((a) => noneShares(a, apart, choice));
        return [{ price, area: one ? panels : count, most }];
      });
      return [cheapestOf(covers, count, null)];
    });
}

/** By then a comparison of all with all takes long. */
const MOST_RECTANGLES = 200;

function noneShares(one: Rectangles, all: readonly Rectangles[], choice: SheetChoice): boolean {
  return all.every(
    (other) => (other === one && one.copies === 1) || !mayShare(one.sides, other.sides, choice),
  );
}

const MM_PER_M = 1000;
/** Bounds give way by this share, so that rounding never lifts one over the truth. */
const ROUNDING = 1e-9;

/** Least area that a copy takes, mm2; holes too small for any piece count as material. */
export function areaTaken({ region }: NestPiece, gapMm: number, smallestMm2: number): number {
  const holes = region.holes.map((hole) => Math.abs(ringArea(hole)));
  const open = holes.filter((area) => area >= smallestMm2).reduce((sum, area) => sum + area, 0);
  const area = Math.max(0, Math.abs(ringArea(region.outer)) - open);
  return area + gapMm * Math.sqrt(Math.PI * area) + (Math.PI * gapMm ** 2) / 4;
}

/** False only where it is certain that no allowed turn brings the piece on to the sheet. */
export function mayFit({ region, turn, flatteningMm }: NestPiece, choice: SheetChoice): boolean {
  const kept = 2 * (choice.marginMm + flatteningMm) - ROUNDING * choice.widthMm;
  const width = choice.widthMm - kept;
  const stock = (choice.onHand ?? Infinity) * MM_PER_M;
  const sheetLength = choice.heightMm ?? Math.min(stock, choice.longestMm ?? Infinity);
  const height = sheetLength - kept;
  const hull = convexHull(region.outer);
  if (turn === "any") {
    const box = turnedAs(hull, 0, false).box;
    const length = Math.max(box.maxX - box.minX, box.maxY - box.minY);
    return (
      leastWidth(hull) <= Math.min(width, height) * (1 + ROUNDING) &&
      length <= Math.hypot(width, height)
    );
  }
  // Half turns and flips leave the box as large as it is.
  return (turn === "quarter" ? [0, 90] : [0]).some((turnDeg) => {
    const { minX, minY, maxX, maxY } = turnedAs(hull, turnDeg, false).box;
    return maxX - minX <= width && maxY - minY <= height;
  });
}

/** What can be bought to cover area with: whole sheets, or any length of a roll. */
interface Cover {
  readonly price: Amount;
  /** Of one sheet, mm2. */
  readonly area: number;
  readonly most: number;
}

/** Costs of the cheapest sheets whose areas add up to what these take at least; at least one sheet. */
function cheapestCover(
  choices: readonly SheetChoice[],
  demands: readonly Demand[],
  thinnestMm: number,
): Amount {
  const goesOn = choices.map((_, i) => demands.some(({ fits }) => fits[i]));
  const rolls = choices.filter(({ form }, i) => form === "roll" && goesOn[i]);
  const area = demands.reduce((sum, demand) => sum + demand.copies * demand.area, 0);
  let needed = area * (1 - ROUNDING);
  let perArea: Amount | null = null;
  for (const { price, widthMm, gapMm, marginMm, longestMm } of rolls) {
    const width = Math.max(0, widthMm - 2 * marginMm) + gapMm;
    // Only the length beyond both margins holds pieces, but may be grown by the gap: once, or in
    // each of the lengths that it is cut into, none of which is shorter than the thinnest piece.
    const grown = Math.max(0, gapMm - 2 * marginMm);
    if (longestMm === null) needed -= width * grown;
    const thinnest = thinnestMm + 2 * marginMm;
    const share = longestMm === null ? 1 : thinnest / (thinnest + grown || 1);
    const rate = width > 0 ? price.div(MM_PER_M).div(width).times(share) : null;
    if (rate !== null && (perArea === null || rate.lt(perArea))) perArea = rate;
  }
  const covers = choices.flatMap((choice, i) => {
    const portions = demands.filter(({ fits }) => fits[i]!);
    return choice.form === "sheet" ? [coverOf(choice, portions)] : [];
  });
  return cheapestOf(covers, Math.max(needed, 0), perArea);
}

function cheapestOf(all: readonly Cover[], needed: number, perArea: Amount | null): Amount {
  const covers = all
    .filter(({ area, most }) => area > 0 && most > 0)
    // A sheet that is dearer than the roll for its area covers nothing cheaper.
    .filter((cover) => perArea === null || perArea.times(cover.area).gt(cover.price))
    .sort((a, b) => a.price.times(b.area).cmp(b.price.times(a.area)));
  // A roll gives as much as is needed; without one, all pieces have room on no set of sheets.
  const inAll = covers.reduce((sum, cover) => sum + cover.area * cover.most, 0);
  const enough = perArea !== null || inAll >= needed;
  const supply = enough ? covers : covers.map((cover) => ({ ...cover, most: Infinity }));
  return coverCost(supply, needed, perArea);
}

function coverOf(choice: SheetChoice, portions: readonly Portion[]): Cover {
  const { price, onHand, panels = 1 } = choice;
  const area = attainableArea(portions, areaOffered(choice)) * panels;
  return { price, area, most: onHand ?? Infinity };
}

/**
 * What the copies on one sheet or panel take at most together, mm2: see {@link areaTaken}. On an odd
 * shape they stay within what lies half a gap less the margin from it, if that is outside; a body of
 * perimeter L grows by r L + pi r^2 at most (Steiner), and no more for each hole.
 */
export function areaOffered(choice: SheetChoice): number {
  const { widthMm, heightMm, marginMm, gapMm, outline } = choice;
  const side = (lengthMm: number) => Math.max(0, lengthMm - 2 * marginMm) + gapMm;
  const within = side(widthMm) * side(heightMm ?? 0);
  if (outline === undefined) return within;
  const { outer, holes } = outline.region;
  const grown = Math.max(0, gapMm / 2 - marginMm);
  const rim = [outer, ...holes].reduce((sum, ring) => sum + ringPerimeter(ring), 0);
  return Math.min(within, regionArea(outline.region) + grown * rim + Math.PI * grown ** 2);
}

/** Branches looked into before the bound by price per area alone is taken. */
const MOST_BRANCHES = 20_000;

/** Branch and bound over how many of each; covers come cheapest per area first. */
function coverCost(covers: readonly Cover[], needed: number, perArea: Amount | null): Amount {
  const relaxed = relaxedCost(covers, 0, needed, perArea);
  let best: Amount | null = perArea === null ? null : perArea.times(needed);
  let branches = 0;
  const branch = (at: number, left: number, spent: Amount, count: number): void => {
    if (++branches > MOST_BRANCHES) return;
    if (left <= 0 && (count > 0 || perArea !== null)) {
      if (best === null || spent.lt(best)) best = spent;
      return;
    }
    if (perArea !== null && (best === null || spent.plus(perArea.times(left)).lt(best)))
      best = spent.plus(perArea.times(left));
    const cover = covers[at];
    if (cover === undefined) return;
    const full = Math.max(1, Math.ceil(left / cover.area));
    for (let number = Math.min(full, cover.most); number >= 0; number--) {
      const rest = left - number * cover.area;
      const cost = spent.plus(cover.price.times(number));
      const hope = rest > 0 ? relaxedCost(covers, at + 1, rest, perArea) : new Amount(0);
      if (hope === null || (best !== null && !cost.plus(hope).lt(best))) {
        // Fewer of the cheapest per area cost more per area still.
        if (number < full) break;
        continue;
      }
      branch(at + 1, rest, cost, count + number);
    }
  };
  branch(0, needed, new Amount(0), 0);
  if (branches <= MOST_BRANCHES && best !== null) return best;
  return relaxed ?? new Amount(0);
}

/** Cost of covering with parts of sheets too; null when there are not enough. */
function relaxedCost(
  covers: readonly Cover[],
  from: number,
  needed: number,
  perArea: Amount | null,
): Amount | null {
  let cost = new Amount(0);
  let left = needed;
  for (const { price, area, most } of covers.slice(from)) {
    if (left <= 0) break;
    const used = Math.min(most, left / area);
    cost = cost.plus(price.times(used));
    // What is left over by rounding alone must not count as missing: a cheaper set would be lost.
    if (used < most) return cost;
    left -= used * area;
  }
  if (left <= 0) return cost;
  return perArea === null ? null : cost.plus(perArea.times(left));
}

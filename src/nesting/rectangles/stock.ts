import { lengthLeft, mostLength } from "../lengths.ts";
import type { SheetChoice } from "../types.ts";
import { entryOf } from "./entry.ts";
import { kindsOf, sidesOf, type Kind, type Sides } from "./kinds.ts";
import type { Room } from "./laying.ts";
import { inUnits, roomOf, type Rectangle } from "./sizes.ts";

/** All that a search for rectangles goes by. */
export interface Stock {
  readonly kinds: readonly Kind[];
  readonly offers: readonly Offer[];
  /** Of all kinds that fit on some offer. */
  readonly copies: number;
  /** What a copy of each kind is worth: its area at the rate of the cheapest offer it fits. */
  readonly weights: Float64Array;
  /** Of a copy of each kind, with the smallest gap, units squared. */
  readonly areas: Float64Array;
}

/** A size of sheet, or the longest length of a roll. */
export interface Offer {
  readonly choice: SheetChoice;
  /** As it lies, and with its sides swapped. */
  readonly upright: Room;
  readonly lying: Room;
  readonly cost: number;
  /** The cost to go by when it is chosen: never nothing, so that free sheets are not wasted. */
  readonly guide: number;
  readonly area: number;
  /** Sheets there are at most. */
  readonly most: number;
  /** For each kind. */
  readonly takes: readonly boolean[];
}

export function stockOf(rectangles: readonly Rectangle[], choices: readonly SheetChoice[]): Stock {
  const kinds = kindsOf(rectangles);
  const bare = choices.flatMap((choice) => offersOf(choice, kinds)).filter(({ area }) => area > 0);
  const dearest = Math.max(0, ...bare.map(({ cost, area }) => cost / area));
  const least = dearest > 0 ? dearest * LEAST_RATE : 1;
  const offers = bare.map((offer) => ({
    ...offer,
    guide: Number.isFinite(offer.area) ? Math.max(offer.cost, offer.area * least) : 1,
  }));
  const gap = Math.min(...choices.map(({ gapMm }) => inUnits(gapMm)));
  const areas = Float64Array.from(kinds, ({ width, height }) => (width + gap) * (height + gap));
  const rates = kinds.map((_, kind) =>
    Math.min(...offers.filter(({ takes }) => takes[kind]!).map(rateOf)),
  );
  const fitting = kinds.filter((_, kind) => rates[kind]! < Infinity);
  return {
    kinds,
    offers,
    copies: fitting.reduce((sum, { copies }) => sum + copies, 0),
    weights: areas.map((area, kind) => (rates[kind]! < Infinity ? area * rates[kind]! : 0)),
    areas,
  };
}

function rateOf({ guide, area }: Offer): number {
  return Number.isFinite(area) ? guide / area : 1;
}

/** Share of the dearest rate that a sheet counts with even when it costs nothing. */
const LEAST_RATE = 0.02;

type BareOffer = Omit<Offer, "guide">;

/** One for a size of sheet; for a roll its longest length, and what is left of it after those. */
function offersOf(choice: SheetChoice, kinds: readonly Kind[]): readonly BareOffer[] {
  const { form, onHand, longestMm, panels = 1 } = choice;
  const price = choice.price.toNumber() / panels;
  const most = mostLength(choice);
  if (form === "sheet") {
    const all = (onHand ?? Infinity) * panels;
    return all < 1 ? [] : [offerOf(choice, kinds, most, price, Math.floor(all))];
  }
  const perMm = price / 1000;
  if (!Number.isFinite(most)) return [offerOf(choice, kinds, most, 1, 1)];
  if (longestMm === null) return [offerOf(choice, kinds, most, most * perMm, 1)];
  const lengths = onHand === null ? Infinity : Math.floor(lengthLeft(choice, 0) / most);
  const rest = onHand === null ? 0 : lengthLeft(choice, lengths * most);
  return [
    offerOf(choice, kinds, most, most * perMm, lengths),
    ...(rest > 0 ? [offerOf(choice, kinds, rest, rest * perMm, 1)] : []),
  ].filter((offer) => offer.most > 0);
}

function offerOf(
  choice: SheetChoice,
  kinds: readonly Kind[],
  lengthMm: number,
  cost: number,
  most: number,
): BareOffer {
  const { width, height } = roomOf(choice, lengthMm);
  const sides = sidesOf(kinds, inUnits(choice.gapMm));
  const swapped: Sides = { ...sides, widths: sides.heights, heights: sides.widths };
  const takes = kinds.map(({ turnable }, kind) => {
    const [across, up] = [sides.widths[kind]!, sides.heights[kind]!];
    return (across <= width && up <= height) || (turnable && up <= width && across <= height);
  });
  return {
    choice,
    upright: { width, height, sides },
    lying: { width: height, height: width, sides: swapped },
    cost,
    area: Math.max(0, width) * Math.max(0, height),
    most,
    takes,
  };
}

/** Entries for the copies of all kinds that fit on some offer, by falling area. */
export function entriesOf({ kinds, offers }: Stock): readonly number[] {
  return kinds.flatMap(({ copies }, kind) =>
    offers.some(({ takes }) => takes[kind]!)
      ? Array.from({ length: copies }, () => entryOf(kind))
      : [],
  );
}

/** Nothing costs less: every copy at the cheapest rate that it can have, and whole sheets of one size. */
export function leastCost({ kinds, offers, areas }: Stock): number {
  let [sum, area] = [0, 0];
  for (const [kind, { copies }] of kinds.entries()) {
    const rates = offers
      .filter(({ takes }) => takes[kind]!)
      .map((offer) => offer.cost / offer.area);
    if (rates.length === 0) continue;
    sum += copies * areas[kind]! * Math.min(...rates);
    area += copies * areas[kind]!;
  }
  const only = offers.length === 1 ? offers[0]! : null;
  if (only === null || !Number.isFinite(only.area)) return sum * (1 - ROUNDING);
  return only.cost * Math.ceil((area / only.area) * (1 - ROUNDING));
}

/** So that rounding never lifts a bound above the truth. */
const ROUNDING = 1e-9;

import type { FeedRow, Operation, Spread, Tables } from "../job/types.ts";
import { checked, errorAt, inFile, warningAt } from "../problem.ts";
import type { Checked, Problem } from "../problem.ts";
import { sameText } from "../names.ts";
import { lengthText, sameThickness, trimmed } from "../units.ts";
import { exponentOf, feedAt, pointOf, spreadBy, usualExponent } from "./feed-rule.ts";
import type { Feed } from "./types.ts";

/**
 * Finding the feeds of a material on a machine: the row of its thickness, one measured there before
 * one from elsewhere; between two thicknesses by the rule of `feed-rule.ts`; a little beyond the
 * table by the same rule, with a warning; never farther, never from another machine, never zero.
 */

/**
 * One feed for each operation, in the order asked.
 * @returns problem `no-feed` for each operation that nothing can be said of, warning
 * `feed-beyond-table` for each that lies beyond the thicknesses there are.
 */
export function chooseFeeds(
  tables: Pick<Tables, "feeds">,
  machineId: string,
  material: string,
  thicknessMm: number,
  operations: readonly Operation[],
): Checked<readonly Feed[]> {
  const feeds: Feed[] = [];
  const problems: Problem[] = [];
  for (const operation of operations) {
    const rows = rowsFor(tables.feeds, machineId, material, operation);
    const asked: Asked = { machineId, material, thicknessMm, operation, rows };
    const inTable = exact(asked) ?? between(asked);
    const feed = inTable ?? beyond(asked);
    if (feed === null) problems.push(noFeed(asked));
    else feeds.push(feed);
    if (feed !== null && inTable === null) problems.push(beyondTable(asked, feed));
  }
  return checked(feeds, problems);
}

interface Asked {
  readonly machineId: string;
  readonly material: string;
  readonly thicknessMm: number;
  readonly operation: Operation;
  /** Of that machine, material and operation: one for each thickness, thinnest first. */
  readonly rows: readonly FeedRow[];
}

function rowsFor(
  feeds: readonly FeedRow[],
  machineId: string,
  material: string,
  operation: Operation,
): readonly FeedRow[] {
  const sameWork = feeds.filter(
    (row) =>
      row.machine === machineId && row.operation === operation && sameText(row.material, material),
  );
  const measuredFirst = sameWork.toSorted((a, b) => Number(b.measured) - Number(a.measured));
  return measuredFirst
    .filter((row) => measuredFirst.find((one) => sameSheet(one, row)) === row)
    .toSorted((a, b) => a.thicknessMm - b.thicknessMm);
}

function sameSheet(a: FeedRow, b: FeedRow): boolean {
  return sameThickness(a.thicknessMm, b.thicknessMm);
}

function exact({ rows, thicknessMm }: Asked): Feed | null {
  const row = rows.find((one) => sameThickness(one.thicknessMm, thicknessMm));
  return row === undefined ? null : { ...row, rows: [row.place], rule: null };
}

/** The nearest thickness on either side: these two rows say how the feed falls. */
function between({ rows, thicknessMm }: Asked): Feed | null {
  const thinner = rows.findLast((row) => row.thicknessMm < thicknessMm);
  const thicker = rows.find((row) => row.thicknessMm > thicknessMm);
  if (!thinner || !thicker) return null;
  return {
    ...onCurve(thicker, thinner, thicknessMm),
    measured: thinner.measured && thicker.measured,
  };
}

/** Past the thickest or thinnest row by the two nearest, or where there is one by what is usual. */
function beyond({ rows, thicknessMm, operation, material }: Asked): Feed | null {
  const [thinnest, second] = rows;
  if (thinnest === undefined) return null;
  const isThinner = thicknessMm < thinnest.thicknessMm;
  const near = isThinner ? thinnest : (rows.at(-1) ?? thinnest);
  const next = isThinner ? second : rows.at(-2);
  const [thin, thick] = isThinner
    ? [thicknessMm, near.thicknessMm]
    : [near.thicknessMm, thicknessMm];
  if (thick > thin * FARTHEST) return null;
  if (next !== undefined)
    return { ...onCurve(near, next, thicknessMm, NEVER_RISING), measured: false };
  const exponent = usualExponent(operation, material);
  if (exponent === null) return null;
  const feedMmS = spreadBy(
    (which) => near.passes * feedAt(pointOf(near, which), exponent, thicknessMm),
  );
  const rule = ruleText(exponent, [near]);
  return { ...near, thicknessMm, feedMmS, rows: [near.place], rule, measured: false };
}

/**
 * How far past the table, as a ratio of thicknesses (our own choice): the published exponents, 1.3
 * to 1.6, differ by 7 % in the feed there. Much thicker, the beam may not come through at all.
 */
const FARTHEST = 1.25;

/** Where two rows say that thicker is faster, nothing beyond them follows from it. */
const NEVER_RISING = 0;

/**
 * Each of the three feeds by the exponent of the two rows.
 * @param base whose passes and pierce hold: whole settings that can not lie in between. Between two
 * rows the thicker, since what takes it through more takes it through less.
 */
function onCurve(base: FeedRow, other: FeedRow, thicknessMm: number, least = -Infinity): Feed {
  const exponent = (which: keyof Spread): number =>
    Math.max(least, exponentOf(pointOf(base, which), pointOf(other, which)));
  const feedMmS = spreadBy(
    (which) => base.passes * feedAt(pointOf(base, which), exponent(which), thicknessMm),
  );
  const pair = [base, other].toSorted((a, b) => a.thicknessMm - b.thicknessMm);
  const rule = ruleText(exponent("likely"), pair);
  return { ...base, thicknessMm, feedMmS, rows: pair.map(({ place }) => place), rule };
}

/** `feed ~ thickness^-0.64, through 3 mm (12.5 mm/s) and 5 mm (9 mm/s)`. */
function ruleText(exponent: number, rows: readonly FeedRow[]): string {
  const points = rows.map(({ thicknessMm, feedMmS, passes }) => {
    const often = passes === 1 ? "" : ` in ${passes} passes`;
    return `${lengthText(thicknessMm)} (${trimmed(feedMmS.likely, 2)} mm/s${often})`;
  });
  return `feed ~ thickness^${trimmed(-exponent, 2)}, through ${points.join(" and ")}`;
}

function beyondTable(asked: Asked, { feedMmS, passes, rule }: Feed): Problem {
  const { machineId, material, thicknessMm, operation } = asked;
  const often = passes === 1 ? "" : ` in ${passes} passes`;
  return warningAt(inFile("feeds.csv"), {
    code: "feed-beyond-table",
    found: `no row to ${operation} ${material} ${lengthText(thicknessMm)} on ${machineId}`,
    expected: `a thickness within the rows there are, ${knownText(asked)}; ${trimmed(feedMmS.likely, 2)} mm/s${often} is taken, by ${rule}`,
    mend: "Cut a trial and add its row to feeds.csv: a little thicker, the beam may not come through",
  });
}

function knownText({ rows }: Asked): string {
  return rows.length === 0 ? "none" : rows.map((row) => lengthText(row.thicknessMm)).join(", ");
}

function noFeed(asked: Asked): Problem {
  const { machineId, material, thicknessMm, operation } = asked;
  return errorAt(inFile("feeds.csv"), {
    code: "no-feed",
    found: `no row to ${operation} ${material} ${lengthText(thicknessMm)} on ${machineId}`,
    expected: `a feed measured for it; thicknesses there are for this machine, material and operation: ${knownText(asked)}`,
    mend: "Add a row to feeds.csv, or choose another machine, material or thickness",
  });
}

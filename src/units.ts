/** Lengths are mm inside; this reads what people write and says what was understood. */

/** Exact by definition: the international inch. */
export const MM_PER_INCH = 25.4;
export const MM2_PER_M2 = 1_000_000;

const MM_PER_UNIT: ReadonlyMap<string, number> = new Map([
  ["", 1],
  ["mm", 1],
  ["cm", 10],
  ["m", 1000],
  ["in", MM_PER_INCH],
  ["inch", MM_PER_INCH],
  ["inches", MM_PER_INCH],
  ['"', MM_PER_INCH],
  // What spreadsheets and people make of the inch mark: double prime, closing quote.
  ["\u2033", MM_PER_INCH],
  ["\u201D", MM_PER_INCH],
]);

const LENGTH =
  /^(?:(?<whole>\d+)(?:\s+|-))?(?<top>\d+)\/(?<bottom>\d+)\s*(?<fractionUnit>[a-z"\u2033\u201D]+)$|^(?<number>\d+(?:\.\d+)?|\.\d+)\s*(?<unit>[a-z"\u2033\u201D]*)$/i;

/**
 * Reads `12`, `12 mm`, `1.2cm`, `0.5 in`, `1/8 in`, `1 1/2 in`, `3"`. A bare number is mm; a
 * fraction needs its unit, because `3/4` alone hardly ever means 0.75 mm.
 * @returns the length in mm, zero or more, or null when it is none.
 */
export function parseLength(text: string): number | null {
  const groups = LENGTH.exec(text.trim())?.groups;
  if (!groups) return null;
  const { whole, top, bottom, number } = groups;
  const factor = MM_PER_UNIT.get((groups["fractionUnit"] ?? groups["unit"] ?? "").toLowerCase());
  if (factor === undefined) return null;
  const count =
    number === undefined ? Number(whole ?? 0) + Number(top) / Number(bottom) : Number(number);
  const mm = tidy(count * factor);
  return Number.isFinite(mm) ? mm : null;
}

/** `3.175 mm`: at most 4 decimals, as echoed to the person. */
export function lengthText(mm: number): string {
  return `${trimmed(mm, 4)} mm`;
}

/** Far below what sheets differ by, and above the dust of inches turned into mm. */
const SAME_THICKNESS_MM = 0.001;

/** Whether two thicknesses are that of the same sheet. */
export function sameThickness(a: number, b: number): boolean {
  return Math.abs(a - b) <= SAME_THICKNESS_MM;
}

/** `birch plywood 5 mm`: a material in one thickness, as it is called everywhere. */
export function stockName(stock: {
  readonly material: string;
  readonly thicknessMm: number;
}): string {
  return `${stock.material} ${lengthText(stock.thicknessMm)}`;
}

/** `600 x 400 mm`, or `roll 500 mm wide` where there is no height. */
export function sizeText(widthMm: number, heightMm: number | null): string {
  const width = trimmed(widthMm, 1);
  return heightMm === null ? `roll ${width} mm wide` : `${width} x ${trimmed(heightMm, 1)} mm`;
}

/** A number with at most `decimals` decimals and no trailing zeros; never `-0`. */
export function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes(".") ? text.replace(/\.?0+$/, "") : text;
  return short === "-0" ? "0" : short;
}

/** `4:07 min` or `1:02:09 h`, to the nearest second. */
export function clockText(seconds: number): string {
  const whole = Math.round(seconds);
  const [h, m, s] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60, whole % 60];
  return h > 0 ? `${h}:${twoDigits(m)}:${twoDigits(s)} h` : `${m}:${twoDigits(s)} min`;
}

function twoDigits(value: number): string {
  return String(value).padStart(2, "0");
}

/** Removes the binary dust of 0.1 * 254, far below anything a caliper shows. */
function tidy(mm: number): number {
  return Math.round(mm * 1e9) / 1e9;
}

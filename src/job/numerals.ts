/** Numbers as people and spreadsheets write them: what a text that is no plain number probably says. */

/** Digits and at most one point: no sign, no exponent, no grouping. */
export function isPlain(cell: string): boolean {
  return /^\d+(\.\d+)?$/.test(cell);
}

/**
 * What to do about a text that is no number of the wanted kind, or null when nothing is plain:
 * `Write 1250.50, without marks between thousands, with a decimal point`.
 * @param reads whether a text is of the wanted kind.
 * @param surplus what may stand beside such a number and changes nothing when it is left out. A
 *   unit is not among it: `2.4 m` is not 2.4 mm.
 */
export function numeralMend(
  cell: string,
  reads: (text: string) => boolean,
  surplus: Repair | null,
): string | null {
  if (/^[-\u2212\u2013]\s*[\d.]/.test(cell))
    return "Write it without the minus sign, or correct it";
  const twofold = twoReadings(cell, reads);
  if (twofold !== null) return twofold;
  const repairs = surplus === null ? REPAIRS : [PLAIN_DIGITS, surplus, ...REPAIRS];
  let text = cell;
  const how: string[] = [];
  for (const { says, made } of repairs) {
    const next = made(text);
    if (next !== text) how.push(says);
    text = next;
  }
  return text !== cell && reads(text) ? `Write ${[text, ...how].join(", ")}` : null;
}

/**
 * The same number with a point for its decimal comma: `12,5 mm` is `12.5 mm`; null for anything
 * else, also for `1.200,5`.
 */
export function withPoint(cell: string): string | null {
  return /^\d+,\d+(?![\d.,])/.test(cell) ? cell.replace(",", ".") : null;
}

/** Whether its comma can only be a decimal one: thousands have three digits and no leading zero. */
export function hasDecimalComma(cell: string): boolean {
  return withPoint(cell) !== null && !/^[1-9]\d{0,2},\d{3}(?!\d)/.test(cell);
}

/** Whether its point can only be a decimal one. */
export function hasDecimalPoint(cell: string): boolean {
  return /^\d*\.\d/.test(cell) && !/^[1-9]\d{0,2}\.\d{3}(?!\d)/.test(cell);
}

/** The two numbers that `1.250` may be. */
export interface Readings {
  /** `1250`. */
  readonly thousands: string;
  /** `1.25`, or `3.1750`: as it can be taken for nothing else. */
  readonly decimal: string;
}

/** Null for a number whose point, if it has one, can only be a decimal one. */
export function readingsOf(cell: string): Readings | null {
  if (!/^[1-9]\d{0,2}\.\d{3}(?![\d.,])/.test(cell)) return null;
  const decimal = cell
    .replace(/(\.\d*[1-9])0+(?!\d)|\.0+(?!\d)/, "$1")
    .replace(/(\.\d{3})(?!\d)/, "$10");
  return { thousands: cell.replace(".", ""), decimal };
}

export interface Repair {
  /** Completes "Write 12.50, ...". */
  readonly says: string;
  readonly made: (text: string) => string;
}

const PLAIN_DIGITS: Repair = { says: "in plain digits", made: plainDigits };

/** In this order: each takes the text as those before it have left it. */
const REPAIRS: readonly Repair[] = [
  PLAIN_DIGITS,
  { says: "without a sign", made: (text) => text.replace(/^\+\s*(?=[\d.])/, "") },
  { says: "without the percent sign", made: (text) => text.replace(/(\d)\s*%$/, "$1") },
  { says: "without an exponent", made: writtenOut },
  { says: "without marks between thousands", made: ungrouped },
  { says: "with a decimal point", made: (text) => withPoint(text) ?? text },
  { says: "with a digit before the point", made: (text) => text.replace(/^\.(?=\d)/, "0.") },
  { says: "without the point", made: (text) => text.replace(/^(\d+)\.(?!\d)/, "$1") },
];

/** A sign, or a code of ISO 4217. */
export const NO_CURRENCY: Repair = {
  says: "without the currency",
  made: (text) =>
    text.replace(/^(?:\p{Sc}|[A-Z]{3})\s*(?=[\d.])|(\d)\s*(?:\p{Sc}|[A-Z]{3})$/u, "$1"),
};

export const NO_PIECES: Repair = {
  says: "in digits only",
  made: (text) => text.replace(/^x\s*(?=\d)|(\d)\s*(?:x|off|pcs?\.?|pieces?)$/i, "$1"),
};

/** `1,250`, and `1.250` where there are no decimals: one slip, and the price is a thousandth. */
function twoReadings(cell: string, reads: (text: string) => boolean): string | null {
  const [, mark] = /^[1-9]\d{0,2}([.,])\d{3}(?![\d.,])/.exec(cell) ?? [];
  if (mark === undefined) return null;
  const thousands = cell.replace(mark, "");
  const decimal = cell.replace(mark, ".").replace(/(\.\d*[1-9])0+(?!\d)|\.0+(?!\d)/, "$1");
  if (!reads(thousands)) return null;
  if (!reads(decimal)) return `Write ${thousands} if thousands are meant`;
  return decimal.includes(".")
    ? `Write ${thousands} for thousands or ${decimal} with a decimal point`
    : `Write ${thousands} if thousands are meant, or ${decimal}`;
}

/** Full-width digits and signs, and fractions in one character. */
function plainDigits(text: string): string {
  const narrow = text.replace(/[\uFF01-\uFF5E]/g, (wide) =>
    String.fromCodePoint((wide.codePointAt(0) ?? 0) - FULL_WIDTH_SHIFT),
  );
  return narrow.replace(/\s*([\u00BC-\u00BE\u2150-\u215E])/g, (_, one: string, at: number) => {
    const fraction = one.normalize("NFKC").replace("\u2044", "/");
    return at === 0 ? fraction : ` ${fraction}`;
  });
}

/** Unicode: the full-width forms stand in the order of ASCII. */
const FULL_WIDTH_SHIFT = 0xfee0;

/** `1.2e3` is `1200`; numbers that would not be written so are left. */
function writtenOut(text: string): string {
  const [, number = "", rest = ""] = /^(\d+(?:\.\d+)?e[+-]?\d{1,2})(?!\d)(.*)$/i.exec(text) ?? [];
  const plain = String(Number(number));
  return number !== "" && isPlain(plain) ? plain + rest : text;
}

/** `1 250`, `1'250.50` and `1.250,50` without what parts the thousands. */
function ungrouped(text: string): string {
  const [, whole = "", mark = "", rest = ""] =
    /^(\d{1,3}(?:([ \u00A0\u2009\u202F'\u2019_.,])\d{3})(?:\2\d{3})*)(?!\d)(.*)$/.exec(text) ?? [];
  if (whole === "") return text;
  const groups = whole.split(mark).length - 1;
  const decimals = /^[.,]\d/.test(rest) && !rest.startsWith(mark);
  const plainly = !".,".includes(mark) || groups > 1 || decimals;
  return plainly ? whole.replaceAll(mark, "") + rest : text;
}

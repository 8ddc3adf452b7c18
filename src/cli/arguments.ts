/** What every command takes, as typed; numbers are checked here because yargs lets NaN through. */

export interface RawArguments {
  readonly job?: string | undefined;
  readonly figure?: string | undefined;
  readonly earlier?: string | undefined;
  readonly pieces?: string | undefined;
  readonly out?: string | undefined;
  readonly material?: string | undefined;
  readonly thickness?: string | undefined;
  readonly done?: string | undefined;
  readonly log?: string | undefined;
  readonly tables?: string | undefined;
  readonly seed?: string | undefined;
  readonly steps?: string | undefined;
  readonly seconds?: string | undefined;
  readonly json?: boolean | undefined;
  readonly decimalComma?: boolean | undefined;
}

export interface CommandArguments {
  readonly job: string;
  /** Folder that replaces the built-in tables; null for the built-in ones. */
  readonly tables: string | null;
  readonly seed: number;
  readonly steps: number;
  /** Seconds after which nesting ends with its best; null for no limit but the steps. */
  readonly seconds: number | null;
  readonly json: boolean;
}

/** A usage error, said on stderr; exit 2. */
export class UsageError extends Error {}

export const DEFAULT_SEED = 1;
/** Passes that nest a usual job in a few seconds. */
export const DEFAULT_STEPS = 4;
/** With `--seconds` alone the clock ends the work, not the passes. */
const ENDLESS_STEPS = 999_999;

/** @throws UsageError naming the option and what it takes. */
export function commandArguments(raw: RawArguments): CommandArguments {
  const empty = TEXTS.find((name) => raw[name]?.trim() === "");
  if (empty !== undefined) throw new UsageError(`the text for ${empty} is empty`);
  const seconds =
    raw.seconds === undefined ? null : numberOf("seconds", raw.seconds, /^\d+(\.\d+)?$/);
  if (seconds !== null && raw.steps !== undefined)
    throw new UsageError("--steps and --seconds exclude each other: give one of them");
  const steps = raw.steps === undefined ? null : numberOf("steps", raw.steps, /^[1-9]\d{0,5}$/);
  return {
    job: raw.job ?? "",
    tables: raw.tables ?? null,
    seed: raw.seed === undefined ? DEFAULT_SEED : numberOf("seed", raw.seed, /^\d{1,9}$/),
    steps: steps ?? (seconds === null ? DEFAULT_STEPS : ENDLESS_STEPS),
    seconds,
    json: raw.json ?? false,
  };
}

const TEXTS = [
  "job",
  "figure",
  "earlier",
  "out",
  "done",
  "log",
  "tables",
  "material",
  "thickness",
] as const;

const TAKES: Readonly<Record<string, string>> = {
  seed: "a whole number of at most 9 digits",
  steps: "a whole number from 1 to 999999",
  seconds: "a number of seconds such as 10 or 2.5",
};

function numberOf(name: string, text: string, form: RegExp): number {
  if (form.test(text)) return Number(text);
  throw new UsageError(`--${name} takes ${TAKES[name]}, not "${text}"`);
}

/** Numbers of pieces that are asked for most. */
const USUAL_LOTS: readonly number[] = [1, 2, 5, 10, 25];
const MOST_LOTS = 12;

/** @throws UsageError for anything but whole numbers with commas between. */
export function lotSizes(text: string | undefined): readonly number[] {
  if (text === undefined) return USUAL_LOTS;
  const numbers = text.split(",").map((one) => one.trim());
  if (numbers.length <= MOST_LOTS && numbers.every((one) => /^[1-9]\d{0,5}$/.test(one)))
    return numbers.map(Number);
  throw new UsageError(
    `--pieces takes up to ${MOST_LOTS} whole numbers with commas between, such as 1,2,5,10, not "${text}"`,
  );
}

/** Colours asked for by what they mean; the only file that knows colour names. */

export type Tone =
  | "title"
  | "muted"
  | "selected"
  | "good"
  | "caution"
  | "problem"
  | "money"
  | "picture";

export interface Look {
  readonly color?: string;
  readonly bold?: boolean;
  readonly dimColor?: boolean;
  readonly inverse?: boolean;
}

export type Theme = Readonly<Record<Tone, Look>>;

/** From the 16 colours that every terminal lets its owner choose: fit for dark and light. */
const COLOURED: Theme = {
  title: { bold: true },
  muted: { dimColor: true },
  selected: { inverse: true },
  good: { color: "green" },
  caution: { color: "yellow" },
  problem: { color: "red", bold: true },
  money: { color: "cyan", bold: true },
  picture: { color: "cyan", bold: true },
};

/** Bold and inverse stay: they are no colours, and every state is a word besides. */
const COLOURLESS: Theme = {
  title: { bold: true },
  muted: {},
  selected: { inverse: true },
  good: {},
  caution: {},
  problem: { bold: true },
  money: { bold: true },
  picture: { bold: true },
};

/** `NO_COLOR` counts when set and not empty; a dumb terminal has no colours either. */
export function themeFor(environment: Readonly<Record<string, string | undefined>>): Theme {
  const colourless = (environment["NO_COLOR"] ?? "") !== "" || environment["TERM"] === "dumb";
  return colourless ? COLOURLESS : COLOURED;
}

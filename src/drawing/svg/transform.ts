import { compose, IDENTITY } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import { unitVector } from "../../geometry/arc.ts";
import { numberList } from "./lengths.ts";

const STEP = /\s*,?\s*([a-zA-Z]+)\s*\(([^)]*)\)/y;

/** A `transform` attribute as one map (SVG 1.1 section 7.6); null when it can not be read. */
export function readTransform(text: string): Affine | null {
  const trimmed = text.trim();
  if (trimmed === "" || trimmed === "none") return IDENTITY;
  let whole = IDENTITY;
  let position = 0;
  while (position < trimmed.length) {
    STEP.lastIndex = position;
    const [matched, name = "", list = ""] = STEP.exec(trimmed) ?? [];
    const step = matched === undefined ? null : stepMatrix(name, numberList(list));
    if (matched === undefined || step === null) return null;
    whole = compose(whole, step);
    position += matched.length;
  }
  return whole;
}

function stepMatrix(name: string, values: readonly number[] | null): Affine | null {
  const read = STEPS[name];
  if (values === null || read === undefined || !read.counts.includes(values.length)) return null;
  return values.every(Number.isFinite) ? read.matrix(values) : null;
}

interface StepKind {
  /** How many numbers it takes. */
  readonly counts: readonly number[];
  readonly matrix: (values: readonly number[]) => Affine;
}

const STEPS: Readonly<Record<string, StepKind>> = {
  matrix: {
    counts: [6],
    matrix: ([a = 1, b = 0, c = 0, d = 1, e = 0, f = 0]) => ({ a, b, c, d, e, f }),
  },
  translate: { counts: [1, 2], matrix: ([x = 0, y = 0]) => translation(x, y) },
  scale: { counts: [1, 2], matrix: ([x = 1, y = x]) => ({ ...IDENTITY, a: x, d: y }) },
  rotate: { counts: [1, 3], matrix: ([degrees = 0, x = 0, y = 0]) => rotation(degrees, x, y) },
  skewX: { counts: [1], matrix: ([degrees = 0]) => ({ ...IDENTITY, c: tangent(degrees) }) },
  skewY: { counts: [1], matrix: ([degrees = 0]) => ({ ...IDENTITY, b: tangent(degrees) }) },
};

function translation(x: number, y: number): Affine {
  return { ...IDENTITY, e: x, f: y };
}

function rotation(degrees: number, x: number, y: number): Affine {
  const { x: cosine, y: sine } = unitVector(degrees);
  const turn = { a: cosine, b: sine, c: -sine, d: cosine, e: 0, f: 0 };
  return compose(translation(x, y), compose(turn, translation(-x, -y)));
}

function tangent(degrees: number): number {
  return Math.tan((degrees * Math.PI) / 180);
}

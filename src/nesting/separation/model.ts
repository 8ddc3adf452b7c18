import { unitVector } from "../../geometry/arc.ts";
import type { Box } from "../../geometry/types.ts";
import type { Convex } from "../convex.ts";
import { GrownParts } from "../grown.ts";
import { noFitOf } from "../no-fit.ts";
import { OverlapField } from "./overlap-field.ts";

/** What the search knows of a shape. */
export interface Form {
  /** Convex parts that cover the material, as drawn. */
  readonly parts: readonly Convex[];
  /** What is kept free around it: half the gap, and what its curves may lie outside of the parts, mm. */
  readonly clearMm: number;
  /** Of its convex hull, mm2. */
  readonly hullMm2: number;
}

/** A shape as it may be laid, known by its number: a turn and a side. */
export interface Stance {
  readonly form: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  /** Around the shape so laid, its 0,0 at 0,0: this must lie inside the margin of a sheet. */
  readonly box: Box;
}

/**
 * All stances of all shapes, and how deep any two of them overlap. Two copies that are turned
 * together overlap as before, so a field is kept by how the second copy lies as seen from the first.
 */
export class Model {
  readonly stances: readonly Stance[];
  /** For each form the numbers of its stances. */
  readonly stancesOf: readonly (readonly number[])[];
  /** By stance, as flat as the search wants it: its box, what it is turned by, -1 where mirrored. */
  readonly minX: Float64Array;
  readonly minY: Float64Array;
  readonly maxX: Float64Array;
  readonly maxY: Float64Array;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  readonly side: Float64Array;
  /** By stance: how far outside of its box it may be in another's way, mm. */
  readonly reach: Float64Array;
  /** By form: how much its overlaps matter; 1 in the mean. */
  readonly heft: Float64Array;
  /** By making fields, in depths asked for. */
  spent = 0;
  readonly #forms: readonly Form[];
  readonly #cells: number;
  /** By two stances, and by what they share. */
  #fields: (OverlapField | undefined)[];
  #shared = new Map<string, OverlapField>();
  #bytes = 0;

  constructor(forms: readonly Form[], stances: readonly Stance[]) {
    this.#forms = forms;
    this.stances = stances;
    this.stancesOf = forms.map((_, form) =>
      stances.flatMap((stance, number) => (stance.form === form ? [number] : [])),
    );
    this.minX = Float64Array.from(stances, ({ box }) => box.minX);
    this.minY = Float64Array.from(stances, ({ box }) => box.minY);
    this.maxX = Float64Array.from(stances, ({ box }) => box.maxX);
    this.maxY = Float64Array.from(stances, ({ box }) => box.maxY);
    this.cosine = Float64Array.from(stances, ({ turnDeg }) => unitVector(turnDeg).x);
    this.sine = Float64Array.from(stances, ({ turnDeg }) => unitVector(turnDeg).y);
    this.side = Float64Array.from(stances, ({ mirrored }) => (mirrored ? -1 : 1));
    this.reach = Float64Array.from(stances, ({ form }) => forms[form]!.clearMm * ROUND);
    this.heft = hefts(forms);
    this.#cells = forms.length > MANY_FORMS ? FEW_CELLS : CELLS;
    this.#fields = this.#noFields();
  }

  /** With other stances of the same forms, and the fields made so far. */
  withStances(stances: readonly Stance[]): Model {
    const model = new Model(this.#forms, stances);
    model.#shared = this.#shared;
    model.#bytes = this.#bytes;
    return model;
  }

  /** Of stance `b` about stance `a`, which is not above it; in the frame of `a` as drawn. */
  field(a: number, b: number): OverlapField {
    const key = a * this.stances.length + b;
    return (this.#fields[key] ??= this.#shareOf(this.stances[a]!, this.stances[b]!));
  }

  #shareOf(a: Stance, b: Stance): OverlapField {
    const turnDeg =
      (((a.mirrored ? a.turnDeg - b.turnDeg : b.turnDeg - a.turnDeg) % 360) + 360) % 360;
    const mirrored = a.mirrored !== b.mirrored;
    const key = `${a.form} ${b.form} ${turnDeg.toFixed(TURN_DIGITS)} ${mirrored}`;
    const known = this.#shared.get(key);
    if (known !== undefined) return known;
    const [one, other] = [this.#forms[a.form]!, this.#forms[b.form]!];
    const drawn = new GrownParts(one.parts, AS_DRAWN, one.clearMm);
    const seen = new GrownParts(other.parts, { turnDeg, mirrored }, other.clearMm);
    const made = new OverlapField(noFitOf(drawn, seen), this.#cells);
    this.#bytes += made.bytes;
    this.spent += made.making;
    if (this.#bytes > MOST_BYTES) {
      this.#shared = new Map();
      this.#fields = this.#noFields();
      this.#bytes = made.bytes;
    }
    this.#shared.set(key, made);
    return made;
  }

  #noFields(): undefined[] {
    return Array.from({ length: this.stances.length ** 2 }, () => undefined);
  }
}

/** Keeps the fields from one beginning of a lane to the next, for they take long to make. */
export class KeptModel {
  #model: Model | null = null;

  /** @param forms always the same; only stances may differ from time to time. */
  of(stances: readonly Stance[], forms: () => readonly Form[]): Model {
    if (this.#model === null) this.#model = new Model(forms(), stances);
    else if (!areSame(this.#model.stances, stances)) this.#model = this.#model.withStances(stances);
    return this.#model;
  }
}

function areSame(a: readonly Stance[], b: readonly Stance[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ form, turnDeg, mirrored }, index) => {
      const other = b[index]!;
      return form === other.form && turnDeg === other.turnDeg && mirrored === other.mirrored;
    })
  );
}

const AS_DRAWN = { turnDeg: 0, mirrored: false };
/** A corner of the polygon that stands for a circle lies so much further out; see {@link GrownParts}. */
const ROUND = 1.02;
/** Turns that differ by less are the same: 1e-9 degrees are 2e-9 mm over 100 mm. */
const TURN_DIGITS = 9;
const CELLS = 48;
/** With more forms than this each pair is asked less often, and there are more of them. */
const MANY_FORMS = 24;
const FEW_CELLS = 24;
/** More fields are made anew when needed. */
const MOST_BYTES = 2 ** 28;

/** Large and widely spread shapes are hard to find room for, so they are settled first. */
function hefts(forms: readonly Form[]): Float64Array {
  const sizes = Float64Array.from(forms, ({ hullMm2 }) => hullMm2 ** HEFT_POWER);
  const mean = sizes.reduce((sum, size) => sum + size, 0) / sizes.length;
  return sizes.map((size) => size / mean);
}

/** Of two shapes the product counts: the square root of a length (Gardeyn, Vanden Berghe and Wauters 2025). */
const HEFT_POWER = 0.25;

import { applyToPath, compose, IDENTITY } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import type { LineRule } from "../../job/types.ts";
import { errorAt, warningAt } from "../../problem.ts";
import type { Fault, Place, Problem } from "../../problem.ts";
import type { DrawnLine } from "../drawn-line.ts";
import { operationOf, ruleFor } from "../line-rules.ts";
import type { LineMarks } from "../line-rules.ts";
import { isOnEarth } from "../svg/on-earth.ts";
import { BY_LAYER, drawnColour } from "./colours.ts";
import type { Block, DxfDocument, Entity } from "./document.ts";
import { isBand, readerOf } from "./entities.ts";
import { Fields, nameKey } from "./fields.ts";
import { isRaised } from "./flatness.ts";
import * as inserts from "./inserts.ts";
import type { Hidden } from "./layers.ts";
import { LeftOut, UNDRAWN } from "./left-out.ts";
import { SPLINE_MM } from "./splines.ts";
import { UnseenLines } from "./unseen.ts";

/** What an entity takes over from the INSERT around it. */
interface State {
  readonly matrix: Affine;
  /** Of entities on layer 0. */
  readonly layer: string;
  /** Of entities whose colour is by block. */
  readonly colour: string;
}

const MOST_DEPTH = 64;

/** Goes through the entities of a drawing and its blocks, and collects lines in mm. */
export class Walk {
  readonly lines: DrawnLine[] = [];
  /** Of everything drawn, also of what is hidden or left out. */
  readonly marks: LineMarks[] = [];
  readonly #problems: Problem[] = [];
  readonly #leftOut = new LeftOut();
  readonly #unseen = new UnseenLines();
  readonly #bands: Place[] = [];
  readonly #raised: Place[] = [];
  readonly #file: string;
  readonly #document: DxfDocument;
  /** The only layer that is taken, as a key; null for all. */
  readonly #only: string | null;
  readonly #rules: readonly LineRule[];
  /** Keys of the blocks around. */
  readonly #around: string[] = [];
  /** Copies of blocks and of the entities in them, counted before they are drawn. */
  #copied = 0;

  constructor(
    file: string,
    document: DxfDocument,
    layer: string | null,
    rules: readonly LineRule[],
  ) {
    this.#file = file;
    this.#document = document;
    this.#only = layer === null ? null : nameKey(layer);
    this.#rules = rules;
  }

  /** @param unitMm mm in one unit of the drawing. */
  follow(unitMm: number): void {
    const matrix = { ...IDENTITY, a: unitMm, d: unitMm };
    for (const entity of this.#document.entities)
      this.#visit(entity, { matrix, layer: "0", colour: "#000000" });
  }

  /** Whether all that can not be worked are notes and pictures, which draw no lines. */
  get isWhole(): boolean {
    return this.#problems.length === 0 && !this.#leftOut.hidesLines;
  }

  get problems(): Problem[] {
    return [
      ...this.#problems,
      ...this.#leftOut.problems(this.#file),
      ...this.#unseen.problems(this.#file),
      ...counted(this.#bands, bands),
      ...counted(this.#raised, raised),
    ];
  }

  #visit(entity: Entity, outer: State): void {
    const { record } = entity;
    if (UNDRAWN.has(record.type)) return;
    const fields = new Fields(record);
    const own = fields.text(8) ?? "0";
    const layer = own === "0" ? outer.layer : own;
    const hidden = this.#hiding(layer);
    if (fields.flags(67) === 1) this.#unseen.add("in paper space", layer, record.line);
    else if (fields.flags(60) === 1) this.#unseen.add("invisible", layer, record.line);
    else if (record.type === "INSERT" && hidden !== "frozen")
      this.#insert(entity, fields, { ...outer, layer });
    else if (this.#only !== null && nameKey(layer) !== this.#only) return;
    else if (hidden !== null) this.#hide(hidden, layer, record.line);
    else this.#draw(entity, fields, { ...outer, layer });
  }

  #hide(why: Hidden & string, layer: string, line: number): void {
    this.marks.push(markedBy(layer, ""));
    this.#unseen.add(why, layer, line);
  }

  /** A layer that is asked for by name need not be plotted. */
  #hiding(layer: string): Hidden {
    const hidden = this.#document.layers.get(nameKey(layer))?.hidden ?? null;
    return hidden === "not plotted" && this.#only === nameKey(layer) ? null : hidden;
  }

  #insert(entity: Entity, fields: Fields, state: State): void {
    for (const { type, line } of entity.parts) this.#leave(type, line, state.layer);
    const name = fields.text(2) ?? "";
    const block = this.#document.blocks.get(nameKey(name));
    const fault = this.#unfit(name, block);
    if (fault !== null || block === undefined)
      return this.#report(entity, state.layer, fault ?? inserts.noSuchBlock(name));
    if (this.#copied > inserts.MOST_COPIES) return;
    const matrices = inserts.readInsert(fields, inserts.readBase(block.record));
    if (this.#refused(entity, fields, state.layer)) return;
    if (isRaised(fields))
      this.#raised.push(this.#at(entity.record.line, state.layer, entity.record.type));
    this.#copied += matrices.length * (1 + block.entities.length);
    if (this.#copied > inserts.MOST_COPIES)
      return this.#report(entity, state.layer, inserts.tooManyCopies());
    const colour = this.#colourOf(fields, state);
    this.#around.push(nameKey(name));
    for (const matrix of matrices)
      for (const inner of block.entities)
        this.#visit(inner, { ...state, matrix: compose(state.matrix, matrix), colour });
    this.#around.pop();
  }

  #unfit(name: string, block: Block | undefined): Fault | null {
    if (block === undefined) return inserts.noSuchBlock(name);
    if (inserts.isReference(block.record)) return inserts.otherFile(name);
    if (this.#around.includes(nameKey(name))) return inserts.blockInItself(name);
    return this.#around.length >= MOST_DEPTH ? inserts.tooDeep(MOST_DEPTH) : null;
  }

  #draw(entity: Entity, fields: Fields, state: State): void {
    const { record } = entity;
    const marks = markedBy(state.layer, this.#colourOf(fields, state));
    const operation = operationOf(marks, this.#rules);
    if (operation === null) {
      this.marks.push(marks);
      return;
    }
    const read = readerOf(entity);
    if (read === null) return this.#leave(record.type, record.line, state.layer);
    const { a, b, c, d } = state.matrix;
    const paths = read(fields, entity, SPLINE_MM / Math.hypot(a, b, c, d));
    const banded = isBand(entity, fields);
    if (this.#refused(entity, fields, state.layer)) return;
    const place = this.#at(record.line, state.layer, record.type);
    if (banded) this.#bands.push(place);
    if (isRaised(fields)) this.#raised.push(place);
    this.marks.push(marks);
    for (const drawn of paths) {
      const path = applyToPath(state.matrix, drawn);
      if (isOnEarth(path)) this.lines.push({ path, operation, place });
      else this.#report(entity, state.layer, tooLarge());
    }
  }

  #colourOf(fields: Fields, { layer, colour }: State): string {
    const index = fields.number(62, BY_LAYER);
    const own = drawnColour(index, fields.number(420, -1));
    if (own !== null) return own;
    return index === BY_LAYER ? (this.#document.layers.get(nameKey(layer))?.colour ?? "") : colour;
  }

  #leave(type: string, line: number, layer: string): void {
    const isElsewhere = this.#only !== null && nameKey(layer) !== this.#only;
    if (isElsewhere || this.#hiding(layer) !== null) return;
    const marks = markedBy(layer, "");
    this.marks.push(marks);
    if (operationOf(marks, this.#rules) === null) return;
    this.#leftOut.add(type, layer, line, ruleFor(marks, this.#rules) !== null);
  }

  /** Whether anything is wrong with the entity's values; all of it is reported. */
  #refused({ record }: Entity, fields: Fields, layer: string): boolean {
    for (const { line, fault } of fields.faults)
      this.#problems.push(errorAt(this.#at(line, layer, record.type), fault));
    return fields.faults.length > 0;
  }

  #report({ record }: Entity, layer: string, fault: Fault): void {
    this.#problems.push(errorAt(this.#at(record.line, layer, record.type), fault));
  }

  #at(line: number, layer: string, type: string): Place {
    return { file: this.#file, line, column: `layer ${layer}: ${type}` };
  }
}

function markedBy(layer: string, stroke: string): LineMarks {
  return { classes: [], ids: [], layers: [layer], stroke };
}

/** One warning for all places, at the first. */
function counted(places: readonly Place[], fault: (count: number) => Fault): Problem[] {
  const [first] = places;
  return first === undefined ? [] : [warningAt(first, fault(places.length))];
}

function bands(count: number): Fault {
  return {
    code: "dxf-width",
    found: count === 1 ? "a polyline with a width" : `${count} polylines with a width`,
    expected: "lines without a width; these are worked along their middle",
    mend: "Set the width to 0, or draw both edges",
  };
}

function raised(count: number): Fault {
  return {
    code: "dxf-raised",
    found: count === 1 ? "an entity at a height (z)" : `${count} entities at a height (z)`,
    expected: "a drawing in the plane z 0; these are worked as they are seen from above",
    mend: "Flatten the drawing to the plane z 0 and save it again",
  };
}

function tooLarge(): Fault {
  return {
    code: "dxf-number",
    found: "coordinates beyond a kilometre",
    expected: "lines near 0,0",
    mend: "Correct the units, or move the drawing to 0,0",
  };
}

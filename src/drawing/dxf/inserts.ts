import { compose, IDENTITY } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import { unitVector } from "../../geometry/arc.ts";
import type { Point } from "../../geometry/types.ts";
import type { Fault } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import { Fields } from "./fields.ts";
import { readExtrusion } from "./flatness.ts";
import type { DxfRecord } from "./records.ts";

/** INSERT: copies of a block, each moved, scaled, mirrored and turned. */

/** More copies are a trap, not a drawing. */
export const MOST_COPIES = 250_000;

/**
 * The maps from the block's coordinates to those around the INSERT: the base point to 0,0, scaled,
 * turned, moved. The rows and columns of an array run along the turned axes, unscaled.
 */
export function readInsert(fields: Fields, base: Point): Affine[] {
  const at = fields.point(10);
  const [scaleX, scaleY] = [fields.number(41, 1), fields.number(42, 1)];
  if (scaleX === 0 || scaleY === 0) fields.wrong(scaleX === 0 ? 41 : 42, noScale());
  const { x: cosine, y: sine } = unitVector(fields.number(50, 0));
  const turned: Affine = { a: cosine, b: sine, c: -sine, d: cosine, e: at.x, f: at.y };
  const columns = readCount(fields, 70);
  const rows = readCount(fields, 71);
  if (columns * rows > MOST_COPIES) fields.wrong(70, tooManyCopies());
  const [acrossX, acrossY] = [fields.number(44, 0), fields.number(45, 0)];
  const outer = compose(readExtrusion(fields), turned);
  if (fields.faults.length > 0) return [];
  return Array.from({ length: columns * rows }, (_, index) => {
    const [column, row] = [index % columns, Math.floor(index / columns)];
    const scaled: Affine = {
      ...IDENTITY,
      a: scaleX,
      d: scaleY,
      e: column * acrossX - scaleX * base.x,
      f: row * acrossY - scaleY * base.y,
    };
    return compose(outer, scaled);
  });
}

/** 0 is written for 1 by some programs. */
function readCount(fields: Fields, code: number): number {
  const count = fields.number(code, 1);
  if (Number.isSafeInteger(count) && count >= 0) return Math.max(1, count);
  fields.wrong(code, badCount(count));
  return 1;
}

export function readBase(block: DxfRecord): Point {
  const fields = new Fields(block);
  return { x: fields.number(10, 0), y: fields.number(20, 0) };
}

const REFERENCE_BITS = 4 + 8;

/** Whether a block stands for another file, which is never read. */
export function isReference(block: DxfRecord): boolean {
  return (new Fields(block).flags(70) & REFERENCE_BITS) !== 0;
}

const EXPLODE = "Explode the blocks in the drawing";

export function tooManyCopies(): Fault {
  return {
    code: "dxf-insert-many",
    found: `more than ${MOST_COPIES} entities and copies of blocks`,
    expected: `at most ${MOST_COPIES}`,
    mend: EXPLODE,
  };
}

export function blockInItself(name: string): Fault {
  return {
    code: "dxf-insert-cycle",
    found: `block ${excerpt(name)} inside itself`,
    expected: "copies of other blocks",
    mend: EXPLODE,
  };
}

export function tooDeep(most: number): Fault {
  return {
    code: "dxf-insert-deep",
    found: `blocks inside blocks more than ${most} times over`,
    expected: "a few blocks inside each other",
    mend: EXPLODE,
  };
}

export function noSuchBlock(name: string): Fault {
  return {
    code: "dxf-block-unknown",
    found: `a copy of block ${excerpt(name)}`,
    expected: "a block that the file holds",
    mend: "Save the drawing again with its blocks",
  };
}

export function otherFile(name: string): Fault {
  return {
    code: "dxf-reference",
    found: `block ${excerpt(name)}, which is another file`,
    expected: "blocks of the file itself; other files are not read",
    mend: "Bind the reference into the drawing, or delete it",
  };
}

function noScale(): Fault {
  return {
    code: "dxf-size",
    found: "a scale of 0",
    expected: "a scale other than 0",
    mend: "Insert the block again, or delete it",
  };
}

function badCount(count: number): Fault {
  return {
    code: "dxf-number",
    found: `${count} rows or columns`,
    expected: "a whole number",
    mend: "Insert the block again, or explode it",
  };
}

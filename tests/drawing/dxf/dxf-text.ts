import { expect } from "vitest";
import { readPartGeometry } from "../../../src/drawing/parts.ts";
import type { PartGeometry } from "../../../src/drawing/types.ts";
import type { LineRule } from "../../../src/job/types.ts";
import type { Checked, Problem } from "../../../src/problem.ts";
import { onlyProblem, part } from "../reading.ts";

/** Short ways to write a DXF. */

type Value = string | number;

/** Group codes, each before its value; long rows may come in pieces. */
type Groups = readonly (Value | readonly Value[])[];

/** `groups(0, "LINE", 8, "CUT", 10, 0 ...)`: each code above its value. */
export function groups(...codesAndValues: Groups): string {
  return codesAndValues
    .flat()
    .map((each) => `${each}\n`)
    .join("");
}

/** An entity on layer 0 unless it says 8. */
export function entity(type: string, ...codesAndValues: Groups): string {
  const hasLayer = codesAndValues.flat().some((each, index) => index % 2 === 0 && each === 8);
  return groups(0, type, ...(hasLayer ? [] : [8, "0"]), ...codesAndValues);
}

export function section(name: string, content: string): string {
  return groups(0, "SECTION", 2, name) + content + groups(0, "ENDSEC");
}

export function layerTable(...layers: readonly string[]): string {
  const table = groups(0, "TABLE", 2, "LAYER", 70, layers.length);
  return section("TABLES", table + layers.join("") + groups(0, "ENDTAB"));
}

/** @param flags bit 1 is frozen; a negative colour is off. */
export function layer(name: string, colour: Value = 7, flags: Value = 0, plotted = 1): string {
  return groups(0, "LAYER", 2, name, 70, flags, 62, colour, 6, "CONTINUOUS", 290, plotted);
}

export function block(
  name: string,
  content: string,
  base: readonly [Value, Value] = [0, 0],
): string {
  const [x, y] = base;
  return (
    groups(0, "BLOCK", 8, "0", 2, name, 70, 0, 10, x, 20, y, 30, 0, 3, name, 1, "") +
    content +
    groups(0, "ENDBLK", 8, "0")
  );
}

interface Rest {
  readonly header?: string;
  readonly tables?: string;
  readonly blocks?: string;
}

export const MM = groups(9, "$ACADVER", 1, "AC1015", 9, "$INSUNITS", 70, 4);

/** A whole file in mm. */
export function dxf(
  entities: string,
  { header = MM, tables = "", blocks = "" }: Rest = {},
): string {
  return (
    section("HEADER", header) +
    tables +
    (blocks === "" ? "" : section("BLOCKS", blocks)) +
    section("ENTITIES", entities) +
    groups(0, "EOF")
  );
}

/** A closed polyline of straight sides. */
export function polygon(points: readonly (readonly [number, number])[], on = "0"): string {
  return entity(
    "LWPOLYLINE",
    8,
    on,
    90,
    points.length,
    70,
    1,
    ...points.flatMap(([x, y]) => [10, x, 20, y]),
  );
}

export function rectangle(x: number, y: number, width: number, height: number, on = "0"): string {
  return polygon(
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    on,
  );
}

export function line(x1: Value, y1: Value, x2: Value, y2: Value, on = "0"): string {
  return entity("LINE", 8, on, 10, x1, 20, y1, 30, 0, 11, x2, 21, y2, 31, 0);
}

interface Options {
  readonly layer?: string | null;
  readonly rules?: readonly LineRule[];
}

export function readDxfText(
  text: string,
  { layer: id = null, rules = [] }: Options = {},
): Checked<readonly PartGeometry[]> {
  const texts = [{ name: "a.dxf", text, sha256: "" }];
  return readPartGeometry([part({ kind: "drawing", path: "a.dxf", id })], texts, rules);
}

/** The part of a drawing without a fault. */
export function readPart(text: string, options: Options = {}): PartGeometry {
  const { value, problems } = readDxfText(text, options);
  expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
  const [geometry] = value ?? [];
  if (geometry === undefined) throw new RangeError("no part was read");
  return geometry;
}

export function problemOf(text: string, options: Options = {}): Problem {
  return onlyProblem(readDxfText(text, options));
}

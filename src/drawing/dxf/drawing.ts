import type { LineRule } from "../../job/types.ts";
import { eitherOf, mendName } from "../../names.ts";
import { checked, errorAt, inFile, isError } from "../../problem.ts";
import type { Checked, Fault, Place } from "../../problem.ts";
import type { LinesRead } from "../drawn-line.ts";
import { readDocument } from "./document.ts";
import type { DxfDocument, Entity } from "./document.ts";
import { Fields, nameKey } from "./fields.ts";
import { readUnit } from "./header.ts";
import type { Layer } from "./layers.ts";
import { Walk } from "./walk.ts";

/** A DXF whose form and unit are understood. Its 0,0 is the drawing's own, y up. */
export interface DxfDrawing {
  readonly file: string;
  readonly document: DxfDocument;
  /** mm in one unit of the drawing. */
  readonly unitMm: number;
  /** Those of the table and those that only entities name, by {@link nameKey}. */
  readonly layers: ReadonlyMap<string, Layer>;
}

export function readDxf(file: string, text: string): Checked<DxfDrawing> {
  const document = readDocument(file, text);
  if (document.problems.some(isError)) return { value: null, problems: document.problems };
  const unit = readUnit(file, document.header);
  const layers = allLayers(document);
  return checked({ file, document, unitMm: unit.mm, layers }, [
    ...document.problems,
    ...unit.problems,
  ]);
}

/**
 * The lines that are seen, in mm, each with its operation.
 * @param layer the only one to take; null for all.
 * @param cell where the layer was asked for.
 */
export function dxfLines(
  { file, document, unitMm, layers }: DxfDrawing,
  layer: string | null,
  rules: readonly LineRule[],
  cell: Place,
): LinesRead {
  const asked = layer === null ? null : (layers.get(nameKey(layer)) ?? null);
  if (layer !== null && asked === null) return refused(cell, noSuchLayer(layer, layers));
  if (asked?.hidden === "off" || asked?.hidden === "frozen")
    return refused(cell, hiddenLayer(asked));
  const walk = new Walk(file, document, layer, rules);
  walk.follow(unitMm);
  const place =
    asked === null ? inFile(file) : { file, line: asked.line, column: `layer ${asked.name}` };
  const drawn = { lines: walk.lines, place };
  const whole = walk.isWhole ? drawn : null;
  return { ...checked(drawn, walk.problems), drawn: whole, marks: walk.marks };
}

function refused(cell: Place, fault: Fault): LinesRead {
  return { value: null, problems: [errorAt(cell, fault)], drawn: null, marks: [] };
}

function allLayers({ layers, blocks, entities }: DxfDocument): ReadonlyMap<string, Layer> {
  const all = new Map(layers);
  const groups = [entities, ...[...blocks.values()].map((block) => block.entities)];
  const add = ({ record }: Entity): void => {
    const name = new Fields(record).text(8) ?? "0";
    const key = nameKey(name);
    if (!all.has(key)) all.set(key, { name, line: record.line, hidden: null, colour: "" });
  };
  for (const group of groups) for (const entity of group) add(entity);
  return all;
}

function noSuchLayer(layer: string, layers: ReadonlyMap<string, Layer>): Fault {
  const names = [...layers.values()].map(({ name }) => name);
  return {
    code: "dxf-layer-unknown",
    found: `#${layer}`,
    expected: `a layer of the drawing: ${eitherOf(names)}`,
    mend: mendName(layer, names, "correct the name of the layer"),
  };
}

function hiddenLayer({ name, hidden }: Layer): Fault {
  return {
    code: "dxf-layer-hidden",
    found: `#${name}, a layer that is ${hidden ?? "hidden"}`,
    expected: "a layer that is seen in the drawing",
    mend: hidden === "off" ? "Turn the layer on" : "Thaw the layer",
  };
}

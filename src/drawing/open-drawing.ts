import type { LineRule, SourceText } from "../job/types.ts";
import { checked } from "../problem.ts";
import type { Checked, Place } from "../problem.ts";
import type { PageSize } from "./border.ts";
import type { LinesRead } from "./drawn-line.ts";
import { dxfLines, readDxf } from "./dxf/drawing.ts";
import { nameKey } from "./dxf/fields.ts";
import { drawnLines, readSvg } from "./svg/drawing.ts";

/** A drawing of either kind, read once for all parts that it holds. */
export interface Drawing {
  readonly file: string;
  /** Whether an element has this id, or a layer this name. */
  readonly has: (id: string) => boolean;
  /** Ids of its elements, or its layers, in the order of the file. */
  readonly ids: readonly string[];
  /** Null for a drawing without one. */
  readonly page: PageSize | null;
  /**
   * In mm, y up, each line with its operation.
   * @param id of an element or name of a layer; null for the whole drawing.
   * @param cell where it was asked for.
   */
  readonly lines: (id: string | null, rules: readonly LineRule[], cell: Place) => LinesRead;
}

/** By the ending of its name. */
export function openDrawing({ name, text }: SourceText): Checked<Drawing> {
  return /\.dxf$/i.test(name) ? openDxf(name, text) : openSvg(name, text);
}

function openSvg(file: string, text: string): Checked<Drawing> {
  const { value: svg, problems } = readSvg(file, text);
  if (svg === null) return { value: null, problems };
  const has = (id: string): boolean => svg.index.byId.has(id);
  const ids = [...svg.index.byId.keys()];
  return checked(
    {
      file,
      has,
      ids,
      page: svg.page,
      lines: (id, rules, cell) => drawnLines(svg, id, rules, cell),
    },
    problems,
  );
}

function openDxf(file: string, text: string): Checked<Drawing> {
  const { value: dxf, problems } = readDxf(file, text);
  if (dxf === null) return { value: null, problems };
  const has = (id: string): boolean => dxf.layers.has(nameKey(id));
  const ids = [...dxf.layers.values()].map(({ name }) => name);
  return checked(
    { file, has, ids, page: null, lines: (id, rules, cell) => dxfLines(dxf, id, rules, cell) },
    problems,
  );
}

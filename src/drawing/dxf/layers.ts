import { Fields, nameKey } from "./fields.ts";
import { drawnColour } from "./colours.ts";
import type { DxfRecord } from "./records.ts";

/** Why nothing on a layer is worked; null when it is. */
export type Hidden = "off" | "frozen" | "not plotted" | null;

export interface Layer {
  readonly name: string;
  readonly line: number;
  readonly hidden: Hidden;
  /** As a stroke: `#ff0000`. */
  readonly colour: string;
}

const FROZEN = 1;

/** Of measuring points: CAD programs never plot it. */
const NEVER_PLOTTED = "DEFPOINTS";

/** An entry of the layer table. A negative colour means off. */
export function readLayer(record: DxfRecord): Layer {
  const fields = new Fields(record);
  const index = fields.number(62, 7);
  const isFrozen = (fields.flags(70) & FROZEN) !== 0;
  const name = fields.text(2) ?? "";
  const isPlotted = fields.number(290, 1) !== 0 && nameKey(name) !== NEVER_PLOTTED;
  const shown = isPlotted ? null : "not plotted";
  const lit = index < 0 ? "off" : shown;
  return {
    name,
    line: record.line,
    hidden: isFrozen ? "frozen" : lit,
    colour: drawnColour(Math.abs(index), fields.number(420, -1)) ?? "",
  };
}

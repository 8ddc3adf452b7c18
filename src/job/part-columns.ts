import { choice, length, lengthUpTo, name, spare, text, wholeUpTo, yesNo } from "./cells.ts";
import { cornerRadii } from "./corner-radii.ts";
import { holes } from "./hole-patterns.ts";
import { MOST } from "./limits.ts";
import { optional, required } from "./rows.ts";
import type { Row } from "./rows.ts";

const SHAPES = choice(["rectangle", "disc", "ring", "polygon", "slot", "half-lap"]);

/** What people call a shape, and what to write for it. */
const OTHER_SHAPES: ReadonlyMap<string, string> = new Map([
  ["square", '"rectangle"'],
  ["plate", '"rectangle", with its holes under holes'],
  ["circle", '"disc"'],
  ["washer", '"ring"'],
  ["triangle", '"polygon", and 3 under sides'],
  ["pentagon", '"polygon", and 5 under sides'],
  ["hexagon", '"polygon", and 6 under sides'],
  ["octagon", '"polygon", and 8 under sides'],
  ["stadium", '"slot"'],
]);

const shapeName: typeof SHAPES = {
  ...SHAPES,
  mend: (cell) => {
    const known = OTHER_SHAPES.get(cell.trim().toLowerCase());
    return known === undefined ? SHAPES.mend(cell) : `Write ${known}`;
  },
};

/**
 * The columns of a parts list. A part may be turned by quarters unless it says otherwise: that
 * keeps straight edges along the sheet's edges, where they nest well and can be measured; grain
 * wants `half`, round things lose nothing by `any`. It is not turned over, because film and faces
 * differ.
 */
export const PART_COLUMNS = {
  name: required("part", name),
  quantity: required("qty", wholeUpTo(MOST.each)),
  material: required("material", name),
  thicknessMm: required("thickness", lengthUpTo(MOST.thicknessMm)),
  drawing: optional("drawing", text, null),
  shape: optional("shape", shapeName, null),
  widthMm: optional("width", length, null),
  heightMm: optional("height", length, null),
  diameterMm: optional("diameter", length, null),
  boreMm: optional("bore", length, null),
  cornerRadiusMm: optional("corner radius", cornerRadii, null),
  sides: optional("sides", wholeUpTo(MOST.sides), null),
  slotWidthMm: optional("slot width", length, null),
  slotDepthMm: optional("slot depth", length, null),
  slotAtMm: optional("slot at", length, null),
  slotSide: optional("slot side", choice(["top", "bottom"]), null),
  holes: optional("holes", holes, null),
  turn: optional("turn", choice(["any", "quarter", "half", "fixed"]), "quarter" as const),
  flip: optional("flip", yesNo, false),
  finish: optional("finish", text, null),
  spare: optional("spare", spare, null),
  note: optional("note", text, ""),
};

export type PartRow = Row<typeof PART_COLUMNS>;

/** What people call a column; only used to suggest its name. */
export const OTHER_NAMES: Readonly<Record<string, string>> = {
  name: "part",
  "part name": "part",
  quantity: "qty",
  count: "qty",
  pieces: "qty",
  pcs: "qty",
  number: "qty",
  thick: "thickness",
  file: "drawing",
  svg: "drawing",
  dxf: "drawing",
  length: "height",
  dia: "diameter",
  hole: "bore",
  radius: "corner radius",
  rotation: "turn",
  rotate: "turn",
  grain: "turn",
  mirror: "flip",
  extra: "spare",
  spares: "spare",
  colour: "finish",
  color: "finish",
  paint: "finish",
  notes: "note",
  remark: "note",
};

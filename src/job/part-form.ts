import { lengthText, trimmed } from "../units.ts";
import { crowdedSide, radiiText } from "./corner-radii.ts";
import { readDrawingCell } from "./drawing-cell.ts";
import { holeCount } from "./hole-patterns.ts";
import type { PartRow } from "./part-columns.ts";
import type { Readable } from "./rows.ts";
import type { CellFault } from "./table-checks.ts";
import type { CornerRadii, PartForm, ShapeOutline } from "./types.ts";

/** What a part looks like: a drawing, or a shape with exactly the sizes that it has. */

const SIZE_FIELDS = [
  "widthMm",
  "heightMm",
  "diameterMm",
  "boreMm",
  "cornerRadiusMm",
  "sides",
  "slotWidthMm",
  "slotDepthMm",
  "slotAtMm",
  "slotSide",
] as const;

/** A cell that could not be read is undefined, and no fault follows from it. */
type Values = Readable<PartRow["values"]>;
type ShapeName = NonNullable<Values["shape"]>;
type SizeField = (typeof SIZE_FIELDS)[number];

export interface FormRead {
  /** Null when there are faults, here or in the cells. */
  readonly form: PartForm | null;
  readonly faults: readonly CellFault[];
}

const SIZE_COLUMNS: Readonly<Record<SizeField, string>> = {
  widthMm: "width",
  heightMm: "height",
  diameterMm: "diameter",
  boreMm: "bore",
  cornerRadiusMm: "corner radius",
  sides: "sides",
  slotWidthMm: "slot width",
  slotDepthMm: "slot depth",
  slotAtMm: "slot at",
  slotSide: "slot side",
};

const SIZES: Readonly<
  Record<ShapeName, { needs: readonly SizeField[]; may: readonly SizeField[] }>
> = {
  rectangle: { needs: ["widthMm", "heightMm"], may: ["cornerRadiusMm"] },
  disc: { needs: ["diameterMm"], may: [] },
  ring: { needs: ["diameterMm", "boreMm"], may: [] },
  polygon: { needs: ["diameterMm", "sides"], may: [] },
  slot: { needs: ["widthMm", "heightMm"], may: [] },
  "half-lap": {
    needs: ["widthMm", "heightMm", "slotWidthMm"],
    may: ["slotDepthMm", "slotAtMm", "slotSide"],
  },
};

/** @param drawings names of the job's texts, among which a drawing must be. */
export function readForm(values: Values, drawings: readonly string[]): FormRead {
  const { drawing = null, shape } = values;
  const read = drawing === null ? NO_DRAWING : readDrawingCell(drawing, drawings);
  if (shape === undefined) return faulty(read.faults);
  if (drawing !== null && shape !== null) return faulty([bothForms(shape), ...read.faults]);
  if (shape !== null) return readShape(values, shape);
  if (drawing === null) return faulty([noForm(values)]);
  const surplus = [
    ...surplusSizes(values, [], "a part without a shape"),
    ...(values.holes ? [holesDrawn(holeCount(values.holes))] : []),
  ];
  return surplus.length > 0 ? faulty([...read.faults, ...surplus]) : read;
}

const NO_DRAWING: FormRead = { form: null, faults: [] };

function faulty(faults: readonly CellFault[]): FormRead {
  return { form: null, faults };
}

function readShape(values: Values, shape: ShapeName): FormRead {
  const { needs, may } = SIZES[shape];
  const missing = needs.filter((size) => values[size] === null);
  const faults = [
    ...missing.map((size) => missingSize(SIZE_COLUMNS[size], shape)),
    ...surplusSizes(values, [...needs, ...may], `a ${shape}`),
    ...disagreeing(values, shape),
  ];
  const isUnread = [...needs, ...may].some((size) => values[size] === undefined);
  if (faults.length > 0 || isUnread) return faulty(faults);
  const outline = outlineOf(values, shape);
  const { holes = null } = values;
  return { form: holes === null ? outline : { ...outline, holes }, faults: [] };
}

function outlineOf(values: Values, shape: ShapeName): ShapeOutline {
  const [widthMm, heightMm] = [values.widthMm ?? 0, values.heightMm ?? 0];
  const [diameterMm, boreMm] = [values.diameterMm ?? 0, values.boreMm ?? 0];
  switch (shape) {
    case "rectangle":
      return { kind: shape, widthMm, heightMm, cornerRadiusMm: values.cornerRadiusMm ?? 0 };
    case "disc":
      return { kind: shape, diameterMm };
    case "ring":
      return { kind: shape, diameterMm, boreMm };
    case "polygon":
      return { kind: shape, diameterMm, sides: values.sides ?? 0 };
    case "slot":
      return { kind: shape, widthMm, heightMm };
    case "half-lap":
      return {
        kind: shape,
        widthMm,
        heightMm,
        slotWidthMm: values.slotWidthMm ?? 0,
        slotDepthMm: values.slotDepthMm ?? heightMm / 2 + INNER_CORNER_MM,
        slotAtMm: values.slotAtMm ?? widthMm / 2,
        slotSide: values.slotSide ?? "top",
      };
  }
}

/** A beam leaves inner corners round; a slot of half the height is so much deeper (shop practice). */
const INNER_CORNER_MM = 0.1;

/** Sizes that are all there and still make no such shape. */
function disagreeing(values: Values, shape: ShapeName): readonly CellFault[] {
  const { widthMm, heightMm, cornerRadiusMm } = values;
  const [bore, diameter] = [values.boreMm ?? 0, values.diameterMm ?? Infinity];
  if (shape === "ring" && bore >= diameter)
    return [tooLarge("bore", bore, `less than the diameter of ${lengthText(diameter)}`)];
  if (shape === "polygon" && (values.sides ?? 3) < 3) return [tooFewSides(values.sides ?? 0)];
  if (shape === "half-lap") return slotFaults(values);
  const [width, height] = [widthMm ?? Infinity, heightMm ?? Infinity];
  if (shape !== "rectangle") return [];
  const radius = cornerRadiusMm ?? 0;
  if (typeof radius !== "number") return cornerFaults(radius, width, height);
  const most = Math.min(width, height) / 2;
  return radius <= most
    ? []
    : [tooLarge("corner radius", radius, `at most ${lengthText(most)}, half of the shorter side`)];
}

/** Two corners share a side. */
function cornerFaults(radii: CornerRadii, width: number, height: number): readonly CellFault[] {
  const side = crowdedSide(radii, width, height);
  if (side === null) return [];
  const found = side.radii.map((mm) => trimmed(mm, 4)).join(" and ");
  return [
    {
      column: "corner radius",
      code: "size-too-large",
      found: `${found} mm ${side.where}`,
      expected: `two radii that come to at most ${lengthText(side.mm)}, the ${side.name}`,
      mend: `Correct one of the radii, or the ${side.name}`,
    },
  ];
}

function slotFaults(values: Values): readonly CellFault[] {
  const { widthMm, heightMm, slotWidthMm, slotDepthMm, slotAtMm } = values;
  const [width, height] = [widthMm ?? Infinity, heightMm ?? Infinity];
  const [wide, deep] = [slotWidthMm ?? 0, slotDepthMm ?? 0];
  const at = slotAtMm ?? width / 2;
  const beside = Math.min(at, width - at) - wide / 2;
  return [
    ...(deep >= height
      ? [tooLarge("slot depth", deep, `less than the height of ${lengthText(height)}`)]
      : []),
    ...(wide >= width
      ? [tooLarge("slot width", wide, `less than the width of ${lengthText(width)}`)]
      : []),
    ...(wide < width && Number.isFinite(width) && beside <= 0
      ? [tooLarge("slot at", at, `material on both sides of the slot, ${lengthText(wide)} wide`)]
      : []),
  ];
}

function tooFewSides(sides: number): CellFault {
  return {
    column: "sides",
    code: "too-few-sides",
    found: String(sides),
    expected: "3 sides or more",
    mend: "Correct the number of sides",
  };
}

function holesDrawn(count: number): CellFault {
  return {
    column: "holes",
    code: "holes-not-used",
    found: count === 1 ? "1 hole" : `${count} holes`,
    expected: "an empty cell, because the holes of a part with a drawing are drawn",
    mend: "Empty the cell, and draw the holes",
  };
}

function surplusSizes(
  values: Values,
  used: readonly SizeField[],
  what: string,
): readonly CellFault[] {
  return SIZE_FIELDS.flatMap((field) => {
    const value = values[field];
    if (value === undefined || value === null || used.includes(field)) return [];
    return [
      {
        column: SIZE_COLUMNS[field],
        code: "size-not-used",
        found: sizeFound(field, value),
        expected: `an empty cell, because ${what} has no ${SIZE_COLUMNS[field]}`,
        mend: "Empty the cell, or choose the shape that has this size",
      },
    ];
  });
}

function sizeFound(field: SizeField, value: NonNullable<Values[SizeField]>): string {
  if (typeof value === "string") return value;
  if (typeof value === "number") return field === "sides" ? String(value) : lengthText(value);
  return `${radiiText(value)} mm`;
}

function missingSize(column: string, shape: ShapeName): CellFault {
  return {
    column,
    code: "size-missing",
    found: "",
    expected: `the ${column} of the ${shape}, ${column === "sides" ? "3 or more" : "a length above 0"}`,
    mend: `Fill in ${column}`,
  };
}

function tooLarge(column: string, mm: number, expected: string): CellFault {
  return {
    column,
    code: "size-too-large",
    found: lengthText(mm),
    expected,
    mend: "Correct one of the two sizes",
  };
}

function bothForms(shape: ShapeName): CellFault {
  return {
    column: "shape",
    code: "drawing-and-shape",
    found: shape,
    expected: "either a drawing or a shape",
    mend: "Empty one of the two cells",
  };
}

function noForm({ name }: Values): CellFault {
  return {
    column: "drawing",
    code: "no-drawing-or-shape",
    found: "",
    expected: "a drawing such as heron.svg, or a shape with its sizes",
    mend: `Say what ${name === undefined ? "it" : `"${name}"`} looks like: fill in drawing or shape`,
  };
}

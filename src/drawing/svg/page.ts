import { compose } from "../../geometry/affine.ts";
import type { Affine } from "../../geometry/affine.ts";
import { errorAt, warningAt } from "../../problem.ts";
import type { Fault, Place, Problem } from "../../problem.ts";
import { lengthText, trimmed } from "../../units.ts";
import type { PageSize } from "../border.ts";
import { lengthMm, MM_PER_PX } from "./lengths.ts";
import type { Frame } from "./lengths.ts";
import { fitting, isFault, readAspect, readViewBox } from "./viewport.ts";
import type { Aspect, ViewBox } from "./viewport.ts";
import type { Element } from "./xml.ts";

/** The outermost frame. */
export interface Page {
  /** From user units, y down, to mm on the page, y up, 0,0 its lower left corner. */
  readonly toMm: Affine;
  /** User units to which percentages refer. */
  readonly frame: Frame;
  readonly size: PageSize;
  readonly problems: readonly Problem[];
}

/** Of an SVG without size and viewBox, as CSS 2.1 section 10.3.2 has it. */
const UNSIZED_PX = { width: 300, height: 150 };

const CENTRED: Aspect = { fit: "meet", alongX: 0.5, alongY: 0.5 };

/** Reads width, height, viewBox and preserveAspectRatio of the outermost element. */
export function readPage(root: Element, place: Place): Page {
  const faults: Fault[] = [];
  const sound = <T>(read: T | Fault): T | null => {
    if (!isFault(read)) return read;
    faults.push(read);
    return null;
  };
  const width = sound(readSide(root, "width"));
  const height = sound(readSide(root, "height"));
  const box = sound(readViewBox(root));
  const aspect = sound(readAspect(root)) ?? CENTRED;
  const size = pageSize(width?.mm ?? null, height?.mm ?? null, box);
  const warnings =
    faults.length > 0
      ? []
      : [...sizeWarning([width, height], size), ...proportionWarning(size, box, aspect)];
  return {
    toMm: mapping(size, box, aspect),
    size: { widthMm: size.width, heightMm: size.height },
    frame: box ?? { width: size.width / MM_PER_PX, height: size.height / MM_PER_PX },
    problems: [
      ...faults.map((fault) => errorAt(place, fault)),
      ...warnings.map((fault) => warningAt(place, fault)),
    ],
  };
}

/** Null when the side is left to the viewer. */
type Side = { readonly mm: number; readonly isBare: boolean } | null;

function readSide(root: Element, name: "width" | "height"): Side | Fault {
  const text = (root.attributes.get(name) ?? "auto").trim();
  if (text === "auto" || text.endsWith("%")) return null;
  const mm = lengthMm(text);
  if (mm !== null && mm > 0 && Number.isFinite(mm)) return { mm, isBare: /[\d.]$/.test(text) };
  return {
    code: "svg-size",
    found: `${name}="${text}"`,
    expected: "a size above 0 in mm, cm, in, pt, pc or px",
    mend: `Write the ${name} of the drawing with its unit, such as 210mm`,
  };
}

/** A side that is not said follows from the other by the viewBox, or is counted in px. */
function pageSize(width: number | null, height: number | null, box: ViewBox | null): Frame {
  const natural = box ?? UNSIZED_PX;
  if (width !== null && height !== null) return { width, height };
  if (width !== null) return { width, height: (width * natural.height) / natural.width };
  if (height !== null) return { width: (height * natural.width) / natural.height, height };
  return { width: natural.width * MM_PER_PX, height: natural.height * MM_PER_PX };
}

function mapping(size: Frame, box: ViewBox | null, aspect: Aspect): Affine {
  const down: Affine =
    box === null
      ? { a: MM_PER_PX, b: 0, c: 0, d: MM_PER_PX, e: 0, f: 0 }
      : fitting(size, box, aspect);
  return compose({ a: 1, b: 0, c: 0, d: -1, e: 0, f: size.height }, down);
}

/** More than rounding: then the drawing comes out smaller than either its page or its viewBox says. */
const SAME_PROPORTION = 0.01;

/** A page of other proportions than its viewBox is a slip in one of four numbers. */
function proportionWarning(size: Frame, box: ViewBox | null, { fit }: Aspect): Fault[] {
  if (box === null || fit === "none") return [];
  const [scaleX, scaleY] = [size.width / box.width, size.height / box.height];
  if (Math.abs(scaleX / scaleY - 1) <= SAME_PROPORTION) return [];
  const scale = fit === "slice" ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  return [
    {
      code: "svg-proportions",
      found: `a page of ${trimmed(size.width, 2)} x ${lengthText(size.height)} with a viewBox of ${trimmed(box.width, 2)} x ${trimmed(box.height, 2)}`,
      expected: `the same proportions; as it stands 1 unit of the drawing is ${trimmed(scale, 4)} mm both ways`,
      mend: "Correct width, height or viewBox, and look at the sizes of the parts",
    },
  ];
}

/** Sizes that were guessed, or said without a unit, are said to the person. */
function sizeWarning(sides: readonly Side[], size: Frame): Fault[] {
  const isBare = sides.some((side) => side?.isBare === true);
  if (!isBare && sides.some((side) => side !== null)) return [];
  return [
    {
      code: "svg-size-missing",
      found: isBare ? "a page size without a unit" : "",
      expected: `width and height in mm; one user unit is taken as 1/96 in (the CSS px), the page as ${lengthText(size.width)} x ${lengthText(size.height)}`,
      mend: "Write width and height of the drawing with their unit, such as 210mm",
    },
  ];
}

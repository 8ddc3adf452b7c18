import type { Affine } from "../../geometry/affine.ts";
import { errorAt, warningAt } from "../../problem.ts";
import type { Fault, Place, Problem } from "../../problem.ts";
import { lengthText } from "../../units.ts";
import { lengthMm, MM_PER_PX, numberList } from "./lengths.ts";
import type { Element } from "./xml.ts";

/** From user units, y down, to mm on the page, y up, 0,0 its lower left corner. */
export interface Page {
  readonly toMm: Affine;
  readonly problems: readonly Problem[];
}

/** Of an SVG without size and viewBox, as CSS 2.1 section 10.3.2 has it. */
const UNSIZED_PX = { width: 300, height: 150 };

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
  const size = pageSize(width?.mm ?? null, height?.mm ?? null, box);
  const warnings = faults.length > 0 ? [] : sizeWarning([width, height], size);
  return {
    toMm: mapping(size, box, root.attributes.get("preserveAspectRatio") ?? ""),
    problems: [
      ...faults.map((fault) => errorAt(place, fault)),
      ...warnings.map((fault) => warningAt(place, fault)),
    ],
  };
}

function isFault(read: unknown): read is Fault {
  return typeof read === "object" && read !== null && "code" in read;
}

/** Null when the side is left to the viewer. */
type Side = { readonly mm: number; readonly isBare: boolean } | null;

interface Size {
  readonly width: number;
  readonly height: number;
}

interface ViewBox extends Size {
  readonly x: number;
  readonly y: number;
}

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

function readViewBox(root: Element): ViewBox | Fault | null {
  const text = root.attributes.get("viewBox");
  if (text === undefined) return null;
  const [x, y, width, height, ...rest] = numberList(text) ?? [];
  if (x !== undefined && y !== undefined && width !== undefined && height !== undefined)
    if (rest.length === 0 && width > 0 && height > 0) return { x, y, width, height };
  return {
    code: "svg-viewbox",
    found: text,
    expected: "four numbers, the last two above 0",
    mend: "Write the viewBox as left, top, width and height",
  };
}

/** A side that is not said follows from the other by the viewBox, or is counted in px. */
function pageSize(width: number | null, height: number | null, box: ViewBox | null): Size {
  const natural = box ?? UNSIZED_PX;
  if (width !== null && height !== null) return { width, height };
  if (width !== null) return { width, height: (width * natural.height) / natural.width };
  if (height !== null) return { width: (height * natural.width) / natural.height, height };
  return { width: natural.width * MM_PER_PX, height: natural.height * MM_PER_PX };
}

function mapping(size: Size, box: ViewBox | null, aspect: string): Affine {
  if (box === null) return { a: MM_PER_PX, b: 0, c: 0, d: -MM_PER_PX, e: 0, f: size.height };
  const { scaleX, scaleY, left, top } = fitted(size, box, aspect);
  return {
    a: scaleX,
    b: 0,
    c: 0,
    d: -scaleY,
    e: left - box.x * scaleX,
    f: size.height - top + box.y * scaleY,
  };
}

/** SVG 1.1 section 7.8: stretched, or as large as fits (meet) or covers (slice), then aligned. */
function fitted(size: Size, box: ViewBox, aspect: string) {
  const [scaleX, scaleY] = [size.width / box.width, size.height / box.height];
  const words = aspect.replace(/^\s*defer\s+/, "");
  if (words.trim() === "none") return { scaleX, scaleY, left: 0, top: 0 };
  const scale = words.includes("slice") ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  return {
    scaleX: scale,
    scaleY: scale,
    left: share(/x(Min|Mid|Max)/.exec(words)?.[1]) * (size.width - box.width * scale),
    top: share(/Y(Min|Mid|Max)/.exec(words)?.[1]) * (size.height - box.height * scale),
  };
}

function share(alignment: string | undefined): number {
  if (alignment === "Min") return 0;
  return alignment === "Max" ? 1 : 0.5;
}

/** Sizes that were guessed, or said without a unit, are said to the person. */
function sizeWarning(sides: readonly Side[], size: Size): Fault[] {
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

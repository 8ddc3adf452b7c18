import type { Affine } from "../../geometry/affine.ts";
import type { LineRule } from "../../job/types.ts";
import { checked, errorAt, warningAt } from "../../problem.ts";
import type { Checked, Fault, Place, Problem } from "../../problem.ts";
import type { PageSize } from "../border.ts";
import type { LinesRead } from "../drawn-line.ts";
import { elementOf, indexElements, trailTo } from "./element-index.ts";
import type { ElementIndex } from "./element-index.ts";
import type { Frame } from "./lengths.ts";
import { readPage } from "./page.ts";
import { readStyleSheet } from "./style-sheet.ts";
import type { StyleSheet } from "./style-sheet.ts";
import { Styles } from "./style.ts";
import { isUndrawn, uncuttableElement } from "./uncuttable.ts";
import { isGroup, Walk } from "./walk.ts";
import { placeOf, readXml } from "./xml.ts";
import type { Element } from "./xml.ts";

/** An SVG whose page is understood. */
export interface SvgDrawing {
  readonly file: string;
  readonly root: Element;
  readonly toMm: Affine;
  /** User units of the page, to which percentages refer. */
  readonly frame: Frame;
  readonly page: PageSize;
  readonly index: ElementIndex;
  readonly styles: Styles;
}

export function readSvg(file: string, text: string): Checked<SvgDrawing> {
  const xml = readXml(file, text);
  if (xml.value === null) return { value: null, problems: xml.problems };
  const root = xml.value;
  const place = placeOf(file, root);
  if (root.tag !== "svg") return { value: null, problems: [errorAt(place, notSvg(root))] };
  const page = readPage(root, place);
  const index = indexElements(root);
  const sheets = index.all
    .filter(({ tag }) => tag === "style")
    .map((element) => ({ element, sheet: readStyleSheet(element.text) }));
  const problems = [
    ...xml.problems,
    ...page.problems,
    ...sheets.flatMap(({ element, sheet }) => unreadStyles(placeOf(file, element), sheet)),
  ];
  const styles = new Styles(sheets.flatMap(({ sheet }) => sheet.rules));
  const { toMm, frame, size } = page;
  return checked({ file, root, toMm, frame, page: size, index, styles }, problems);
}

/**
 * The lines that are seen, in mm with y up, each with its operation.
 * @param id of the only element to take; null for all.
 * @param cell where the id was asked for.
 */
export function drawnLines(
  drawing: SvgDrawing,
  id: string | null,
  rules: readonly LineRule[],
  cell: Place,
): LinesRead {
  const { file, root, index } = drawing;
  const element = id === null ? root : elementOf(id, index);
  if ("code" in element) {
    const [first] = index.byId.get(id ?? "") ?? [];
    return refused(first === undefined ? cell : placeOf(file, first), element);
  }
  const place = placeOf(file, element);
  const trail = trailTo(element, index);
  if (trail.some((each) => isUndrawn(each) || isHidden(each, drawing)))
    return refused(place, hidden(id));
  const wrong = trail.find((each) => each !== element && !isGroup(each));
  if (wrong !== undefined) return refused(placeOf(file, wrong), uncuttableElement(wrong));
  const walk = new Walk(drawing, rules);
  walk.follow(trail);
  const lines = walk.lines.length > 0 ? walk.lines : walk.unpainted;
  const problems = [...walk.problems, ...unpainted(walk), ...notShown(walk.hidden)];
  const drawn = { lines, place };
  return { ...checked(drawn, problems), drawn: walk.isWhole ? drawn : null, marks: walk.marks };
}

function refused(place: Place, fault: Fault): LinesRead {
  return { value: null, problems: [errorAt(place, fault)], drawn: null, marks: [] };
}

function isHidden(element: Element, { styles }: SvgDrawing): boolean {
  return styles.of(element).property("display") === "none";
}

function unreadStyles(place: Place, { unread }: StyleSheet): Problem[] {
  if (unread.length === 0) return [];
  const fault = {
    code: "svg-style-sheet",
    found: [...new Set(unread)].join(", "),
    expected:
      "selectors of one element by type, class or id, and no at-rules; the others are left out",
    mend: "Set these styles on the lines themselves (save as plain SVG)",
  };
  return [warningAt(place, fault)];
}

/** Frames and helpers of editors are often drawn without fill and stroke. */
function unpainted({ lines, unpainted }: Walk): Problem[] {
  const [first] = unpainted;
  if (first === undefined) return [];
  const isAll = lines.length === 0;
  const fault = {
    code: "svg-unpainted",
    found: unpainted.length === 1 ? "a line" : `${unpainted.length} lines`,
    expected: `a stroke or a fill that can be seen; what has neither, or opacity 0, is ${isAll ? "taken only because nothing else is drawn" : "left out"}`,
    mend: "Give the lines a stroke, or delete them",
  };
  return [warningAt(first.place, fault)];
}

/** A layer switched off in a drawing program is saved as one that is not displayed. */
function notShown(hidden: readonly Place[]): Problem[] {
  const [first] = hidden;
  if (first === undefined) return [];
  const fault = {
    code: "svg-unseen",
    found: hidden.length === 1 ? "a line that is hidden" : `${hidden.length} lines that are hidden`,
    expected: "lines that are seen; what is not displayed or not visible is left out",
    mend: "Show them if they are to be worked, else delete them",
  };
  return [warningAt(first, fault)];
}

function notSvg({ tag }: Element): Fault {
  return {
    code: "svg-root",
    found: `<${tag}>`,
    expected: "an svg element around the drawing",
    mend: "Save the drawing as SVG",
  };
}

function hidden(id: string | null): Fault {
  return {
    code: "svg-hidden",
    found: id === null ? "a drawing that is not displayed" : `#${id}, which is not displayed`,
    expected: "an element that is seen in the drawing",
    mend: "Show the element, and move it out of definitions and hidden groups",
  };
}

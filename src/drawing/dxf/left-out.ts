import { errorAt, warningAt } from "../../problem.ts";
import type { Problem } from "../../problem.ts";
import { excerpt } from "../fault.ts";

/** What can stand in a DXF and yet not be worked as it is; all of it is named to the person. */

/** Notes, fills and helpers: their absence is a warning. Whatever else is not read is an error. */
const NOTES: ReadonlySet<string> = new Set([
  "ACAD_TABLE",
  "ARC_DIMENSION",
  "ATTDEF",
  "ATTRIB",
  "DIMENSION",
  "HATCH",
  "IMAGE",
  "LARGE_RADIAL_DIMENSION",
  "LEADER",
  "LIGHT",
  "MLEADER",
  "MTEXT",
  "MULTILEADER",
  "OLE2FRAME",
  "OLEFRAME",
  "POINT",
  "RAY",
  "RTEXT",
  "TEXT",
  "TOLERANCE",
  "WIPEOUT",
  "XLINE",
]);

/** Frames to look through, which draw nothing. */
export const UNDRAWN: ReadonlySet<string> = new Set(["VIEWPORT"]);

const TO_OUTLINES = "Convert the text to outlines if it is to be worked";
const EXPLODE = "Explode it into lines and arcs if it is to be worked";

const MENDS: ReadonlyMap<string, string> = new Map([
  ["ATTDEF", TO_OUTLINES],
  ["ATTRIB", TO_OUTLINES],
  ["MTEXT", TO_OUTLINES],
  ["RTEXT", TO_OUTLINES],
  ["TEXT", TO_OUTLINES],
  ["DIMENSION", EXPLODE],
  ["HATCH", "Draw the edge of the hatch as a polyline if it is to be worked"],
  ["IMAGE", "Trace the picture to lines if it is to be worked"],
  ["POINT", "Draw a circle where a hole is meant"],
  ["3DFACE", "Draw its edge as a polyline, or delete it"],
  ["MLINE", "Explode it into lines, or delete it"],
  ["POLYLINE", "Turn it into a flat polyline at z 0, or delete it"],
  ["REGION", "Explode it into lines and arcs, or delete it"],
  ["SOLID", "Draw its edge as a polyline, or delete it"],
  ["TRACE", "Draw its edge as a polyline, or delete it"],
]);

interface Kind {
  readonly type: string;
  readonly layer: string;
  /** A rule or the parts list asks for what is on this layer. */
  readonly isWanted: boolean;
  readonly lines: number[];
}

/** Counts by type and layer what is left out. */
export class LeftOut {
  readonly #kinds = new Map<string, Kind>();

  add(type: string, layer: string, line: number, isWanted: boolean): void {
    const key = JSON.stringify([type, layer, isWanted]);
    const kind = this.#kinds.get(key) ?? { type, layer, isWanted, lines: [] };
    this.#kinds.set(key, kind);
    kind.lines.push(line);
  }

  /** Whether something is left out that draws lines. */
  get hidesLines(): boolean {
    return [...this.#kinds.values()].some(({ type }) => !NOTES.has(type));
  }

  problems(file: string): Problem[] {
    return [...this.#kinds.values()].map(({ type, layer, isWanted, lines }) => {
      const isNote = NOTES.has(type) && !isWanted;
      const place = { file, line: lines[0] ?? null, column: `${layer}: ${type}` };
      const fault = {
        code: isNote ? "dxf-left-out" : "dxf-not-supported",
        found: `${lines.length} ${excerpt(kindName(type))} (${linesText(lines)})`,
        expected: `lines: LINE, LWPOLYLINE, POLYLINE, ARC, CIRCLE, ELLIPSE, SPLINE or INSERT${isNote ? "; this is left out" : ""}`,
        mend: MENDS.get(type) ?? "Replace it by lines and arcs, or delete it",
      };
      return isNote ? warningAt(place, fault) : errorAt(place, fault);
    });
  }
}

function kindName(type: string): string {
  return type === "POLYLINE" ? "POLYLINE in space or mesh" : type;
}

const MOST_LINES = 3;

/** `line 12`, `lines 12, 14, 16 ...`. */
function linesText(lines: readonly number[]): string {
  const shown = [...new Set(lines)];
  const more = shown.length > MOST_LINES ? " ..." : "";
  return `${shown.length === 1 ? "line" : "lines"} ${shown.slice(0, MOST_LINES).join(", ")}${more}`;
}

import { capital, isDrawingName, nearestDrawing } from "../names.ts";
import type { CellFault } from "./table-checks.ts";
import type { DrawnForm } from "./types.ts";

/** A cell that names a drawing: `heron.svg`, or `plates.dxf#CAP` for one piece of many. */

export interface DrawingRead {
  /** Null when there are faults. */
  readonly form: DrawnForm | null;
  readonly faults: readonly CellFault[];
}

/** @param drawings names of the job's texts, among which the drawing must be. */
export function readDrawingCell(written: string, drawings: readonly string[]): DrawingRead {
  const [file = "", ...ids] = written.split("#");
  const path = plainPath(file);
  if (path === null) return faulty([outsidePath(written)]);
  if (path === "" && ids.length > 0) return faulty([noFileBefore(written)]);
  if (!isDrawingName(path)) return faulty([notADrawing(written)]);
  const id = ids.length === 0 ? null : ids.join("#").trim();
  if (id === "") return faulty([emptyId(written)]);
  if (!drawings.includes(path)) return faulty([missingDrawing(path, drawings)]);
  return { form: { kind: "drawing", path, id }, faults: [] };
}

function faulty(faults: readonly CellFault[]): DrawingRead {
  return { form: null, faults };
}

/** With `/` and without `./`; null when it leads out of the job folder. */
function plainPath(written: string): string | null {
  const path = written.trim().normalize("NFC").replaceAll("\\", "/");
  const steps = path.split("/").filter((step) => step !== "." && step !== "");
  const absolute = path.startsWith("/") || /^[a-z]+:/i.test(path) || path.startsWith("~");
  return absolute || steps.includes("..") ? null : steps.join("/");
}

function outsidePath(found: string): CellFault {
  return {
    column: "drawing",
    code: "drawing-outside",
    found,
    expected: "a path inside the job folder such as drawings/heron.svg",
    mend: "Copy the drawing into the job folder and write its path from there",
  };
}

function notADrawing(found: string): CellFault {
  return {
    column: "drawing",
    code: "not-a-drawing",
    found,
    expected: "the name of an .svg or .dxf file",
    mend: "Save the drawing as SVG or DXF and write its name with the ending",
  };
}

function noFileBefore(found: string): CellFault {
  return {
    column: "drawing",
    code: "not-a-drawing",
    found,
    expected: "the drawing as well, such as plates.dxf#CAP",
    mend: "Write the name of the drawing before the #",
  };
}

function emptyId(found: string): CellFault {
  return {
    column: "drawing",
    code: "empty-drawing-id",
    found,
    expected: "an element id or a layer after the #",
    mend: "Write the id or layer after the #, or leave the # out for the whole drawing",
  };
}

function missingDrawing(path: string, names: readonly string[]): CellFault {
  const near = nearestDrawing(path, names.filter(isDrawingName));
  const put = "put the drawing into the folder that holds the parts list";
  return {
    column: "drawing",
    code: "drawing-missing",
    found: path,
    expected: "a drawing that is in the job folder",
    mend: near === null ? capital(put) : `Write "${near}" if that is meant, or ${put}`,
  };
}

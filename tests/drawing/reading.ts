import { expect } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import type { PartGeometry } from "../../src/drawing/types.ts";
import type { LineRule, Part, PartForm } from "../../src/job/types.ts";
import type { Checked, Problem } from "../../src/problem.ts";

/** Short ways to say a part and a drawing. */

export function part(form: PartForm, name = "part"): Part {
  return {
    name,
    quantity: 1,
    material: "acrylic-cast",
    thicknessMm: 3,
    form,
    turn: "any",
    flip: false,
    finish: null,
    spare: null,
    note: "",
    place: { file: "parts.csv", line: 2, column: null },
  };
}

/** A line rule of the job file, from its line 4 on where several are numbered. */
export function rule(
  by: LineRule["by"],
  value: string,
  operation: LineRule["operation"],
  line = 4,
): LineRule {
  return { by, value, operation, place: { file: "job.yaml", line, column: `lines.${by}` } };
}

/** A page of 200 x 100 mm, one user unit a millimetre, the content from line 2 on. */
export function page(content: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">\n${content}\n</svg>`;
}

export function readSvgText(
  svg: string,
  { id = null, rules = [] }: { id?: string | null; rules?: readonly LineRule[] } = {},
): Checked<readonly PartGeometry[]> {
  const texts = [{ name: "a.svg", text: svg, sha256: "" }];
  return readPartGeometry([part({ kind: "drawing", path: "a.svg", id })], texts, rules);
}

/** The part of a drawing that has no fault. */
export function readOne(
  svg: string,
  options: Parameters<typeof readSvgText>[1] = {},
): PartGeometry {
  const { value, problems } = readSvgText(svg, options);
  expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
  const [geometry] = value ?? [];
  if (geometry === undefined) throw new RangeError("no part was read");
  return geometry;
}

/** What is said of the drawing itself, not of the job's line rules. */
export function ofDrawing({ problems }: Checked<unknown>): Problem[] {
  return problems.filter(({ file }) => file !== "job.yaml");
}

/** The only problem of a drawing. */
export function onlyProblem(read: Checked<unknown>): Problem {
  const problems = ofDrawing(read);
  expect(problems).toHaveLength(1);
  const [problem] = problems;
  if (problem === undefined) throw new RangeError("no problem was found");
  return problem;
}

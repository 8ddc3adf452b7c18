import { readPartGeometry } from "../../dist/drawing/parts.js";

/** A row of a parts list that names a drawing. */
export function part(path, id = null) {
  return {
    name: "part",
    quantity: 1,
    material: "acrylic cast",
    thicknessMm: 3,
    form: { kind: "drawing", path, id },
    turn: "any",
    flip: false,
    finish: null,
    note: "",
    place: { file: "parts.csv", line: 2, column: null },
  };
}

/** The part that a drawing is; a drawing that is refused stops the run. */
export function readOne(name, text) {
  const { value, problems } = readPartGeometry([part(name)], [{ name, text, sha256: "" }], []);
  if (value === null) throw new Error(JSON.stringify(problems[0]));
  return value[0];
}

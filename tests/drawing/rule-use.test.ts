import { describe, expect, it } from "vitest";
import type { LineMarks } from "../../src/drawing/line-rules.ts";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { ruleUses } from "../../src/drawing/rule-use.ts";
import type { LineRule } from "../../src/job/types.ts";
import { sentence } from "../../src/problem.ts";
import { dxf, layer, layerTable, line, rectangle } from "./dxf/dxf-text.ts";
import { page, part, rule } from "./reading.ts";

const BIRD = page(
  `<g id="bird"><path d="M0 0h60v40h-60z"/><path class="engraved" d="M5 5h9v9h-9z"/></g>
<g id="post"><path d="M100 0h60v40h-60z"/><path class="scored" stroke="#f00" d="M110 10h9"/></g>`,
);

const SHADE = dxf(rectangle(0, 0, 40, 40, "CUT") + line(5, 5, 20, 20, "Fold"), {
  tables: layerTable(layer("CUT"), layer("Fold", 3)),
});

const TEXTS = [
  { name: "a.svg", text: BIRD, sha256: "" },
  { name: "b.dxf", text: SHADE, sha256: "" },
];

/** What is said of the job file when parts are drawn by these cells. */
function said(rules: readonly LineRule[], ...cells: readonly string[]): string[] {
  const parts = cells.map((cell, index) => {
    const [path = "", id = null] = cell.split("#");
    return part({ kind: "drawing", path, id }, `part ${index}`);
  });
  const { problems } = readPartGeometry(parts, TEXTS, rules);
  const ours = problems.filter(({ file }) => file === "job.yaml");
  expect(ours.every(({ severity }) => severity === "warning")).toBe(true);
  return ours.map(sentence);
}

const ENGRAVED = rule("class", "engraved", "engrave", 5);
const SCORED = rule("class", "scored", "score", 6);

describe("a line rule that takes no line", () => {
  it("is warned of at its line, with the name that may be meant", () => {
    expect(said([rule("class", "engravd", "engrave", 5), SCORED], "a.svg#bird")).toEqual([
      'job.yaml, line 5, lines.class: read "class: engravd", expected a class of the drawings\' lines (engraved or scored); no line has this one, and lines that no rule takes are cut, not engraved. Write "engraved" if that is meant, or delete the rule.',
    ]);
    expect(said([rule("stroke", "#ff0001", "score", 7)], "a.svg#post")).toEqual([
      'job.yaml, line 7, lines.stroke: read "stroke: #ff0001", expected a stroke of the drawings\' lines (#f00); no line has this one, and lines that no rule takes are cut, not scored. Write "#f00" if that is meant, or delete the rule.',
    ]);
    expect(said([rule("layer", "Folds", "score", 7)], "b.dxf#CUT")).toEqual([
      'job.yaml, line 7, lines.layer: read "layer: Folds", expected a layer of the drawings\' lines (CUT or Fold); no line has this one, and lines that no rule takes are cut, not scored. Write "Fold" if that is meant, or delete the rule.',
    ]);
    expect(said([rule("id", "heron", "cut", 7)], "a.svg#bird")).toEqual([
      'job.yaml, line 7, lines.id: read "id: heron", expected an id of the drawings\' lines (bird or post); no line has this one. Delete the rule.',
    ]);
  });

  it("may have the right name under the wrong mark", () => {
    expect(said([rule("class", "fold", "score")], "b.dxf")).toEqual([
      'job.yaml, line 4, lines.class: read "class: fold", expected a class of the drawings\' lines (they have none); no line has this one, and lines that no rule takes are cut, not scored. Write "layer: fold" if that is meant, or delete the rule.',
    ]);
  });

  it("is not warned of where any drawing of the job has such a line, used or not", () => {
    for (const cells of [["a.svg#bird"], ["a.svg#outline-1"], ["b.dxf", "a.svg#post"]])
      expect(said([ENGRAVED, SCORED], ...cells)).toEqual([]);
    expect(said([rule("stroke", "RED", "score")], "a.svg#bird")).toEqual([]);
  });

  it("is not judged while a drawing can not be read, or where nothing is drawn", () => {
    const idle = rule("class", "nothing", "score");
    expect(said([idle], "a.svg#bird")).toHaveLength(1);
    expect(said([idle], "a.svg#bird", "missing.svg")).toEqual([]);
    expect(said([idle])).toEqual([]);
    // An element that is not there leaves the drawing itself readable.
    expect(said([idle], "a.svg#brid")).toHaveLength(1);
  });

  it("is warned of when earlier rules take all of its lines", () => {
    const red = rule("stroke", "red", "engrave", 9);
    expect(said([SCORED, red], "a.svg#post")).toEqual([
      'job.yaml, line 9, lines.stroke: read "stroke: red", expected lines that no earlier rule takes; the only line that it names is taken by class: scored (line 6). Move the rule up if it is to decide, or delete it.',
    ]);
    expect(said([ENGRAVED, { ...ENGRAVED, place: red.place }], "a.svg#bird")).toHaveLength(1);
    expect(said([red, rule("stroke", "black", "cut", 10)], "a.svg#post")).toHaveLength(1);
  });
});

function marks(classes: readonly string[], stroke = ""): LineMarks {
  return { classes, ids: [], stroke };
}

describe("the use of rules", () => {
  it("counts the lines that each fits and those that it takes", () => {
    const lines = [marks(["a"]), marks(["a", "b"]), marks(["b"], "red"), marks([], "none")];
    const rules = [
      rule("class", "A", "cut"),
      rule("class", "b", "score"),
      rule("stroke", "#f00", "cut"),
    ];
    const uses = ruleUses(rules, lines);
    expect(uses.map(({ fitting, taken }) => [fitting, taken])).toEqual([
      [2, 2],
      [2, 1],
      [1, 0],
    ]);
    expect(uses.map(({ earlier }) => earlier.map(({ value }) => value))).toEqual([
      [],
      ["A"],
      ["b"],
    ]);
  });
});

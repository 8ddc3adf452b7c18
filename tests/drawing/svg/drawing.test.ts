import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../../src/drawing/parts.ts";
import { pathBounds } from "../../../src/geometry/path.ts";
import type { LineRule } from "../../../src/job/types.ts";
import { onlyProblem, page, part, readOne, readSvgText, rule } from "../reading.ts";

const RECT = `<rect width="50" height="50"/>`;

describe("one element of a drawing", () => {
  const sheet = page(`
    <g transform="translate(10 0)"><g id="heron"><path class="cut" d="M0 0h20v20h-20z"/><circle cx="5" cy="5" r="2"/></g>
    <rect id="snipe" x="50" width="10" height="30"/></g>`);

  it("is read with the transforms around it, and alone", () => {
    const heron = readOne(sheet, { id: "heron" });
    expect(pathBounds(heron.outline)).toEqual({ minX: 10, minY: 80, maxX: 30, maxY: 100 });
    expect(heron.holes).toHaveLength(1);
    expect(heron.place).toEqual({ file: "a.svg", line: 3, column: 'g "heron"' });
    expect(readOne(sheet, { id: "snipe" }).areaMm2).toBeCloseTo(300, 9);
  });

  it("that is not there brings the near ids", () => {
    const problem = onlyProblem(readSvgText(sheet, { id: "herons" }));
    expect(problem).toMatchObject({ code: "svg-id-unknown", found: "#herons" });
    expect(problem).toMatchObject({ file: "parts.csv", line: 2, column: "drawing" });
    expect(problem.mend).toContain('"heron"');
  });

  it("must stand there once, be shown, and stand in groups alone", () => {
    const twice = page(`<g id="a">${RECT}</g><g id="a">${RECT}</g>`);
    expect(onlyProblem(readSvgText(twice, { id: "a" })).code).toBe("svg-id-twice");
    for (const around of [`g display="none"`, `defs`, `g style="display:none"`]) {
      const name = around.split(" ")[0] ?? "";
      const svg = page(`<${around}><g id="a">${RECT}</g></${name}>`);
      expect(onlyProblem(readSvgText(svg, { id: "a" })).code).toBe("svg-hidden");
    }
    const inner = page(`<text><g id="a">${RECT}</g></text>`);
    expect(onlyProblem(readSvgText(inner, { id: "a" })).code).toBe("svg-uncuttable");
  });
});

describe("what is not drawn", () => {
  it("is passed over: notes, definitions, hidden things, an editor's own elements", () => {
    const { cutLengthMm } = readOne(
      page(`<title>t</title><desc>d</desc><metadata><rdf:RDF/></metadata>
        <defs><rect width="5" height="5"/><clipPath id="c"><rect width="1" height="1"/></clipPath></defs>
        <editor:view><grid/></editor:view>
        <rect width="9" height="9" display="none"/><g style="display: none !important">${RECT}</g>
        <g visibility="hidden"><circle r="9"/><svg:rect visibility="visible" width="50" height="50"/></g>`),
    );
    expect(cutLengthMm).toBe(200);
  });

  it("is said where it is a line that is hidden, once for all of them", () => {
    const ring = `<circle cx="20" cy="20" r="3"/>`;
    for (const [hidden, count] of [
      [`<g display="none">${ring}<g>${ring}</g></g>`, "2 lines that are hidden"],
      [`<g visibility="hidden">${ring}</g>`, "a line that is hidden"],
      [`<use href="#a" style="display:none"/>`, "a line that is hidden"],
    ] as const) {
      const read = readSvgText(page(`${RECT}${hidden}`));
      expect(onlyProblem(read)).toMatchObject({ code: "svg-unseen", found: count });
      expect(read.value?.[0]?.holes).toEqual([]);
    }
    expect(readSvgText(page(`${RECT}<g display="none"><text>t</text></g>`)).problems).toEqual([]);
  });

  it("is also what opacity 0 makes invisible, unless a rule names it", () => {
    const ring = `<circle class="c" cx="20" cy="20" r="3" stroke="red" fill="none"`;
    for (const unseen of [
      `<g opacity="0">${ring}/></g>`,
      `<g opacity="0%"><g opacity="1">${ring}/></g></g>`,
      `<g stroke-opacity="0.0">${ring}/></g>`,
      `${ring} style="stroke-opacity:0"/>`,
    ]) {
      const read = readSvgText(page(`${RECT}${unseen}`));
      expect(onlyProblem(read).code).toBe("svg-unpainted");
      expect(read.value?.[0]?.holes).toEqual([]);
      const named = readOne(page(`${RECT}${unseen}`), { rules: [rule("class", "c", "cut")] });
      expect(named.holes).toHaveLength(1);
    }
    for (const seen of [`${ring} opacity="0.1"/>`, `${ring} fill-opacity="0"/>`])
      expect(readOne(page(`${RECT}${seen}`)).holes).toHaveLength(1);
  });

  it.each([
    [`<text x="5" y="5">Hi</text>`, "<text>", "Convert the text to outlines"],
    [`<image href="a.png"/>`, "<image>", ""],
    [`<tspan>Hi</tspan>`, "<tspan>", "Convert the text to outlines"],
    [`<textPath href="#p"/>`, "<textPath>", "Convert the text to outlines"],
    [`<foreignObject/>`, "<foreignObject>", ""],
    [`<script>draw()</script>`, "<script>", ""],
    [`<circle r="4" clip-path="url(#c)"/>`, "clip-path", ""],
    [`<g style="mask:url(#m)"/>`, "mask", ""],
    [`<g style="transform:rotate(4deg)"/>`, "transform", ""],
    [`<circle style="r:4px"/>`, "r", "attribute"],
  ])("but can not be cut is told: %s", (content, found, mend) => {
    const problem = onlyProblem(readSvgText(page(`${RECT}\n${content}`)));
    expect(problem).toMatchObject({ code: "svg-uncuttable", found, line: 3, severity: "error" });
    expect(problem.mend).toContain(mend);
  });
});

describe("what can not be read", () => {
  it.each([
    ["svg-malformed", 3, `<svg>\n<g>\n</svg>`],
    ["svg-malformed", 1, ``],
    ["svg-root", 1, `<html/>`],
    ["svg-too-deep", 1, `<svg>${"<g>".repeat(300)}${"</g>".repeat(300)}</svg>`],
    ["svg-path-data", 2, page(`<path d="M0 0L5"/>`)],
    ["svg-path-data", 2, page(`<path d="L5 5"/>`)],
    ["svg-number", 2, page(`<rect width="5em" height="5"/>`)],
    ["svg-number", 2, page(`<circle r="-5"/>`)],
    ["svg-number", 2, page(`<polygon points="1 2 3"/>`)],
    ["svg-number", 2, page(`<polygon points="1 2 x 3"/>`)],
    ["svg-number", 2, page(`<path d="M0 0L1e400 0L5 5z"/>`)],
    ["svg-transform", 2, page(`<g transform="spin(4)"/>`)],
  ])("is told as %s, line %i", (code, line, svg) => {
    const first = readSvgText(svg).problems.find(({ severity }) => severity === "error");
    expect(first).toMatchObject({ code, file: "a.svg", line });
  });

  it("is told all at once, and once for each fault however many parts share it", () => {
    const svg = page(`<g id="a">${RECT}<text/></g>\n<g id="b">${RECT}<image/></g>`);
    const parts = ["a", "b", "a"].map((id) => part({ kind: "drawing", path: "a.svg", id }, id));
    const { value, problems } = readPartGeometry(
      parts,
      [{ name: "a.svg", text: svg, sha256: "" }],
      [],
    );
    expect(value).toBeNull();
    expect(problems.map(({ found, line }) => [found, line])).toEqual([
      ["<text>", 2],
      ["<image>", 3],
    ]);
  });

  it("is told of files that are missing or of another kind, in the parts list", () => {
    const texts = [{ name: "drawings/heron.svg", text: page(RECT), sha256: "" }];
    const read = (path: string): unknown =>
      onlyProblem(readPartGeometry([part({ kind: "drawing", path, id: null })], texts, []));
    const cell = { file: "parts.csv", line: 2, column: "drawing" };
    expect(read("drawings/herron.svg")).toMatchObject({
      ...cell,
      code: "drawing-missing",
      mend: 'Write "drawings/heron.svg" if that is meant',
    });
    expect(read("a.DXF")).toMatchObject({ ...cell, code: "drawing-missing" });
    expect(read("a.png")).toMatchObject({ ...cell, code: "drawing-format" });
  });
});

describe("operations", () => {
  const rules: readonly LineRule[] = [
    rule("id", "Keep", "cut"),
    rule("class", "ENGRAVE", "engrave"),
    rule("stroke", "#00F", "score"),
  ];
  const counts = (content: string): number[] => {
    const read = readOne(page(`${RECT}${content}`), { rules });
    return [read.holes.length, read.scores.length, read.engravings.length];
  };
  it("go by class, by stroke in any spelling, by id, also of groups around", () => {
    expect(counts(circle(""))).toEqual([1, 0, 0]);
    expect(counts(circle(`class="thin Engrave"`))).toEqual([0, 0, 1]);
    expect(counts(`<g class="engrave"><g>${circle("")}</g></g>`)).toEqual([0, 0, 1]);
    for (const blue of ["blue", "#00f", "#0000FF", "rgb(0, 0, 255)", "rgb(0%,0%,100%)"]) {
      expect(counts(circle(`stroke="${blue}"`))).toEqual([0, 1, 0]);
      expect(counts(circle(`stroke="red" style="fill:none;stroke:${blue}"`))).toEqual([0, 1, 0]);
    }
    expect(counts(`<g stroke="blue">${circle("")}</g>`)).toEqual([0, 1, 0]);
    expect(counts(`<g stroke="blue">${circle(`stroke="black"`)}</g>`)).toEqual([1, 0, 0]);
  });

  it("go by the first rule that fits", () => {
    expect(counts(circle(`id="keep" class="engrave" stroke="blue"`))).toEqual([1, 0, 0]);
    expect(counts(circle(`class="engrave" stroke="blue"`))).toEqual([0, 0, 1]);
  });

  it("let scores be open, and engravings not", () => {
    const open = `<path d="M5 5h20" stroke="blue"/>`;
    expect(counts(open)).toEqual([0, 1, 0]);
    const engraved = page(`${RECT}<path d="M5 5h20" class="engrave"/>`);
    expect(onlyProblem(readSvgText(engraved, { rules })).code).toBe("engraving-open");
  });
});

it("a start tag that runs over lines is placed at its first", () => {
  const read = readSvgText(page(`<path\n  d="M0 0h5"\n  id="x"/>`));
  expect(onlyProblem(read)).toMatchObject({ code: "contour-open", line: 2, column: 'path "x"' });
});

function circle(attributes: string): string {
  return `<circle cx="20" cy="20" r="4" ${attributes}/>`;
}

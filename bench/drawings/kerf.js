import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import DxfReader from "dxf-parser";
import { heading, mm, table } from "./print.js";

/**
 * The worked kerf cases from drawing to layout: a job is quoted by the command, and what lies in the
 * layout's DXF is measured by dxf-parser.
 */

const MAIN = fileURLToPath(new URL("../../dist/main.js", import.meta.url));

/** Of birch plywood of 3 mm on this machine, in `price-tables/kerfs.csv`. */
const [MACHINE, STOCK, KERF] = ["bureau-60w", "birch plywood,3 mm", 0.2];

/** Drawn width and height; the source says what comes out of the machine. */
const CASES = [
  {
    what: "piece",
    drawn: [2, 4],
    asDrawn: [1.8, 3.8],
    line: [2.2, 4.2],
    source: "service kerf page",
  },
  {
    what: "hole",
    drawn: [2, 4],
    asDrawn: [2.2, 4.2],
    line: [1.8, 3.8],
    source: "service kerf page",
  },
  {
    what: "piece",
    drawn: [40, 40],
    asDrawn: [39.8, 39.8],
    line: [40.2, 40.2],
    source: "service help page",
  },
  {
    what: "hole",
    drawn: [40, 40],
    asDrawn: [40.2, 40.2],
    line: [39.8, 39.8],
    source: "service help page",
  },
];

const AROUND = 60;

/** A hole stands in a plate of its own. */
function svgOf({ what, drawn: [width, height] }) {
  const side = what === "hole" ? AROUND : 0;
  const inner = `M${side / 2} ${side / 2}h${width}v${height}h${-width}z`;
  const outer = side === 0 ? "" : `M0 0h${width + side}v${height + side}h${-width - side}z`;
  const [w, h] = [width + side, height + side];
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}"><path d="${outer}${inner}"/></svg>`;
}

/** Widths and heights of all closed lines to cut in the layout of a case. */
function cutLines(one, mode) {
  const folder = mkdtempSync(join(tmpdir(), "kerf-"));
  try {
    const file = (name, text) => writeFileSync(join(folder, name), `${text}\n`);
    file("a.svg", svgOf(one));
    file(
      "parts.csv",
      `part,qty,material,thickness,drawing,turn\n${one.what},1,${STOCK},a.svg,fixed`,
    );
    file("job.yaml", `title: Kerf\nmachine: ${MACHINE}\ncut_lines: ${mode}`);
    execFileSync(process.execPath, [MAIN, "quote", folder, "--out", join(folder, "out")], {
      stdio: "pipe",
    });
    const layouts = join(folder, "out", "layouts");
    const name = readdirSync(layouts).find((each) => each.endsWith(".dxf"));
    const { entities } = new DxfReader().parseSync(readFileSync(join(layouts, name), "utf8"));
    return entities.filter(({ layer, vertices }) => layer === "CUT" && vertices).map(sizeOf);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function sizeOf({ vertices }) {
  return ["x", "y"].map((axis) => {
    const values = vertices.map((vertex) => vertex[axis]);
    return Math.max(...values) - Math.min(...values);
  });
}

export function kerfTable() {
  heading(`Kerf ${KERF} mm, from the drawing to the lines in the layout`);
  const results = CASES.flatMap((one) => [
    row(one, "as drawn", one.drawn, one.asDrawn),
    row(one, "moved by half the kerf", one.line, one.drawn),
  ]);
  table(
    ["case", "cut lines", "line", "expected", "comes out", "expected", "source"],
    results.map((result) => result.row),
    7,
  );
  return results.filter(({ wrong }) => wrong).map(({ row }) => `kerf: ${row[0]} ${row[1]}`);
}

/** @param line the cut line wanted, @param out what is to come out of the machine. */
function row(one, mode, line, out) {
  const isHole = one.what === "hole";
  const sizes = cutLines(one, mode).toSorted((a, b) => a[0] - b[0]);
  const [cut] = sizes;
  // The beam takes half the kerf on either side of its line.
  const left = cut.map((size) => size + (isHole ? KERF : -KERF));
  const cells = [cut, line, left, out].map(text);
  const wrong = cells[0] !== cells[1] || cells[2] !== cells[3] || sizes.length !== (isHole ? 2 : 1);
  return { row: [`${one.what} drawn ${text(one.drawn)}`, mode, ...cells, one.source], wrong };
}

function text([width, height]) {
  return `${mm(width)} x ${mm(height)}`;
}

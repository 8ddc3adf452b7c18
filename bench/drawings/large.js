import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { dxf, entity, line } from "../../bench-out/tests/drawing/dxf/dxf-text.js";
import { apart, heading, mm, small, table } from "./print.js";

/** Drawings of a size that few have, each read in a fresh process: see large-child.js. */

const MB = 1e6;
const CHILD = fileURLToPath(new URL("large-child.js", import.meta.url));

/** A plate with equal holes in rows and columns; its length and area by closed forms. */
function sieve(columns, rows, pitch, holeLength, holeArea) {
  const holes = Array.from({ length: columns * rows }, (_, at) => ({
    x: pitch * (1 + (at % columns)),
    y: pitch * (1 + Math.floor(at / columns)),
  }));
  const [width, height] = [pitch * (columns + 1), pitch * (rows + 1)];
  const [lengthMm, areaMm2] = [
    2 * (width + height) + holes.length * holeLength,
    width * height - holes.length * holeArea,
  ];
  return { holes, width, height, lengthMm, areaMm2 };
}

function svg({ width, height }, content) {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"><rect width="${width}" height="${height}"/>${content}</svg>`;
}

function sidedHoles(columns, rows, pitch, sides) {
  const [angle, radius] = [(2 * Math.PI) / sides, 0.4 * pitch];
  const sieved = sieve(
    columns,
    rows,
    pitch,
    2 * radius * sides * Math.sin(angle / 2),
    (sides / 2) * radius ** 2 * Math.sin(angle),
  );
  const paths = sieved.holes.map(({ x, y }) => {
    const points = Array.from({ length: sides }, (_, side) =>
      [x + radius * Math.cos(side * angle), y + radius * Math.sin(side * angle)]
        .map((value) => value.toFixed(6))
        .join(","),
    );
    return `<path d="M${points.join(" ")}z"/>\n`;
  });
  const name = `svg: holes of ${sides} straight sides`;
  return { ...sieved, name, text: svg(sieved, paths.join("")) };
}

function roundHoles(columns, rows) {
  const sieved = sieve(columns, rows, 10, 8 * Math.PI, 16 * Math.PI);
  const paths = sieved.holes.map(
    ({ x, y }) =>
      `<path style="fill:none;stroke:#ff0000;stroke-width:0.1" d="M${(x - 4).toFixed(6)},${y.toFixed(6)}a4.000000,4.000000 0 1 0 8.000000,0.000000a4.000000,4.000000 0 1 0 -8.000000,0.000000z"/>\n`,
  );
  return { ...sieved, name: "svg: holes of two arcs", text: svg(sieved, paths.join("")) };
}

/** Loose lines and arcs, those of a slot far apart in the file, and four of the frame. */
function looseSlots(columns, rows) {
  const sieved = sieve(columns, rows, 10, 4 + 4 * Math.PI, 8 + 4 * Math.PI);
  const { holes, width, height } = sieved;
  const sides = [
    ({ x, y }) => line(x - 1, y - 2, x + 1, y - 2),
    ({ x, y }) => entity("ARC", 10, x + 1, 20, y, 40, 2, 50, 270, 51, 90),
    ({ x, y }) => line(x - 1, y + 2, x + 1, y + 2),
    ({ x, y }) => entity("ARC", 10, x - 1, 20, y, 40, 2, 50, 90, 51, 270),
  ];
  const frame = [
    line(0, 0, width, 0),
    line(width, height, width, 0),
    line(0, height, width, height),
    line(0, 0, 0, height),
  ];
  const pieces = [...frame, ...sides.flatMap((side) => holes.map(side))];
  return { ...sieved, name: `dxf: ${pieces.length} loose entities`, text: dxf(pieces.join("")) };
}

export function largeTable() {
  heading("Large drawings, each in a fresh process, holes and all as one part");
  const folder = mkdtempSync(join(tmpdir(), "drawings-"));
  try {
    const results = [
      sidedHoles(1, 1, 1000, 450_000),
      sidedHoles(27, 22, 10, 800),
      roundHoles(270, 215),
      looseSlots(100, 50),
    ].map((one) => measured(folder, one));
    table(
      ["drawing", "MB", "contours", "seconds", "peak MB", "mm", "apart", "mm2 apart"],
      results.map(({ row }) => row),
    );
    return results.filter(({ wrong }) => wrong).map(({ row }) => row[0]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function measured(folder, { name, text, holes, lengthMm, areaMm2 }) {
  const path = join(folder, `a.${name.slice(0, 3)}`);
  writeFileSync(path, text);
  const said = execFileSync(process.execPath, [CHILD, path], { encoding: "utf8" });
  const read = JSON.parse(said);
  const differences = [apart(read.lengthMm, lengthMm), apart(read.areaMm2, areaMm2)];
  const row = [
    name,
    (text.length / MB).toFixed(1),
    read.holes + 1,
    read.seconds.toFixed(2),
    read.peakMb.toFixed(0),
    mm(read.lengthMm, 1),
    ...differences.map(small),
  ];
  const wrong = read.holes !== holes.length || differences.some((one) => !(one < 1e-6));
  return { row, wrong };
}

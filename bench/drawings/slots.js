import { readFileSync } from "node:fs";
import { parse } from "csv-parse/sync";
import { slotFits } from "../../dist/fit/slot-check.js";
import { thicknessOf } from "../../dist/fit/thickness.js";
import { readOne } from "./part.js";
import { heading, mm, say, table } from "./print.js";

/** Slots as makers tried them, against what the check says with the limits of `fits.csv`. */

const FITS = parse(readFileSync(new URL("../../price-tables/fits.csv", import.meta.url), "utf8"), {
  columns: true,
});

/** Kerfs from elsewhere where the maker gave none. */
const CLASS = { mm: 0.124, from: "class mean" };
const MDF = { mm: 0.152, from: "service kerf table" };
const LOG = { mm: 0.15, from: "the same log" };
const BORROWED_LOG = { mm: 0.15, from: "another log" };
const SLOW = { mm: 0.475, from: "the same log, 0.45 to 0.50" };
const [CARD, PLY, FIBRE, ACRYLIC] = ["greyboard", "birch plywood", "MDF", "acrylic cast"];
const EIGHTH = 25.4 / 8;

/** Material, thickness, drawn width, kerf, what was found, the fit that this is, source. */
const TRIALS = [
  [PLY, 6, 5.5, CLASS, "would not start", "no go", "makerspace project log"],
  [PLY, 6, 5.75, CLASS, "by hammer", "tight", "makerspace project log"],
  [PLY, 6, 5.8, CLASS, "firm", "snug", "makerspace project log"],
  [PLY, 6, 6, CLASS, "loose", "loose", "makerspace project log"],
  [CARD, 4.19, 4.1, BORROWED_LOG, "best of 4.1 to 4.9", "snug", "fab course student"],
  [CARD, 3, 2.75, LOG, "best", "snug", "fab-lab student log"],
  [CARD, 4, 4 - 0.114 - 0.124, CLASS, "mean of a class", "snug", "class data, material not said"],
  [PLY, 4, 4 - 0.114 - 0.124, CLASS, "mean of a class", "snug", "class data, material not said"],
  [PLY, EIGHTH, EIGHTH - 0.152, MDF, "advised", "snug", "user community, wood"],
  [FIBRE, EIGHTH, EIGHTH - 0.12, MDF, "best", "snug", "course page, hardboard"],
  [FIBRE, EIGHTH, EIGHTH - 0.15, MDF, "best", "snug", "course page, hardboard"],
  [FIBRE, EIGHTH, EIGHTH - 0.5, MDF, "far too much", "no go", "course page, hardboard"],
  [FIBRE, EIGHTH, EIGHTH, MDF, "still gluable", "loose", "course page, hardboard"],
  [CARD, 4, 3.85, LOG, "snug", "snug", "fab-lab student log"],
  [PLY, 4, 3.85, LOG, "snug", "snug", "fab-lab student log"],
  [ACRYLIC, 3, 2.6, SLOW, "still slightly loose", "loose", "fab-lab student log"],
];

const HEAD = ["material", "mm", "drawn", "kerf", "kerf from", "as cut", "snug", "found", "is"];

export function slotTable() {
  heading(`${TRIALS.length} slots that makers tried, with the limits of price-tables/fits.csv`);
  const results = TRIALS.map(tried);
  table(
    [...HEAD, "we say", "", "to draw", "source"],
    results.map(({ row }) => row),
    13,
  );
  const differ = results.filter(({ differs }) => differs);
  say(
    `${results.length - differ.length} of ${results.length} as found; the others miss it by at most ${mm(Math.max(0, ...differ.map(({ byMm }) => byMm)))} mm`,
  );
  return [];
}

function tried([material, thicknessMm, drawnMm, kerf, found, is, source]) {
  const row = FITS.find((fit) => fit.material === material);
  const clearance = { lowMm: Number(row.clearance_low_mm), highMm: Number(row.clearance_high_mm) };
  const none = { overMm: 0, overPerMm: 0, underMm: 0, underPerMm: 0 };
  const thickness = thicknessOf(thicknessMm, thicknessMm, none);
  const sheet = { material, thicknessMm, thickness, clearance };
  const geometry = readOne("a.svg", notched(drawnMm));
  const [slot] = slotFits([{ part: "part", geometry, clearance, kerfsMm: [kerf.mm] }], [sheet]);
  const differs = slot.fit !== is;
  const byMm = differs ? away(slot.clearanceMm, is, clearance) : 0;
  const cells = [
    material,
    mm(thicknessMm),
    mm(slot.widthMm),
    mm(kerf.mm),
    kerf.from,
    mm(slot.clearanceMm),
    `${mm(clearance.lowMm, 2)} to ${mm(clearance.highMm, 2)}`,
    found,
    is,
    slot.fit,
    differs ? `differs by ${mm(byMm)}` : "same",
    mm(slot.drawMm, 2),
    source,
  ];
  return { row: cells, differs, byMm };
}

/** How far from the limits within which the slot would be said to be as it was found. */
function away(clearanceMm, is, { lowMm, highMm }) {
  if (is === "loose") return highMm - clearanceMm;
  if (is === "snug") return Math.max(lowMm - clearanceMm, clearanceMm - highMm);
  return Math.abs(clearanceMm - lowMm);
}

/** A plate of 100 x 50 mm with a notch 20 mm deep. */
function notched(width) {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 100 50"><path d="M0 0h40v20h${width}v-20h${60 - width}v50H0z"/></svg>`;
}

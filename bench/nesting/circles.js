import { choiceOf, data, nested, pieceOf, say } from "./common.js";

const RADIUS_MM = 50;
const CORNERS = 256;
/** Larger than the square of the table. */
const ROOM = 1.015;

/** Missing in the file; the same table, from memory. */
const TWENTY = { n: 20, ratio: 8.9780833528 };

/** Equal circles on one square sheet, 1.5 % larger than that of the table of best known packings. */
export function circles({ names, ...effort }) {
  const { rows: listed } = data("circles/equal-circles-in-square.json");
  const rows = [...listed, TWENTY].sort((a, b) => a.n - b.n);
  const wanted = names.length === 0 ? ["9", "20", "30"] : names;
  say("circles  square of the table, mm  ours, mm  seeds: on one sheet (seconds)");
  for (const { n, ratio } of rows.filter((row) => wanted.includes(String(row.n)))) {
    const known = ratio * RADIUS_MM;
    const side = known * ROOM;
    const runs = effort.seeds.map((seed) => {
      return nested([disc(n)], choiceOf("square", side, side), { ...effort, seed }, isOnOne);
    });
    const found = runs.map(({ best, at }) => {
      return `${isOnOne(best) ? "yes" : "no"} (${at.toFixed(1)})`;
    });
    const columns = [String(n).padStart(7), known.toFixed(2).padStart(24)];
    say([...columns, side.toFixed(2).padStart(9), "", found.join("  ")].join(" "));
  }
}

function isOnOne({ sheets }) {
  return sheets.length === 1;
}

/** A polygon within the circle, and how far the circle lies outside of it. */
function disc(copies) {
  const points = Array.from({ length: CORNERS }, (_, corner) => {
    const angle = (2 * Math.PI * corner) / CORNERS;
    return [RADIUS_MM * Math.cos(angle), RADIUS_MM * Math.sin(angle)];
  });
  const flatteningMm = RADIUS_MM * (1 - Math.cos(Math.PI / CORNERS));
  return { ...pieceOf("disc", points, copies, "fixed", false), flatteningMm };
}

import { choiceOf, nested, pieceOf, say } from "./common.js";

const SHAPES = 12;

/** How soon there is a first nest of so many copies of a dozen shapes, and in how much memory. */
export function scale({ names, ...effort }) {
  const counts = names.length === 0 ? [100, 1000, 10_000] : names.map(Number);
  say("pieces  first s  sheets then  sheets after  steps  peak MB");
  for (const count of counts) {
    const choice = { ...choiceOf("2500x1250", 2500, 1250), marginMm: 5, gapMm: 3 };
    let then = null;
    const isEnough = ({ sheets }) => {
      then ??= sheets.length;
      return false;
    };
    const { best, first, steps } = nested(pieces(count), choice, { ...effort, seed: 1 }, isEnough);
    const peak = process.resourceUsage().maxRSS / 1024;
    const columns = [count, first.toFixed(2), then, best.sheets.length, steps, peak.toFixed(0)];
    const widths = [6, 8, 12, 13, 6, 8];
    say(columns.map((column, index) => String(column).padStart(widths[index])).join(" "));
  }
}

/** Stars, hooks and plates of 60 to 250 mm, with 5 to 60 corners, drawn by a seed. */
function pieces(count) {
  const random = randomFrom(12);
  return Array.from({ length: SHAPES }, (_, shape) => {
    const corners = 5 + 5 * shape;
    const radius = 30 + random(95);
    const points = Array.from({ length: corners }, (__, corner) => {
      const angle = (2 * Math.PI * corner) / corners;
      const reach = radius * (0.5 + random(500) / 1000);
      return [reach * Math.cos(angle), reach * Math.sin(angle)];
    });
    const copies = Math.floor((count + shape) / SHAPES);
    return pieceOf(`p${shape}`, points, copies, "quarter", false);
  });
}

/** Whole numbers from a seed, the same on every machine (Park and Miller 1988). */
function randomFrom(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

import { circlePath, polylinePath } from "../../dist/geometry/path.js";
import { randomFrom } from "../../dist/random.js";

/**
 * Generated sheets: plates with holes, plates with pieces in a window, and odd shapes, shelf by shelf
 * with 3 mm between. All contours count: outlines and holes.
 */

const GAP_MM = 3;
const SHARES = { plates: [0.8, 0.95], shapes: [0, 0], mixed: [0.45, 0.65] };

/** @param kind one of `KINDS`. */
export function generatedSheet(kind, contours, seed) {
  const random = randomFrom(seed);
  const between = (low, high) => low + random() * (high - low);
  const widthMm = Math.sqrt(contours) * 45;
  const [plates, windows] = SHARES[kind];
  const lines = [];
  let left = contours;
  let [x, y, shelf] = [0, 0, 0];
  for (let copy = 1; left > 0; copy += 1) {
    const [width, height] = [between(30, 140), between(30, 100)];
    if (x + width > widthMm) [x, y, shelf] = [0, y + shelf + GAP_MM, 0];
    const roll = random();
    const make = roll < plates ? plate : roll < windows ? withWindow : oddShape;
    const made = make({ x, y, width, height, between, random, left });
    for (const one of made) lines.push({ ...one, copy, scores: [], engravings: [] });
    left -= made.reduce((sum, { holes }) => sum + 1 + holes.length, 0);
    x += width + GAP_MM;
    shelf = Math.max(shelf, height);
  }
  return lines;
}

export const KINDS = Object.keys(SHARES);

function plate({ x, y, width, height, between, left }) {
  const holes = [];
  const wanted = Math.min(left - 1, Math.floor(between(0, 9)));
  for (let index = 0; index < wanted; index += 1) {
    const centre = { x: between(x + 8, x + width - 8), y: between(y + 8, y + height - 8) };
    const radius = between(1, 6);
    const apart = holes.every(
      (hole) =>
        Math.hypot(hole.centre.x - centre.x, hole.centre.y - centre.y) > hole.radius + radius + 1,
    );
    if (apart) holes.push({ centre, radius });
  }
  const outline = rectangle(x, y, width, height);
  return [
    {
      part: "plate",
      outline,
      holes: holes.map(({ centre, radius }) => circlePath(centre, radius)),
    },
  ];
}

function withWindow({ x, y, width, height, left }) {
  const outline = rectangle(x, y, width, height);
  if (left < 4) return [{ part: "plate", outline, holes: [] }];
  const window = rectangle(x + 6, y + 6, width - 12, height - 12);
  const inner = rectangle(x + 6 + GAP_MM, y + 6 + GAP_MM, (width - 12) / 2, (height - 12) / 2);
  const hole = circlePath({ x: x + 9 + (width - 12) / 4, y: y + 9 + (height - 12) / 4 }, 2.5);
  return [
    { part: "frame", outline, holes: [window] },
    { part: "inner", outline: inner, holes: [hole] },
  ];
}

function oddShape({ x, y, width, height, between }) {
  const points = Math.floor(between(5, 24));
  const ring = Array.from({ length: points }, (_, index) => {
    const angle = (2 * Math.PI * index) / points;
    const reach = between(0.55, 1) / 2;
    return {
      x: x + width * (0.5 + reach * Math.cos(angle)),
      y: y + height * (0.5 + reach * Math.sin(angle)),
    };
  });
  return [{ part: "shape", outline: polylinePath(ring, true), holes: [] }];
}

function rectangle(x, y, width, height) {
  const corners = [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
  return polylinePath(corners, true);
}

/** Generated outlines that can be said in SVG and in DXF alike, in units about 100, 50. */

export const KINDS = ["lines", "arcs", "quadratics", "cubics", "ellipses"];

/**
 * A star with a hole in its middle, or two halves of ellipses for "ellipses".
 * @returns two contours, the outline first: `{ start, sides }`, each side with its `to`, its `d`
 * (absolute SVG path data) and what it is made of.
 */
export function drawing(kind, index) {
  if (kind === "ellipses") return [egg(index, 1), egg(index + 1, 0.25)];
  return [star(kind, index, 1), star(kind, index + 1, 0.25)];
}

/** A wavy star of 5 to 11 corners. */
function star(kind, index, size) {
  const corners = 5 + (index % 7);
  const at = (turn, radius) => {
    const angle = 2 * Math.PI * turn;
    return { x: 100 + size * radius * Math.cos(angle), y: 50 + size * radius * Math.sin(angle) };
  };
  const points = Array.from({ length: corners }, (_, corner) =>
    at(corner / corners, 30 + ((corner * (index + 2)) % 9)),
  );
  const sides = points.map((from, corner) => {
    const to = points[(corner + 1) % corners];
    const turn = (share) => (corner + share) / corners;
    if (kind === "lines") return { from, to, d: `L${xy(to)}` };
    if (kind === "arcs") return bulged(from, to, ((corner + index) % 2 === 0 ? 1 : -1) * 0.2);
    const controls =
      kind === "quadratics" ? [at(turn(0.5), 43)] : [at(turn(0.2), 38), at(turn(0.8), 42)];
    return {
      from,
      to,
      controls,
      d: `${kind === "quadratics" ? "Q" : "C"}${[...controls, to].map(xy).join(" ")}`,
    };
  });
  return { start: points[0], sides };
}

/** A circular arc whose sweep is four times the arc tangent of the bulge, counter-clockwise. */
function bulged(from, to, bulge) {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const sweep = 4 * Math.atan(bulge);
  const radius = Math.hypot(dx, dy) / 2 / Math.abs(Math.sin(sweep / 2));
  /** So many chords to the left of the chord's middle. */
  const left = (chords) => ({ x: middle.x - chords * dy, y: middle.y + chords * dx });
  return {
    from,
    to,
    bulge,
    radius,
    sweep,
    centre: left(1 / Math.tan(sweep / 2) / 2),
    /** Where the tangents of both ends meet. */
    controls: [left(-Math.tan(sweep / 2) / 2)],
    d: `A${radius} ${radius} 0 0 ${bulge > 0 ? 1 : 0} ${xy(to)}`,
  };
}

/** Halves of two ellipses that share one axis. */
function egg(index, size) {
  const tilt = 0.3 * index;
  const half = size * (30 + (index % 5));
  const axis = { x: half * Math.cos(tilt), y: half * Math.sin(tilt) };
  const [first, last] = [
    { x: 100 - axis.x, y: 50 - axis.y },
    { x: 100 + axis.x, y: 50 + axis.y },
  ];
  const side = (from, to, ratio, sign) => ({
    from,
    to,
    ratio,
    major: { x: sign * axis.x, y: sign * axis.y },
    d: `A${half} ${half * ratio} ${(180 / Math.PI) * tilt} 0 1 ${xy(to)}`,
  });
  const ratios = [0.4 + 0.05 * (index % 4), 0.9 - 0.06 * (index % 3)];
  return {
    start: first,
    sides: [side(first, last, ratios[0], -1), side(last, first, ratios[1], 1)],
  };
}

export function pathData({ start, sides }) {
  return `M${xy(start)}${sides.map(({ d }) => d).join("")}Z`;
}

function xy({ x, y }) {
  return `${x} ${y}`;
}

/**
 * Sums of convex polygons, flat `x0,y0,x1,y1,...`, counter-clockwise. What this file makes begins
 * with the leftmost point, the lowest of several.
 */

/**
 * Every point of one added to every point of the other (Minkowski): the edges of both in the order
 * of their direction. A single point is a polygon too.
 */
export function convexSum(a: Float64Array, b: Float64Array): Float64Array {
  const sum = new Float64Array(a.length + b.length);
  return sum.subarray(0, addConvexSum(fromLeftmost(a), fromLeftmost(b), sum, 0));
}

/** Writes the sum of two that begin with their leftmost points; returns where it ends. */
export function addConvexSum(
  a: Float64Array,
  b: Float64Array,
  sum: Float64Array,
  start: number,
): number {
  let [i, j, used] = [0, 0, start];
  let [leftA, leftB] = [a.length, b.length];
  // The innermost loop of making no-fit regions: no remainders, no arrays.
  while (leftA > 0 || leftB > 0) {
    sum[used++] = a[i]! + b[j]!;
    sum[used++] = a[i + 1]! + b[j + 1]!;
    const nextA = i + 2 === a.length ? 0 : i + 2;
    const nextB = j + 2 === b.length ? 0 : j + 2;
    const turn =
      leftA === 0
        ? -1
        : leftB === 0
          ? 1
          : edgeTurn(
              a[nextA]! - a[i]!,
              a[nextA + 1]! - a[i + 1]!,
              b[nextB]! - b[j]!,
              b[nextB + 1]! - b[j + 1]!,
            );
    if (turn >= 0) {
      i = nextA;
      leftA -= 2;
    }
    if (turn <= 0) {
      j = nextB;
      leftB -= 2;
    }
  }
  return used;
}

export function mirroredThroughOrigin(polygon: Float64Array): Float64Array {
  return fromLeftmost(polygon.map((coordinate) => -coordinate));
}

function fromLeftmost(polygon: Float64Array): Float64Array {
  const start = 2 * leftmost(polygon);
  if (start === 0) return polygon;
  const ordered = new Float64Array(polygon.length);
  ordered.set(polygon.subarray(start));
  ordered.set(polygon.subarray(0, start), polygon.length - start);
  return ordered;
}

/** Index of the leftmost point, the lowest of several. */
function leftmost(polygon: Float64Array): number {
  let best = 0;
  for (let index = 1; index < polygon.length / 2; index++) {
    const x = polygon[2 * index]!;
    const bestX = polygon[2 * best]!;
    if (x < bestX || (x === bestX && polygon[2 * index + 1]! < polygon[2 * best + 1]!))
      best = index;
  }
  return best;
}

/**
 * Positive when the edge of `b` turns left of the edge of `a`, zero when they run alike but for
 * rounding; edges of no length come first.
 */
function edgeTurn(ax: number, ay: number, bx: number, by: number): number {
  const turn = ax * by - ay * bx;
  return Math.abs(turn) <= ALIKE * (Math.abs(ax * bx) + Math.abs(ay * by)) ? 0 : turn;
}

/** Sine of the angle that two directions may differ by: 1e-9 mm over a metre. */
const ALIKE = 1e-12;

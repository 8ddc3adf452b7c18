/**
 * Sums of convex polygons, flat `x0,y0,x1,y1,...`, counter-clockwise. What this file makes begins
 * with the leftmost point, the lowest of several.
 */

/**
 * Every point of one added to every point of the other (Minkowski): the edges of both in the order
 * of their direction. A single point is a polygon too.
 */
export function convexSum(a: Float64Array, b: Float64Array): Float64Array {
  const [countA, countB] = [a.length / 2, b.length / 2];
  const [startA, startB] = [leftmost(a), leftmost(b)];
  const sum = new Float64Array(2 * (countA + countB));
  let [i, j, used] = [0, 0, 0];
  while (i < countA || j < countB) {
    const atA = (startA + i) % countA;
    const atB = (startB + j) % countB;
    sum[used++] = a[2 * atA]! + b[2 * atB]!;
    sum[used++] = a[2 * atA + 1]! + b[2 * atB + 1]!;
    if (i === countA) j++;
    else if (j === countB) i++;
    else {
      const turn = edgeTurn(a, atA, b, atB);
      if (turn >= 0) i++;
      if (turn <= 0) j++;
    }
  }
  return sum.slice(0, used);
}

export function mirroredThroughOrigin(polygon: Float64Array): Float64Array {
  const negative = polygon.map((coordinate) => -coordinate);
  const start = 2 * leftmost(negative);
  const ordered = new Float64Array(negative.length);
  ordered.set(negative.subarray(start));
  ordered.set(negative.subarray(0, start), negative.length - start);
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

/** Positive when the edge of `b` turns left of the edge of `a`; edges of no length come first. */
function edgeTurn(a: Float64Array, i: number, b: Float64Array, j: number): number {
  const nextA = (i + 1) % (a.length / 2);
  const nextB = (j + 1) % (b.length / 2);
  const ax = a[2 * nextA]! - a[2 * i]!;
  const ay = a[2 * nextA + 1]! - a[2 * i + 1]!;
  const bx = b[2 * nextB]! - b[2 * j]!;
  const by = b[2 * nextB + 1]! - b[2 * j + 1]!;
  return ax * by - ay * bx;
}

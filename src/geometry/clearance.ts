import { RingSides } from "./ring-sides.ts";
import { sweepPairs } from "./side-sweep.ts";
import type { Ring } from "./types.ts";

/** Whether two rings come nearer to each other than a distance anywhere; crossing is no distance. */
export function comeNearer(one: Ring, other: Ring, mm: number): boolean {
  const sides = new RingSides([one, other]);
  let near = false;
  sweepPairs(sides, mm, (a, b) => {
    near = sides.ring[a] !== sides.ring[b] && sideDistance(sides, a, b) < mm;
    return near;
  });
  return near;
}

function sideDistance({ x, y, next }: RingSides, a: number, b: number): number {
  const [toA, toB] = [next[a] ?? 0, next[b] ?? 0];
  const at = (index: number): [number, number] => [x[index] ?? 0, y[index] ?? 0];
  const [[ax, ay], [bx, by]] = [at(a), at(toA)];
  const [[cx, cy], [dx, dy]] = [at(b), at(toB)];
  const apart =
    turn(ax, ay, bx, by, cx, cy) * turn(ax, ay, bx, by, dx, dy) > 0 ||
    turn(cx, cy, dx, dy, ax, ay) * turn(cx, cy, dx, dy, bx, by) > 0;
  if (!apart) return 0;
  return Math.min(
    toSide(ax, ay, cx, cy, dx, dy),
    toSide(bx, by, cx, cy, dx, dy),
    toSide(cx, cy, ax, ay, bx, by),
    toSide(dx, dy, ax, ay, bx, by),
  );
}

function toSide(px: number, py: number, ax: number, ay: number, bx: number, by: number): number {
  const [dx, dy] = [bx - ax, by - ay];
  const squared = dx * dx + dy * dy;
  const along = squared === 0 ? 0 : ((px - ax) * dx + (py - ay) * dy) / squared;
  const share = Math.min(1, Math.max(0, along));
  return Math.hypot(px - ax - share * dx, py - ay - share * dy);
}

/** Positive when r lies to the left of the way from p to q. */
function turn(px: number, py: number, qx: number, qy: number, rx: number, ry: number): number {
  return (qx - px) * (ry - py) - (qy - py) * (rx - px);
}

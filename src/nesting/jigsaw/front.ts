/**
 * What of a sheet is still free: its border as directed pieces of line, the free side on their left,
 * each as its two ends (four numbers) one after the other. Coordinates are whole numbers.
 */
export type Front = readonly number[];

export function frontOf(width: number, height: number): Front {
  return [
    [0, 0, width, 0],
    [width, 0, width, height],
    [width, height, 0, height],
    [0, height, 0, 0],
  ].flat();
}

/** The border once a tile lies there: what its edges share with the border goes, the others come to it. */
export function frontAfter(front: Front, xy: readonly number[], x: number, y: number): Front {
  const lines = [...front];
  for (let at = 0; at < xy.length; at += 2) {
    const next = (at + 2) % xy.length;
    // The free side is outside of the tile.
    addLine(lines, xy[next]! + x, xy[next + 1]! + y, xy[at]! + x, xy[at + 1]! + y);
  }
  return lines;
}

/** Adds a line to others; where another runs the opposite way along it both go. */
function addLine(lines: number[], ax: number, ay: number, bx: number, by: number): void {
  const [dx, dy] = [bx - ax, by - ay];
  const length = dx * dx + dy * dy;
  for (let at = 0; at < lines.length; at += 4) {
    const [cx, cy, ex, ey] = [lines[at]!, lines[at + 1]!, lines[at + 2]!, lines[at + 3]!];
    if (dx * (cy - ay) !== dy * (cx - ax) || dx * (ey - ay) !== dy * (ex - ax)) continue;
    // Along the new line, the other begins at `from` and goes back to `to`.
    const from = dx * (cx - ax) + dy * (cy - ay);
    const to = dx * (ex - ax) + dy * (ey - ay);
    const [low, high] = [Math.max(0, to), Math.min(length, from)];
    if (to >= from || low >= high) continue;
    lines.splice(at, 4);
    const [lowX, lowY] = low === 0 ? [ax, ay] : [ex, ey];
    const [highX, highY] = high === length ? [bx, by] : [cx, cy];
    if (from > high) lines.push(cx, cy, highX, highY);
    if (to < low) lines.push(lowX, lowY, ex, ey);
    if (low > 0) addLine(lines, ax, ay, lowX, lowY);
    if (high < length) addLine(lines, highX, highY, bx, by);
    return;
  }
  lines.push(ax, ay, bx, by);
}

/** Whether a tile lies in what is free, its edges on the border at most. */
export function fitsIn(front: Front, xy: readonly number[], x: number, y: number): boolean {
  for (let at = 0; at < xy.length; at += 2) {
    const next = (at + 2) % xy.length;
    const [ax, ay] = [xy[at]! + x, xy[at + 1]! + y];
    const [bx, by] = [xy[next]! + x, xy[next + 1]! + y];
    if (!isEdgeFree(front, ax, ay, bx, by)) return false;
  }
  for (let at = 0; at < front.length; at += 4) {
    const [ax, ay, bx, by] = [front[at]!, front[at + 1]!, front[at + 2]!, front[at + 3]!];
    if (isInside(xy, ax - x, ay - y) || isInside(xy, (ax + bx) / 2 - x, (ay + by) / 2 - y))
      return false;
  }
  return true;
}

function isEdgeFree(front: Front, ax: number, ay: number, bx: number, by: number): boolean {
  const [dx, dy] = [bx - ax, by - ay];
  /** Where ends of the border lie on the edge, as shares of its length squared. */
  const stops: number[] = [];
  const length = dx * dx + dy * dy;
  for (let at = 0; at < front.length; at += 4) {
    const [cx, cy, ex, ey] = [front[at]!, front[at + 1]!, front[at + 2]!, front[at + 3]!];
    const sideC = dx * (cy - ay) - dy * (cx - ax);
    const sideE = dx * (ey - ay) - dy * (ex - ax);
    if (sideC === 0) {
      const along = dx * (cx - ax) + dy * (cy - ay);
      if (along > 0 && along < length) stops.push(along);
    }
    if ((sideC > 0 && sideE > 0) || (sideC < 0 && sideE < 0) || sideC === 0 || sideE === 0)
      continue;
    const sideA = (ex - cx) * (ay - cy) - (ey - cy) * (ax - cx);
    const sideB = (ex - cx) * (by - cy) - (ey - cy) * (bx - cx);
    if ((sideA > 0 && sideB < 0) || (sideA < 0 && sideB > 0)) return false;
  }
  stops.push(length);
  stops.sort((a, b) => a - b);
  let before = 0;
  for (const stop of stops) {
    if (stop === before) continue;
    const share = (before + stop) / 2 / length;
    if (!isFree(front, ax + dx * share, ay + dy * share, dx, dy)) return false;
    before = stop;
  }
  return true;
}

/** Whether a point of an edge is free, or lies on the border where that runs the same way. */
function isFree(front: Front, x: number, y: number, dx: number, dy: number): boolean {
  let inside = false;
  for (let at = 0; at < front.length; at += 4) {
    const [ax, ay, bx, by] = [front[at]!, front[at + 1]!, front[at + 2]!, front[at + 3]!];
    const [ex, ey] = [bx - ax, by - ay];
    const side = ex * (y - ay) - ey * (x - ax);
    if (Math.abs(side) < ON_LINE * (Math.abs(ex) + Math.abs(ey))) {
      const along = ex * (x - ax) + ey * (y - ay);
      if (along > 0 && along < ex * ex + ey * ey) return ex * dx + ey * dy > 0;
    }
    if (ay > y !== by > y && x < ax + (ex * (y - ay)) / ey) inside = !inside;
  }
  return inside;
}

/** Points between corners are not whole numbers: so near to a line they are on it. */
const ON_LINE = 1e-6;

/** Strictly inside of a tile. */
function isInside(xy: readonly number[], x: number, y: number): boolean {
  let inside = false;
  for (let at = 0; at < xy.length; at += 2) {
    const next = (at + 2) % xy.length;
    const [ax, ay, bx, by] = [xy[at]!, xy[at + 1]!, xy[next]!, xy[next + 1]!];
    const [ex, ey] = [bx - ax, by - ay];
    const side = ex * (y - ay) - ey * (x - ax);
    if (Math.abs(side) < ON_LINE * (Math.abs(ex) + Math.abs(ey))) {
      const along = ex * (x - ax) + ey * (y - ay);
      if (along >= 0 && along <= ex * ex + ey * ey) return false;
    }
    if (ay > y !== by > y && x < ax + (ex * (y - ay)) / ey) inside = !inside;
  }
  return inside;
}

import type { Box } from "../geometry/types.ts";

/** Edges for the judge, found by height. Shares nothing with what the search finds them by. */
export interface EdgeRows {
  /** `x1,y1,x2,y2` for each edge. */
  readonly edges: Float64Array;
  readonly box: Box;
  /** Rows of this height, from the lower end of the box up. */
  readonly rowMm: number;
  /** First place of each row in `inRow`, then the count of all. */
  readonly starts: Int32Array;
  /** Offsets into `edges`: in each row all edges that run through it. */
  readonly inRow: Int32Array;
}

export function edgeRows(edges: Float64Array): EdgeRows {
  const box = boxAround(edges);
  const count = Math.max(1, Math.min(MOST_ROWS, Math.floor(Math.sqrt(edges.length))));
  const height = box.maxY - box.minY;
  const rowMm = height > 0 ? height / count : 1;
  const rows = { edges, box, rowMm, starts: new Int32Array(count + 1), inRow: new Int32Array(0) };
  const { starts } = rows;
  for (let i = 0; i < edges.length; i += 4) {
    const last = rowAt(rows, Math.max(edges[i + 1]!, edges[i + 3]!));
    for (let row = lowestRow(rows, i); row <= last; row++) starts[row + 1] = starts[row + 1]! + 1;
  }
  for (let row = 0; row < count; row++) starts[row + 1] = starts[row + 1]! + starts[row]!;
  const inRow = new Int32Array(starts[count]!);
  const next = starts.slice();
  for (let i = 0; i < edges.length; i += 4) {
    const last = rowAt(rows, Math.max(edges[i + 1]!, edges[i + 3]!));
    for (let row = lowestRow(rows, i); row <= last; row++) {
      inRow[next[row]!] = i;
      next[row] = next[row]! + 1;
    }
  }
  return { ...rows, inRow };
}

/** Each edge may run through all of them. */
const MOST_ROWS = 2048;

/** Whether an edge that may come between two heights, given by its offset, passes the test; each is asked once. */
export function someBetween(
  rows: EdgeRows,
  minY: number,
  maxY: number,
  test: (i: number) => boolean,
): boolean {
  const { starts, inRow } = rows;
  const [first, last] = [rowAt(rows, minY), rowAt(rows, maxY)];
  for (let row = first; row <= last; row++) {
    for (let at = starts[row]!; at < starts[row + 1]!; at++) {
      const i = inRow[at]!;
      // In the lowest row of those looked at.
      if (row === Math.max(first, lowestRow(rows, i)) && test(i)) return true;
    }
  }
  return false;
}

/** Heights below or above all rows count to the nearest one. */
function rowAt({ box, rowMm, starts }: EdgeRows, y: number): number {
  return Math.max(0, Math.min(starts.length - 2, Math.floor((y - box.minY) / rowMm)));
}

function lowestRow(rows: EdgeRows, i: number): number {
  return rowAt(rows, Math.min(rows.edges[i + 1]!, rows.edges[i + 3]!));
}

function boxAround(edges: Float64Array): Box {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < edges.length; i += 2) {
    if (edges[i]! < minX) minX = edges[i]!;
    if (edges[i]! > maxX) maxX = edges[i]!;
    if (edges[i + 1]! < minY) minY = edges[i + 1]!;
    if (edges[i + 1]! > maxY) maxY = edges[i + 1]!;
  }
  return { minX, minY, maxX, maxY };
}

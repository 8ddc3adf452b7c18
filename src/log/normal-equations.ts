/** The few equations of a least-squares fit, solved by Cholesky's way. */

export type Matrix = readonly (readonly number[])[];

/** X'WX of rows x with weights w. */
export function normalMatrix(rows: Matrix, weights: readonly number[]): Matrix {
  const size = rows[0]?.length ?? 0;
  return Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_unused, j) =>
      rows.reduce((sum, row, at) => sum + (weights[at] ?? 0) * entry(row, i) * entry(row, j), 0),
    ),
  );
}

/** @returns null when the matrix is singular, as far as its digits can tell. */
export function solved(matrix: Matrix, right: readonly number[]): readonly number[] | null {
  const root = cholesky(matrix);
  if (root === null) return null;
  const forward: number[] = [];
  for (const [i, row] of root.entries()) {
    const known = forward.reduce((sum, value, j) => sum + entry(row, j) * value, 0);
    forward.push((entry(right, i) - known) / entry(row, i));
  }
  const backward: number[] = forward.map(() => 0);
  for (let i = forward.length - 1; i >= 0; i -= 1) {
    const known = root.reduce(
      (sum, row, j) => (j > i ? sum + entry(row, i) * entry(backward, j) : sum),
      0,
    );
    backward[i] = (entry(forward, i) - known) / entry(root[i] ?? [], i);
  }
  return backward;
}

/** Null as {@link solved}. */
export function inverseOf(matrix: Matrix): Matrix | null {
  const columns = matrix.flatMap((_, i) => {
    const column = solved(
      matrix,
      matrix.map((_unused, j) => (i === j ? 1 : 0)),
    );
    return column === null ? [] : [column];
  });
  // As symmetric as the matrix: its columns are its rows.
  return columns.length < matrix.length ? null : columns;
}

/** Of what a direction is in itself, so much must be left beside the directions before it. */
const LEAST_PIVOT = 1e-9;

/** The lower triangle whose product with its transpose is the matrix. */
function cholesky(matrix: Matrix): Matrix | null {
  const root: number[][] = [];
  for (const [i, given] of matrix.entries()) {
    const row: number[] = [];
    for (let j = 0; j < i; j += 1) {
      const above = root[j] ?? [];
      row.push((entry(given, j) - dot(row, above.slice(0, j))) / entry(above, j));
    }
    const left = entry(given, i) - dot(row, row);
    if (!(left > LEAST_PIVOT * entry(given, i))) return null;
    root.push([...row, Math.sqrt(left)]);
  }
  return root;
}

/** Of as many numbers as both have. */
export function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, index) => sum + value * (b[index] ?? 0), 0);
}

function entry(row: readonly number[], index: number): number {
  return row[index] ?? 0;
}

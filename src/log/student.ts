/**
 * Between which limits a mean lies in 8 of 10 cases: as many standard errors each way, by how many
 * values are left over (Student's t at 0.90; NIST/SEMATECH e-Handbook, table 1.3.6.7.2).
 */
export function standardErrorsFor80Percent(freedom: number): number {
  return T_90[Math.min(freedom, T_90.length) - 1] ?? Infinity;
}

/** For 1, 2, 3, ... values left over; the last is taken for more, of which the limit is 1.282. */
const T_90: readonly number[] = [
  3.078, 1.886, 1.638, 1.533, 1.476, 1.44, 1.415, 1.397, 1.383, 1.372, 1.363, 1.356, 1.35, 1.345,
  1.341, 1.337, 1.333, 1.33, 1.328, 1.325, 1.323, 1.321, 1.319, 1.318, 1.316, 1.315, 1.314, 1.313,
  1.311, 1.31,
];

/** Clearance holes for metric bolts. */

export interface ClearanceHoles {
  readonly fineMm: number;
  readonly mediumMm: number;
  readonly coarseMm: number;
}

/** ISO 273: fine (H12), medium (H13) and coarse (H14) series, by thread. */
const ISO_273: Readonly<Record<string, readonly [number, number, number]>> = {
  M2: [2.2, 2.4, 2.6],
  "M2.5": [2.7, 2.9, 3.1],
  M3: [3.2, 3.4, 3.6],
  M4: [4.3, 4.5, 4.8],
  M5: [5.3, 5.5, 5.8],
  M6: [6.4, 6.6, 7],
  M8: [8.4, 9, 10],
  M10: [10.5, 11, 12],
  M12: [13, 13.5, 14.5],
};

/** The clearance holes of a thread such as `M5`; null when the table does not have it. */
export function clearanceHoles(thread: string): ClearanceHoles | null {
  const [fineMm, mediumMm, coarseMm] = ISO_273[thread.toUpperCase()] ?? [];
  if (fineMm === undefined || mediumMm === undefined || coarseMm === undefined) return null;
  return { fineMm, mediumMm, coarseMm };
}

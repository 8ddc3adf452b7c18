/** Pitch of coarse metric threads, mm (Mechanical Engineer's Data Handbook p. 299). */
const COARSE_PITCH: Readonly<Record<string, number>> = {
  M2: 0.4,
  "M2.5": 0.45,
  M3: 0.5,
  M4: 0.7,
  M5: 0.8,
  M6: 1,
  M8: 1.25,
  M10: 1.5,
  M12: 1.75,
};

export const PITCH_SOURCE = "Mechanical Engineer's Data Handbook p. 299";

/** Of a thread such as `M5`; null when the table does not have it. */
export function coarsePitch(thread: string): number | null {
  return COARSE_PITCH[thread.toUpperCase()] ?? null;
}

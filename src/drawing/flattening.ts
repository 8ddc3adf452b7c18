/** Largest distance between a curve and the polygon made from it, mm. */
export const FLATTENING_MM = 0.05;

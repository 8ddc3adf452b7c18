/** The largest number that goes into both, of whole numbers from 0 on; 0 of two zeros. */
export function commonDivisor(a: number, b: number): number {
  let [large, small] = [a, b];
  while (small > 0) [large, small] = [small, large % small];
  return large;
}

/**
 * Circumference of an ellipse by the arithmetic-geometric mean (Handbook of Mathematical Functions,
 * 1964, section 17.6), to the last few binary places.
 */
export function ellipseLength(a: number, b: number): number {
  let [mean, geometric, power] = [a, b, 1];
  let sum = (a * a + b * b) / 2;
  while (Math.abs(mean - geometric) > 1e-15 * mean) {
    const difference = (mean - geometric) / 2;
    [mean, geometric] = [(mean + geometric) / 2, Math.sqrt(mean * geometric)];
    sum -= power * difference * difference;
    power *= 2;
  }
  return (2 * Math.PI * sum) / mean;
}

import { expect, it } from "vitest";
import { ellipseLength } from "./closed-forms.ts";

it("the AGM length of an ellipse agrees with the circle's and with Ramanujan's second formula", () => {
  expect(ellipseLength(5, 5)).toBeCloseTo(10 * Math.PI, 12);
  // Ramanujan 1914: pi (a+b) (1 + 3h / (10 + sqrt(4 - 3h))), good to h^5 / 2^20 or so.
  const [a, b] = [10, 8];
  const h = ((a - b) / (a + b)) ** 2;
  const ramanujan = Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
  expect(ellipseLength(a, b)).toBeCloseTo(ramanujan, 9);
});

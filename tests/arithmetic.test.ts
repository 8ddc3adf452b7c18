import { describe, expect, it } from "vitest";
import { DECIMALS } from "../src/arithmetic.ts";
import { Amount } from "../src/money.ts";

describe("sums of powers", () => {
  it("are those of each power by itself, to the last digits, for primes and products alike", () => {
    const exponent = new Amount(0.9).log(2);
    for (const count of [1, 2, 3, 4, 30, 97, 210]) {
      let plain = new Amount(0);
      for (let number = 1; number <= count; number += 1)
        plain = plain.plus(new Amount(number).pow(exponent));
      const off = DECIMALS.sumOfPowers(new Amount(count), exponent).minus(plain).abs();
      expect(off.toNumber()).toBeLessThan(1e-35);
    }
  });

  it("are done for a large order in a moment", () => {
    const before = performance.now();
    DECIMALS.sumOfPowers(new Amount(2000), new Amount("-0.152"));
    expect(performance.now() - before).toBeLessThan(2000);
  });

  it("are of a whole count, 1 or more", () => {
    for (const count of [0, 2.5, -1])
      expect(() => DECIMALS.sumOfPowers(new Amount(count), new Amount(1))).toThrow(RangeError);
  });
});

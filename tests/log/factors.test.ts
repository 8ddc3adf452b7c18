import { describe, expect, it } from "vitest";
import { factorsOf } from "../../src/log/factors.ts";
import type { Compared, Factor } from "../../src/log/factors.ts";
import { standardErrorsFor80Percent } from "../../src/log/student.ts";
import { randomFrom } from "../../src/random.ts";

/** Runs of one operation: what was estimated and what it took. */
function single(...pairs: readonly (readonly [number, number])[]): readonly Compared[] {
  return pairs.map(([estimated, took]) => ({ estimated: [estimated], took }));
}

function first(runs: readonly Compared[]): Factor {
  return factorsOf(runs)!.factors[0]!;
}

describe("a factor", () => {
  // One maker's published log: real seconds of three jobs, and what a first model had said.
  const PUBLISHED = [
    [1603, 827],
    [2456, 832],
    [1675, 1046],
  ] as const;

  it("of two published jobs foretells the third, within limits that are wide", () => {
    for (const [index, [estimated, took]] of PUBLISHED.entries()) {
      const { factor, between, next } = first(single(...PUBLISHED.toSpliced(index, 1)));
      const others = PUBLISHED.toSpliced(index, 1).map(([said, real]) => real / said);
      expect(factor).toBeCloseTo(Math.sqrt(others[0]! * others[1]!), 9);
      expect(next![0]).toBeLessThan(took / estimated);
      expect(next![1]).toBeGreaterThan(took / estimated);
      expect(between![1] / between![0]).toBeGreaterThan(1.5);
    }
  });

  it("of one run is its ratio, with no limits", () => {
    expect(first(single([50, 60]))).toEqual({ factor: 1.2, between: null, next: null });
  });

  it("of runs that agree still leaves the 2 % that no clock tells", () => {
    const { factor, between } = first(single([50, 60], [100, 120]));
    expect(factor).toBeCloseTo(1.2, 12);
    // Student's t for one value left over, over the root of two runs.
    expect(between![1]).toBeCloseTo(1.2 * Math.exp((3.078 * 0.02) / Math.SQRT2), 9);
  });

  it("is hardly moved by a run that went wrong", () => {
    const fair = single([50, 60], [80, 98], [30, 35], [60, 71], [90, 110]);
    const clean = first(fair).factor;
    const spoilt = first([...fair, { estimated: [50], took: 400 }]).factor;
    expect(Math.abs(Math.log(spoilt / clean))).toBeLessThan(0.03);
  });
});

describe("a slip among few runs", () => {
  it("of ten times does not move the factor of three, nor of two that differ", () => {
    const { factors, counts } = factorsOf(single([50, 60], [80, 96], [30, 360]))!;
    expect(factors[0]!.factor).toBeCloseTo(1.2, 9);
    expect(counts).toEqual([true, true, false]);
    const uneven = factorsOf(single([50, 50], [50, 60], [50, 600]))!;
    expect(uneven.factors[0]!.factor).toBeCloseTo(Math.sqrt(1.2), 9);
    expect(uneven.counts).toEqual([true, true, false]);
  });

  it("of twice moves the factor of three by less than a tenth of itself", () => {
    for (const slip of [2, 0.5]) {
      const { factor } = first(single([50, 60], [80, 98], [30, 36 * slip]));
      expect(Math.abs(Math.log(factor / 1.2))).toBeLessThan(0.1 * Math.log(2));
    }
  });

  it("is not told from the truth by two runs, whose limits are wide", () => {
    const { factors, counts } = factorsOf(single([50, 60], [50, 600]))!;
    expect(counts).toEqual([true, true]);
    expect(factors[0]!.between![1] / factors[0]!.between![0]).toBeGreaterThan(5);
  });
});

describe("runs of one job", () => {
  it("tell nothing of the next one where there is only one job", () => {
    const { factor, between } = first(of("a", 60, 61, 59, 60));
    expect(factor).toBeCloseTo(1.2, 2);
    expect(between).toBeNull();
  });

  it("are one run for the limits: many rows of a job say no more than one", () => {
    const one = first([...of("a", 60), ...of("b", 70), ...of("c", 50)]).between!;
    const many = first([...of("a", 60, 60), ...of("b", 70, 70), ...of("c", 50, 50)]).between!;
    const apart = first(
      single([50, 60], [50, 60], [50, 70], [50, 70], [50, 50], [50, 50]),
    ).between!;
    // The scale of six is a little smaller than that of three; told as six they would be half as wide.
    expect(width(many) / width(one)).toBeGreaterThan(0.8);
    expect(width(apart) / width(one)).toBeLessThan(0.6);
  });

  it("hold limits in about 8 of 10 cases when each job has chance of its own", () => {
    const draw = randomFrom(11);
    const normal = (): number =>
      Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
    const trials = 400;
    const held = { clustered: 0, apart: 0 };
    for (let trial = 0; trial < trials; trial += 1) {
      const runs = ["a", "b", "c", "d", "e"].flatMap((job) => {
        const shared = 0.2 * normal();
        return of(job, ...[1, 2, 3, 4].map(() => 60 * Math.exp(shared + 0.03 * normal())));
      });
      held.clustered += holds(first(runs));
      held.apart += holds(first(runs.map(({ estimated, took }) => ({ estimated, took }))));
    }
    expect(held.clustered / trials).toBeGreaterThan(0.68);
    expect(held.clustered / trials).toBeLessThan(0.88);
    expect(held.apart / trials).toBeLessThan(0.6);
  });
});

describe("factors of operations that ran together", () => {
  const truth = [0.8, 1.3];
  const mixed = [
    [60, 10],
    [20, 70],
    [45, 45],
    [5, 90],
    [80, 12],
    [33, 51],
  ] as const;

  it("are told apart where the runs differ in what they are made of", () => {
    const exact = mixed.map((estimated) => ({
      estimated,
      took: estimated[0] * truth[0]! + estimated[1] * truth[1]!,
    }));
    const [engrave, cut] = factorsOf(exact)!.factors;
    expect(engrave!.factor).toBeCloseTo(0.8, 6);
    expect(cut!.factor).toBeCloseTo(1.3, 6);
  });

  // An independent minimiser: a grid that closes in on the least of the same loss, Huber's of the
  // logs, at the scale of the least absolute deviations, which such a grid finds as well.
  it("are where a search of the plane finds Huber's loss least", () => {
    const noise = [1.05, 0.93, 1.02, 1.6, 0.97, 1.08];
    const runs = mixed.map((estimated, index) => ({
      estimated,
      took: (estimated[0] * 0.8 + estimated[1] * 1.3) * noise[index]!,
    }));
    const answer = factorsOf(runs)!.factors.map(({ factor }) => factor);
    const middle = searchLeast((at) =>
      runs.reduce((sum, run) => sum + Math.abs(logOff(run, at)), 0),
    );
    const usual = medianOf(runs.map((run) => Math.abs(logOff(run, middle)))) / 0.6745;
    // Five values' worth: six less what two coefficients take.
    const scale = 1.206 * usual;
    const searched = searchLeast((at) =>
      runs.reduce((sum, run) => sum + huber(logOff(run, at), 1.345 * scale), 0),
    );
    expect(answer[0]).toBeCloseTo(searched[0]!, 4);
    expect(answer[1]).toBeCloseTo(searched[1]!, 4);
  });

  it("are not made up where the runs can not tell", () => {
    const alike = [1, 2, 3].map((k) => ({ estimated: [60 * k, 10 * k], took: 75 * k }));
    expect(factorsOf(alike)).toBeNull();
    expect(factorsOf([{ estimated: [60, 10], took: 75 }])).toBeNull();
  });
});

describe("limits for 8 of 10 cases", () => {
  it("hold in about as many, from two runs to twenty", () => {
    const draw = randomFrom(5);
    const normal = (): number =>
      Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
    for (const count of [2, 3, 5, 8, 20]) {
      const trials = 1500;
      const held = { mean: 0, next: 0 };
      for (let trial = 0; trial < trials; trial += 1) {
        const took = (): number => 60 * Math.exp(0.2 * normal());
        const runs = Array.from({ length: count }, () => ({ estimated: [50], took: took() }));
        const { between, next } = first(runs);
        const coming = took() / 50;
        held.mean += between![0] <= 1.2 && 1.2 <= between![1] ? 1 : 0;
        held.next += next![0] <= coming && coming <= next![1] ? 1 : 0;
      }
      for (const share of [held.mean / trials, held.next / trials]) {
        expect(share).toBeGreaterThan(0.7);
        expect(share).toBeLessThan(0.88);
      }
    }
  });

  // The tail of Student's density, (1 + x^2/n)^(-(n+1)/2), summed by the trapezoid rule in angles
  // (x = root n tan a makes the range finite).
  it("are where Student's t leaves a tenth at either end", () => {
    for (let freedom = 1; freedom <= 30; freedom += 1) {
      const limit = Math.atan(standardErrorsFor80Percent(freedom) / Math.sqrt(freedom));
      const inside = cosineArea(freedom - 1, limit) / cosineArea(freedom - 1, Math.PI / 2);
      expect(Math.abs(inside - 0.8)).toBeLessThan(2e-4);
    }
    expect(standardErrorsFor80Percent(1000)).toBeCloseTo(1.31, 9);
    expect(standardErrorsFor80Percent(0)).toBe(Infinity);
  });
});

/** Under a power of the cosine, from 0 to an angle. */
function cosineArea(power: number, to: number): number {
  const steps = 4000;
  const heights = Array.from({ length: steps + 1 }, (_, i) => Math.cos((i * to) / steps) ** power);
  const ends = (heights[0]! + heights[steps]!) / 2;
  return (to / steps) * (heights.slice(1, -1).reduce((sum, one) => sum + one, 0) + ends);
}

function logOff({ estimated, took }: Compared, factors: readonly number[]): number {
  return Math.log(took / (estimated[0]! * factors[0]! + estimated[1]! * factors[1]!));
}

function huber(off: number, bend: number): number {
  const size = Math.abs(off);
  return size <= bend ? size ** 2 / 2 : bend * (size - bend / 2);
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!) / 2;
}

/** From 0.1 to 5 each way, each time around the best so far in finer steps. */
function searchLeast(loss: (at: readonly number[]) => number): readonly number[] {
  let best = [1, 1];
  for (let step = 0.1; step > 1e-7; step /= 2)
    for (let round = 0; round < 60; round += 1) {
      const around = [-step, 0, step].flatMap((dx) =>
        [-step, 0, step].map((dy) => [best[0]! + dx, best[1]! + dy]),
      );
      const inRange = around.filter((at) => at.every((one) => one > 0.1 && one < 5));
      const next = inRange.toSorted((a, b) => loss(a) - loss(b))[0]!;
      if (loss(next) >= loss(best)) break;
      best = next;
    }
  return best;
}

function of(job: string, ...took: readonly number[]): readonly Compared[] {
  return took.map((one) => ({ estimated: [50], took: one, job }));
}

function width([low, high]: readonly [number, number]): number {
  return Math.log(high / low);
}

/** Whether the limits hold the true 1.2. */
function holds({ between }: Factor): number {
  return between![0] <= 1.2 && 1.2 <= between![1] ? 1 : 0;
}

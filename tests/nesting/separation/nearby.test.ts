import { describe, expect, it } from "vitest";
import { convexParts } from "../../../src/nesting/convex.ts";
import { randomFrom } from "../../../src/random.ts";
import { boundsOf } from "../../../src/geometry/ring.ts";
import { poseRing } from "../../../src/geometry/pose.ts";
import { Model } from "../../../src/nesting/separation/model.ts";
import { Nearby } from "../../../src/nesting/separation/nearby.ts";
import { World } from "../../../src/nesting/separation/world.ts";
import { box, ring } from "../pieces.ts";

const OUTLINES = [
  box(30, 10),
  ring([0, 0], [24, 0], [24, 6], [6, 6], [6, 20], [0, 20]),
  ring([0, 0], [18, 2], [9, 15]),
];

/** Two copies of each in every pose, strewn over a sheet too small for them. */
function strewn(random: () => number): World {
  const forms = OUTLINES.map((outer) => ({
    parts: convexParts({ outer, holes: [] }),
    clearMm: 1.5,
    hullMm2: 200,
  }));
  const stances = OUTLINES.flatMap((outer, form) =>
    [0, 90, 180, 37].flatMap((turnDeg) =>
      [false, true].map((mirrored) => ({
        form,
        turnDeg,
        mirrored,
        box: boundsOf(poseRing({ mirrored, turnDeg, xMm: 0, yMm: 0 }, outer)),
      })),
    ),
  );
  const copies = Int32Array.from({ length: 30 }, (_, copy) => copy % OUTLINES.length);
  const rooms = [{ minX: 0, minY: 0, maxX: 90, maxY: 90 }];
  const world = new World(new Model(forms, stances), copies, rooms);
  for (const [copy, form] of copies.entries()) {
    const stance = 8 * form + Math.trunc(8 * random());
    world.lay(copy, stance, 0, 90 * random(), 90 * random());
  }
  for (let time = 0; time < 3; time++) world.reweigh();
  return world;
}

describe("what a copy would suffer near a place", () => {
  it("is what it would suffer of all copies there", () => {
    const random = randomFrom(4);
    const world = strewn(random);
    const nearby = new Nearby(world);
    let [asked, free] = [0, 0];
    for (let time = 0; time < 150; time++) {
      const copy = Math.trunc(world.count * random());
      const stance = 8 * world.forms[copy]! + Math.trunc(8 * random());
      const [x, y, reachMm] = [90 * random(), 90 * random(), 12 * random()];
      nearby.gather(copy, stance, x, y, reachMm);
      for (let place = 0; place < 6; place++) {
        const at = x + reachMm * (2 * random() - 1);
        const up = y + reachMm * (2 * random() - 1);
        expect(nearby.covers(at, up)).toBe(true);
        const all = world.cost(copy, stance, at, up, Infinity);
        expect(nearby.cost(at, up, Infinity)).toBeCloseTo(all, 9);
        // Broken off, it is still more than what was asked for.
        expect(nearby.cost(at, up, all / 2)).toBeGreaterThanOrEqual(all / 2);
        if (all === 0) free++;
        asked++;
      }
      expect(nearby.covers(x + reachMm * 1.001, y)).toBe(false);
    }
    expect(asked).toBe(900);
    expect(free).toBeGreaterThan(20);
    expect(free).toBeLessThan(600);
  });

  it("must be gathered anew once forgotten", () => {
    const nearby = new Nearby(strewn(randomFrom(5)));
    nearby.gather(0, 0, 10, 10, 5);
    expect(nearby.covers(10, 10)).toBe(true);
    nearby.clear();
    expect(nearby.covers(10, 10)).toBe(false);
  });
});

import { describe, expect, it } from "vitest";
import { Amount } from "../../src/money.ts";
import { judge } from "../../src/nesting/check.ts";
import { nestPieces } from "../../src/nesting/nest.ts";
import type { NestOutcome, NestPiece } from "../../src/nesting/types.ts";
import { drain } from "../helpers/drain.ts";
import { box, lies, nest, piece, ring, roll, sheet } from "./pieces.ts";

function sheetsOf(outcome: NestOutcome): number | undefined {
  return outcome.best?.sheets.length;
}

describe("nesting on sheets", () => {
  it("lays 5 x 3 squares of 100 on 600 x 400 with margin 10 and gap 3 (trade facts C6, derived)", () => {
    const choice = sheet(600, 400, { marginMm: 10, gapMm: 3 });
    const squares = (copies: number) =>
      nest([piece("square", box(100, 100), { copies })], [choice]);
    expect(sheetsOf(squares(15))).toBe(1);
    expect(sheetsOf(squares(16))).toBe(2);
    expect(squares(16).best?.sheetCost.toString()).toBe("20");
  });

  it("lays four 3 x 2 on 5 x 5 around a hole, no guillotine cut (trade facts C5, derived)", () => {
    const four = piece("brick", box(3, 2), { copies: 4 });
    expect(sheetsOf(nest([four], [sheet(5, 5)], { steps: 4 }))).toBe(1);
    const upright = { ...four, turn: "half" } as const;
    expect(sheetsOf(nest([upright], [sheet(5, 5)], { steps: 4 }))).toBe(2);
  });

  it("fits parts that fill the usable sheet to the last hair", () => {
    const choice = sheet(600, 400, { marginMm: 10, gapMm: 0 });
    expect(sheetsOf(nest([piece("whole", box(580, 380))], [choice]))).toBe(1);
    const thirds = piece("third", box(580 / 3, 380 / 7), { copies: 21, turn: "fixed" });
    expect(sheetsOf(nest([thirds], [choice]))).toBe(1);
    const gapped = sheet(600, 400, { marginMm: 10, gapMm: 2.5 });
    const width = (580 - 3 * 2.5) / 4;
    const quarter = piece("quarter", box(width, 380), { copies: 4, turn: "half" });
    expect(sheetsOf(nest([quarter], [gapped]))).toBe(1);
    expect(sheetsOf(nest([{ ...quarter, copies: 5 }], [gapped]))).toBe(2);
  });

  it("keeps the flattening free on top of margin and gap", () => {
    const choice = sheet(203, 100, { marginMm: 1, gapMm: 1 });
    const halves = (flatteningMm: number) =>
      nest([piece("half", box(99.9, 97), { copies: 2, turn: "fixed", flatteningMm })], [choice]);
    // 1 + 99.9 + 1 + 99.9 + 1 = 202.8: 0.2 to spare, which four times the flattening may take.
    expect(sheetsOf(halves(0.05))).toBe(1);
    expect(sheetsOf(halves(0.051))).toBe(2);
  });

  it("lays small pieces into holes of large ones", () => {
    const frame: NestPiece = {
      ...piece("frame", box(200, 200)),
      region: { outer: box(200, 200), holes: [box(160, 160, 20, 20).toReversed()] },
    };
    const insert = piece("insert", box(50, 50), { copies: 9 });
    const outcome = nest([frame, insert], [sheet(206, 206, { marginMm: 3, gapMm: 2 })]);
    expect(sheetsOf(outcome)).toBe(1);
  });

  it("lays many copies head to tail: 60 right triangles on one sheet (derived)", () => {
    // Two make a couple of 90 + 2 x 114.02 / 70 = 93.26 by 70 mm: 6 beside each other with gaps take
    // 6 x 95.26 = 571.5 of 592 mm, 5 above each other 5 x 72 = 360 of 392 mm.
    const choice = sheet(600, 400, { marginMm: 5, gapMm: 2 });
    const triangle = piece("triangle", ring([0, 0], [90, 0], [0, 70]), { copies: 60 });
    expect(sheetsOf(nest([triangle], [choice]))).toBe(1);
    const turned = nest([triangle], [choice]).best!.sheets[0]!.placements.map((at) => at.turnDeg);
    expect(new Set(turned).size).toBeGreaterThan(1);
    expect(sheetsOf(nest([{ ...triangle, turn: "fixed" }], [choice]))).toBe(2);
  });

  it("lays an odd copy by itself, and couples only where two fit", () => {
    const triangle = piece("triangle", ring([0, 0], [90, 0], [0, 70]), { copies: 9 });
    const roomy = nest([triangle], [sheet(400, 400, { gapMm: 2 })]);
    expect(roomy.best?.sheets.map(({ placements }) => placements.length)).toEqual([9]);
    const tight = nest([triangle], [sheet(91, 71, { gapMm: 2 })]);
    expect(tight.best?.sheets.map(({ placements }) => placements.length)).toEqual(
      Array.from({ length: 9 }, () => 1),
    );
  });

  it("works on sheets of 15 x 10 as on sheets of metres", () => {
    const tile = piece("tile", box(3, 2), { copies: 25 });
    expect(sheetsOf(nest([tile], [sheet(15, 10)]))).toBe(1);
    const large = piece("tile", box(3000, 2000), { copies: 25 });
    expect(sheetsOf(nest([large], [sheet(15_000, 10_000)]))).toBe(1);
  });

  it("lays a long bar aslant when any turn is allowed", () => {
    const bar = piece("bar", box(650, 10), { turn: "any" });
    expect(sheetsOf(nest([bar], [sheet(500, 500)]))).toBe(1);
    expect(nest([{ ...bar, turn: "quarter" }], [sheet(500, 500)]).best).toBeNull();
  });
});

describe("the pose of a placement", () => {
  // An L with arms of different length: no turn makes it its mirror image.
  const hook = ring([5, 5], [65, 5], [65, 15], [15, 15], [15, 35], [5, 35]);

  it("puts the outline as drawn inside the sheet, mirrored, turned, then moved", () => {
    const choice = sheet(67, 37, { marginMm: 3.5 });
    for (const turn of ["fixed", "half", "quarter", "any"] as const) {
      const placement = nest([piece("hook", hook, { turn })], [choice]).best!.sheets[0]!
        .placements[0]!;
      for (const { x, y } of hook.map((point) => lies(point, placement))) {
        expect(x).toBeGreaterThanOrEqual(3.5 - 1e-6);
        expect(x).toBeLessThanOrEqual(63.5 + 1e-6);
        expect(y).toBeGreaterThanOrEqual(3.5 - 1e-6);
        expect(y).toBeLessThanOrEqual(33.5 + 1e-6);
      }
    }
  });

  it("mirrors a piece only where it may be flipped", () => {
    // The two close to a full rectangle only when one of them is mirrored.
    const left = ring([0, 0], [60, 0], [60, 10], [0, 30]);
    const pair = (flip: boolean) =>
      nest([piece("wedge", left, { copies: 2, turn: "fixed", flip })], [sheet(120, 30)]);
    expect(sheetsOf(pair(true))).toBe(1);
    expect(pair(true).best!.sheets[0]!.placements.some(({ mirrored }) => mirrored)).toBe(false);
    const upright = (flip: boolean) =>
      nest([piece("wedge", left, { copies: 2, turn: "half", flip })], [sheet(60, 40)], {
        steps: 6,
      });
    expect(upright(false).best!.sheets[0]!.placements.map(({ mirrored }) => mirrored)).toEqual([
      false,
      false,
    ]);
  });

  it("uses a flip that saves a sheet", () => {
    // The hole leans to the left, the piece to the right: only mirrored it goes in.
    const leftward = ring([55, 5], [85, 5], [35, 55], [5, 55]);
    const frame: NestPiece = {
      ...piece("frame", box(90, 60), { turn: "fixed" }),
      region: { outer: box(90, 60), holes: [leftward.toReversed()] },
    };
    const lean = ring([0, 0], [26, 0], [73, 47], [47, 47]);
    const tried = (flip: boolean) =>
      nest([frame, piece("lean", lean, { turn: "fixed", flip })], [sheet(90, 60)]);
    expect(sheetsOf(tried(false))).toBe(2);
    expect(sheetsOf(tried(true))).toBe(1);
  });
});

describe("the choice of size", () => {
  const squares = piece("square", box(100, 100), { copies: 8 });

  it("takes the cheapest that holds everything, and lists the others behind it", () => {
    const dear = sheet(400, 200, { id: "dear", price: new Amount("25.00") });
    const cheap = sheet(200, 200, { id: "cheap", price: new Amount("12.40") });
    const tiny = sheet(90, 90, { id: "tiny", price: new Amount("0.10") });
    const outcome = nest([squares], [tiny, dear, cheap]);
    expect(outcome.best?.choices[0]!.id).toBe("cheap");
    expect(outcome.best?.sheetCost.toString()).toBe("24.8");
    expect(outcome.bySize.map(({ choices }) => choices[0]!.id)).toEqual(["cheap", "dear", "tiny"]);
    expect(outcome.bySize[2]?.unplaced).toEqual([
      {
        part: "square",
        copies: 8,
        reason: "larger than the sheet less its margin in every allowed turn",
      },
    ]);
  });

  it("never takes more than are on hand, and says so", () => {
    const outcome = nest([squares], [sheet(200, 200, { onHand: 1 })]);
    expect(outcome.best).toBeNull();
    expect(outcome.bySize[0]?.sheets).toHaveLength(1);
    expect(outcome.bySize[0]?.unplaced).toEqual([
      { part: "square", copies: 4, reason: "no room left on the 1 sheet on hand" },
    ]);
  });

  it("has no best and no size without sheets to choose from, and no sheet without pieces", () => {
    expect(nest([squares], [])).toMatchObject({ best: null, bySize: [], steps: 0 });
    expect(nest([], [sheet(200, 200)]).best?.sheets).toEqual([]);
  });

  it("uses a roll as long as needed, priced by the metre", () => {
    const outcome = nest([squares], [roll(210, { marginMm: 5, price: new Amount("8.00") })]);
    expect(outcome.best?.sheets[0]).toMatchObject({ widthMm: 210, heightMm: 410 });
    expect(outcome.best?.sheetCost.toString()).toBe("3.28");
    expect(outcome.best?.utilisation).toBeCloseTo(80_000 / (210 * 410), 12);
    const short = nest([squares], [roll(210, { marginMm: 5, onHand: 0.4 })]);
    expect(short.bySize[0]?.unplaced).toEqual([
      { part: "square", copies: 2, reason: "no room left on the 0.4 m of roll on hand" },
    ]);
  });
});

describe("nesting as long work", () => {
  const pieces = [
    piece("hook", ring([0, 0], [80, 0], [80, 20], [20, 20], [20, 60], [0, 60]), { copies: 9 }),
    piece("wedge", ring([0, 0], [70, 0], [0, 45]), { copies: 7, turn: "any" }),
    piece("bar", box(120, 14), { copies: 4, turn: "half" }),
  ];
  const choices = [sheet(300, 200, { gapMm: 2, marginMm: 4 }), roll(180, { gapMm: 2 })];

  it("gives the same for the same seed and steps, and something else for another seed", () => {
    // The first three passes of a job are the same for every seed.
    const outcome = nest(pieces, choices, { steps: 6 });
    expect(nest(pieces, choices, { steps: 6 })).toEqual(outcome);
    const others = [2, 3, 4, 5].map((seed) => nest(pieces, choices, { steps: 6, seed }).bySize);
    expect(others.some((other) => JSON.stringify(other) !== JSON.stringify(outcome.bySize))).toBe(
      true,
    );
  });

  /** 20 copies on 2 sizes, and once more for mixing: a round is 60 units of progress. */
  const [pass, round] = [20, 60];

  it.each([0, 1, 19, 20, 40, 59, 60, 61, 119, 120, 121, 299, 300, 301, 480])(
    "finished after %i copies it equals its last whole round, but for the first",
    (copies) => {
      let told = 0;
      const stopped = drain(
        nestPieces("test", pieces, choices, { seed: 1, steps: 9 }),
        ({ done }) => (told = done) >= copies,
      );
      expect(stopped.steps).toBe(Math.max(1, Math.floor(told / round)));
      expect(stopped).toEqual(nest(pieces, choices, { steps: stopped.steps }));
    },
  );

  it("notes a single word to finish within the first round", () => {
    const work = nestPieces("test", pieces, choices, { seed: 1, steps: 9 });
    work.next();
    let turn = work.next(true);
    let most = 0;
    for (; turn.done !== true; turn = work.next(false)) most = turn.value.done;
    expect(most).toBe(round);
    expect(turn.value).toEqual(nest(pieces, choices, { steps: 1 }));
  });

  it("does not go on after a word to finish within a later round", () => {
    const work = nestPieces("test", pieces, choices, { seed: 1, steps: 9 });
    let turn = work.next();
    while (turn.done !== true && turn.value.done <= 2 * round) turn = work.next(false);
    turn = work.next(true);
    expect(turn.done).toBe(true);
    expect(turn.value).toEqual(nest(pieces, choices, { steps: 2 }));
  });

  it("tells often how far it is, never falling, with a best that changes with whole rounds", () => {
    const work = nestPieces("acrylic 3 mm", pieces, choices, { seed: 1, steps: 6 });
    const bests: NestOutcome[] = [];
    const seen = new Set<number>();
    let before = 0;
    for (let turn = work.next(); turn.done !== true; turn = work.next()) {
      const { stage, done, of, best } = turn.value;
      expect({ stage, of }).toEqual({ stage: "nesting acrylic 3 mm", of: 6 * round });
      expect(done).toBeGreaterThanOrEqual(before);
      expect(best?.steps ?? 0).toBe(Math.floor(done / round));
      before = done;
      seen.add(done);
      if (best !== null && best !== bests.at(-1)) bests.push(best);
    }
    expect(before).toBe(6 * round);
    // A couple counts two; with nothing to mix the rest of the round is over at once.
    const first = [...seen].filter((done) => done <= 2 * pass);
    for (const [index, done] of first.entries())
      expect(done - (first[index - 1] ?? 0)).toBeLessThan(3);
    expect(bests.map(({ steps }) => steps)).toEqual([1, 2, 3, 4, 5, 6]);
    for (const { best } of bests)
      expect(judge(pieces, best!.choices, best!.sheets, best!.unplaced)).toEqual([]);
    const costs = bests.map(({ best }) => best!.sheetCost.toNumber());
    expect(costs).toEqual([...costs].sort((a, b) => b - a));
  });

  it("lets sizes rest that surely cost more, and keeps their first nests for comparison", () => {
    const dear = sheet(300, 200, { id: "dear", price: new Amount(90), gapMm: 2, marginMm: 4 });
    const first = nest(pieces, [...choices, dear]).bySize.find((nest) => nest.choices[0] === dear);
    const work = nestPieces("test", pieces, [...choices, dear], { seed: 1, steps: 5 });
    const reports: number[] = [];
    let turn = work.next();
    for (; turn.done !== true; turn = work.next()) reports.push(turn.value.done);
    const later = turn.value.bySize.find((nest) => nest.choices[0] === dear);
    expect(first).toBeDefined();
    expect(later).toEqual(first);
    // From 120 to 140 copies, the third size in the second round, in one go.
    expect(reports.filter((done) => done > 6 * pass && done < 7 * pass)).toEqual([]);
    expect(reports).toContain(7 * pass);
  });

  it("refuses to make no step", () => {
    expect(() => nest(pieces, choices, { steps: 0 })).toThrow(RangeError);
  });
});

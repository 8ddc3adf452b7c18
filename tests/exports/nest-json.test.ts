import { describe, expect, it } from "vitest";
import { nestJson } from "../../src/exports/nest-json.ts";
import type { NestJson } from "../../src/exports/nest-json.ts";
import { parts, tables } from "../job/texts.ts";
import { nested, SMALL } from "../helpers/job.ts";

/** As another program reads it: through JSON text. */
function written(input: typeof SMALL): NestJson {
  const document: NestJson = JSON.parse(JSON.stringify(nestJson(nested(input))));
  return document;
}

/** Outlines as drawn, lower left corner of the box at 0,0. */
const SIZES: Readonly<Record<string, readonly [number, number]>> = {
  plate: [120, 80],
  disc: [60, 60],
  ring: [50, 50],
  badge: [70, 30],
};

interface Placement {
  readonly part: string;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  readonly xMm: number;
  readonly yMm: number;
}

/** Where a point as drawn lies on the sheet, as the README words it: mirror, turn, move. */
function onSheet(placement: Placement, [drawnX, y]: readonly [number, number]): [number, number] {
  const x = placement.mirrored ? -drawnX : drawnX;
  const turn = (placement.turnDeg / 180) * Math.PI;
  return [
    x * Math.cos(turn) - y * Math.sin(turn) + placement.xMm,
    x * Math.sin(turn) + y * Math.cos(turn) + placement.yMm,
  ];
}

function cornersOf(placement: Placement): readonly (readonly [number, number])[] {
  const [width, height] = SIZES[placement.part] ?? [Number.NaN, Number.NaN];
  const corners = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ] as const;
  return corners.map((corner) => onSheet(placement, corner));
}

function centreOf(placement: Placement): [number, number] {
  const [width, height] = SIZES[placement.part] ?? [Number.NaN, Number.NaN];
  return onSheet(placement, [width / 2, height / 2]);
}

describe("nest --json", () => {
  const found = written(SMALL);
  const report = nested(SMALL);

  it("names what is left whole of a sheet of each material, clear of every centre", () => {
    const left = found.choices.flatMap(({ leftover, ...choice }) =>
      leftover === null ? [] : [{ ...choice, leftover }],
    );
    expect(left.length).toBeGreaterThan(0);
    for (const { material, thicknessMm, leftover } of left) {
      const its = found.sheets.filter(
        (sheet) => sheet.material === material && sheet.thicknessMm === thicknessMm,
      );
      const sheet = its[leftover.onSheet]!;
      const { xMm, yMm, widthMm, heightMm, share } = leftover;
      expect(share).toBeCloseTo((widthMm * heightMm) / (sheet.widthMm * sheet.heightMm), 12);
      const inside = sheet.placements
        .map(centreOf)
        .filter(([x, y]) => x > xMm && x < xMm + widthMm && y > yMm && y < yMm + heightMm);
      expect(inside).toEqual([]);
    }
  });

  it("has the shape that others rely on", () => {
    expect(found.version).toBe(1);
    expect(found.unplaced).toEqual([]);
    expect(Object.keys(found)).toEqual(
      expect.arrayContaining(["version", "sheets", "unplaced", "figures"]),
    );
    for (const sheet of found.sheets) {
      expect(sheet).toMatchObject({
        sheet: expect.any(String),
        widthMm: expect.any(Number),
        heightMm: expect.any(Number),
      });
      for (const placement of sheet.placements)
        expect(placement).toMatchObject({
          part: expect.any(String),
          copy: expect.any(Number),
          turnDeg: expect.any(Number),
          mirrored: expect.any(Boolean),
          xMm: expect.any(Number),
          yMm: expect.any(Number),
        });
    }
    expect(found.figures).toMatchObject({
      utilisation: expect.any(Number),
      sheetCost: expect.any(Number),
      costBound: expect.any(Number),
      rollLengthMm: expect.any(Number),
      steps: 1,
      seed: 1,
    });
  });

  it("places every copy once, numbered from 1", () => {
    const placed = found.sheets.flatMap(({ placements }) =>
      placements.map(({ part, copy }) => `${part} ${copy}`),
    );
    const wanted = [
      ["plate", 12],
      ["disc", 6],
      ["ring", 9],
      ["badge", 15],
    ] as const;
    expect(placed.toSorted()).toEqual(
      wanted
        .flatMap(([part, count]) => Array.from({ length: count }, (_, i) => `${part} ${i + 1}`))
        .toSorted(),
    );
  });

  it("means by a placement: mirrored, turned, moved, from the sheet's lower left corner", () => {
    let checked = 0;
    for (const { placements, widthMm, heightMm } of found.sheets)
      for (const placement of placements) {
        const round = placement.part === "disc" || placement.part === "ring";
        const radius = (SIZES[placement.part]?.[0] ?? Number.NaN) / 2;
        const [x, y] = centreOf(placement);
        const box = round
          ? [
              [x - radius, y - radius],
              [x + radius, y + radius],
            ]
          : cornersOf(placement);
        // The tables ask for a margin of 5 mm all round; judged to a thousandth of a millimetre.
        for (const [cornerX = Number.NaN, cornerY = Number.NaN] of box) {
          expect(cornerX).toBeGreaterThanOrEqual(5 - 1e-3);
          expect(cornerY).toBeGreaterThanOrEqual(5 - 1e-3);
          expect(cornerX).toBeLessThanOrEqual(widthMm - 5 + 1e-3);
          expect(cornerY).toBeLessThanOrEqual(heightMm - 5 + 1e-3);
        }
        checked += 1;
      }
    expect(checked).toBe(42);
  });

  it("keeps discs apart by their radii and the gap", () => {
    let pairs = 0;
    for (const { placements } of found.sheets) {
      const discs = placements.filter(({ part }) => part === "disc");
      for (const [index, a] of discs.entries())
        for (const b of discs.slice(index + 1)) {
          const [[ax, ay], [bx, by]] = [centreOf(a), centreOf(b)];
          expect(Math.hypot(ax - bx, ay - by)).toBeGreaterThanOrEqual(60 + 3 - 1e-3);
          pairs += 1;
        }
    }
    expect(pairs).toBe(15);
  });

  it("reckons utilisation, cost and length of roll as arithmetic does", () => {
    const areas =
      12 * 120 * 80 + 6 * Math.PI * 30 ** 2 + 9 * Math.PI * (25 ** 2 - 10 ** 2) + 15 * 70 * 30;
    const sheetArea = found.sheets.reduce(
      (sum, { widthMm, heightMm }) => sum + widthMm * heightMm,
      0,
    );
    expect(found.figures.utilisation).toBeCloseTo(areas / sheetArea, 6);
    const rolls = found.sheets.filter(({ sheet }) => sheet === "card-roll");
    const rollMm = rolls.reduce((sum, { heightMm }) => sum + heightMm, 0);
    expect(rolls.every(({ widthMm }) => widthMm === 500)).toBe(true);
    expect(found.figures.rollLengthMm).toBeCloseTo(rollMm, 9);
    const plySheets = found.sheets.length - rolls.length;
    expect(found.figures.sheetCost).toBeCloseTo(plySheets * 12.5 + (rollMm / 1000) * 2.4, 9);
    expect(found.figures.costBound).toBeLessThanOrEqual(found.figures.sheetCost + 1e-9);
    expect(found.figures.costBound).toBeGreaterThan(0);
    expect(report.stocks.map(({ sheet }) => sheet)).toEqual(["ply-4", "card-roll"]);
  });

  it("says nothing of rolls where there are none", () => {
    const plain = written({ ...SMALL, job: [parts()] });
    expect(plain.figures).not.toHaveProperty("rollLengthMm");
    expect(plain.sheets.map(({ sheet }) => sheet)).toEqual(["ply-4"]);
  });

  it("names what has no place, and how many of it", () => {
    const table = parts("door,2,birch plywood,4,,rectangle,900,390,,,,any,,,");
    const found = written({ ...SMALL, job: [table], tables: tables() });
    expect(found.unplaced).toEqual([
      expect.objectContaining({ part: "door", copies: 2, material: "birch plywood" }),
    ]);
    expect(found.sheets.flatMap(({ placements }) => placements)).toHaveLength(4);
  });
});

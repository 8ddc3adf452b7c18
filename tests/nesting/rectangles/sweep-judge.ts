import type { FilledSheet } from "../../../src/nesting/filled.ts";
import type { NestPiece } from "../../../src/nesting/types.ts";

/**
 * A judge of rectangles by their boxes: it knows nothing of the search, nor of the product's judge.
 * Boxes come from the corners of the drawn outline, turned and moved here.
 */

export interface LaidBox {
  readonly shape: number;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

const TOLERANCE_MM = 1e-6;

/** What is wrong with a sheet; nothing when it is in order. */
export function boxFaults(pieces: readonly NestPiece[], sheet: FilledSheet): readonly string[] {
  const { marginMm, gapMm, widthMm, heightMm } = sheet.choice;
  const end = heightMm ?? sheet.usedMm + marginMm;
  const boxes = laidBoxes(pieces, sheet);
  const faults: string[] = [];
  for (const { shape, minX, minY, maxX, maxY } of boxes) {
    const least = Math.min(minX, minY, widthMm - maxX, end - maxY);
    if (least < marginMm - TOLERANCE_MM) faults.push(`${shape} is ${least} mm from the edge`);
  }
  const sorted = [...boxes].sort((a, b) => a.minX - b.minX);
  for (const [at, a] of sorted.entries()) {
    for (let next = at + 1; next < sorted.length; next++) {
      const b = sorted[next]!;
      const across = b.minX - a.maxX;
      if (across > gapMm) break;
      const up = Math.max(b.minY - a.maxY, a.minY - b.maxY);
      if (Math.max(across, up) < gapMm - TOLERANCE_MM)
        faults.push(`${a.shape} and ${b.shape} are ${Math.max(across, up)} mm apart`);
    }
  }
  return faults;
}

/** With the flattening to every side. */
export function laidBoxes(
  pieces: readonly NestPiece[],
  { placed }: FilledSheet,
): readonly LaidBox[] {
  return placed.map(({ shape, variant: { turnDeg, mirrored }, x, y }) => {
    const { region, flatteningMm } = pieces[shape]!;
    const angle = (turnDeg * Math.PI) / 180;
    const side = mirrored ? -1 : 1;
    const corners = region.outer.map((point) => ({
      x: x + side * point.x * Math.cos(angle) - point.y * Math.sin(angle),
      y: y + side * point.x * Math.sin(angle) + point.y * Math.cos(angle),
    }));
    return {
      shape,
      minX: Math.min(...corners.map((corner) => corner.x)) - flatteningMm,
      minY: Math.min(...corners.map((corner) => corner.y)) - flatteningMm,
      maxX: Math.max(...corners.map((corner) => corner.x)) + flatteningMm,
      maxY: Math.max(...corners.map((corner) => corner.y)) + flatteningMm,
    };
  });
}

import type { FilledSheet } from "../filled.ts";
import type { Random } from "../../random.ts";
import type { Shape } from "../shapes.ts";
import type { Turned } from "../turns.ts";
import type { SheetChoice } from "../types.ts";
import { settle } from "./fewer.ts";
import { Layout, type Room } from "./layout.ts";
import type { KeptModel } from "./model.ts";
import { contentsOf, formsOf, slackFor, stanceOf } from "./stances.ts";
import { World } from "./world.ts";

/** Copies, and the sheets that are to take them all. */
export interface Load {
  readonly shapes: readonly Shape[];
  /** By shape: how it may be laid on some of the sheets on offer. */
  readonly turns: readonly (readonly Turned[])[];
  /** By shape. */
  readonly copies: readonly number[];
  /** Of one gap; no rolls. */
  readonly sheets: readonly SheetChoice[];
}

/**
 * Lays copies on sheets of any sizes at once: strewn at first, then moved until none overlaps. Yields
 * the depths asked for since the last time; returns null when a copy fits no sheet, else goes on until
 * all are parted.
 *
 * @param kept of loads with the same shapes and turns.
 */
export function* pack(
  { shapes, turns, copies, sheets }: Load,
  random: Random,
  kept: KeptModel,
): Generator<number, readonly FilledSheet[] | null, void> {
  const stances = shapes.flatMap(({ piece }, form) =>
    turns[form]!.map((turned) => stanceOf(form, turned, piece.flatteningMm)),
  );
  const model = kept.of(stances, () => formsOf(shapes, sheets[0]!.gapMm, stances));
  const forms = copies.flatMap((count, form) => Array.from({ length: count }, () => form));
  const rooms = roomsOf(sheets);
  const world = new World(model, Int32Array.from(forms), rooms);
  const strewn = new Layout(forms.length);
  strewn.room.fill(rooms.length);
  for (const [copy, form] of forms.entries()) strewn.stance[copy] = model.stancesOf[form]![0] ?? 0;
  world.layAll(strewn);
  const slackMm = slackFor(forms.map((form) => shapes[form]!.turns[0]!.box));
  const settling = settle(world, slackMm, random);
  let before = model.spent;
  let turn = settling.next();
  for (; turn.done !== true; turn = settling.next()) {
    yield world.spent + model.spent - before;
    before = world.spent + model.spent;
  }
  if (!turn.value) return null;
  return sheets.map((choice, room) => {
    const on = { room, minX: rooms[room]!.minX, marginMm: choice.marginMm };
    return { choice, ...contentsOf(model, world.forms, world.at, shapes, on) };
  });
}

/** Side by side, further apart than any gap. */
function roomsOf(sheets: readonly SheetChoice[]): readonly Room[] {
  let left = 0;
  return sheets.map(({ widthMm, heightMm, marginMm, gapMm }) => {
    const room = {
      minX: left + marginMm,
      minY: marginMm,
      maxX: left + widthMm - marginMm,
      maxY: (heightMm ?? 0) - marginMm,
    };
    left += 2 * (widthMm + gapMm);
    return room;
  });
}

import type { FilledSheet } from "../filled.ts";
import type { Random } from "../../random.ts";
import type { Shape } from "../shapes.ts";
import type { Turned } from "../turns.ts";
import type { SheetChoice } from "../types.ts";
import { Layout, type Room } from "./layout.ts";
import type { KeptModel, Model, Stance } from "./model.ts";
import { contentsOf, formsOf, slackFor, stancesOf } from "./stances.ts";

/** A complete nest on sheets of one size that is to be closed up, and how. Plain data. */
export interface Loose extends LooseNest {
  /** Whether shapes that may lie at any angle are tried at more than the usual ones. */
  readonly free: boolean;
}

export interface LooseNest {
  readonly shapes: readonly Shape[];
  /** For each shape how it may be laid on the sheet. */
  readonly turns: readonly (readonly Turned[])[];
  readonly choice: Footing;
  readonly sheets: readonly Contents[];
  /** No nest takes fewer. */
  readonly leastSheets: number;
}

/** What lies on a sheet. */
export type Contents = Pick<FilledSheet, "placed" | "usedMm">;

/** What the search knows of a size of sheet. */
export type Footing = Pick<SheetChoice, "widthMm" | "heightMm" | "marginMm" | "gapMm">;

/** A nest as the search moves it: copies in rooms, and sheets that it leaves as they are. */
export interface Ground {
  readonly model: Model;
  /** By copy the number of its form, which is that of its shape. */
  readonly forms: Int32Array;
  readonly rooms: readonly Room[];
  readonly layout: Layout;
  /** No nest takes fewer of the sheets that take part. */
  readonly leastRooms: number;
  /** Overlaps that are no deeper are small, mm. */
  readonly slackMm: number;
  readonly still: readonly Contents[];
}

/** Null when too many copies lie on each sheet, or none on any. */
export function groundOf(loose: Loose, kept: KeptModel, random: Random): Ground | null {
  const { choice } = loose;
  const moving = emptiest(loose.sheets);
  const still = loose.sheets.filter((sheet) => !moving.includes(sheet));
  const laid = moving.flatMap(({ placed }) => placed);
  if (laid.length === 0) return null;
  const stances = stancesOf(loose, laid, random);
  const model = kept.of(stances, () => formsOf(loose.shapes, choice.gapMm, stances));
  const rooms = moving.map((sheet, index) => roomOf(choice, sheet, index));
  return {
    model,
    forms: Int32Array.from(laid, ({ shape }) => shape),
    rooms,
    layout: layoutOf(moving, stances, rooms, choice),
    leastRooms: Math.max(1, loose.leastSheets - still.length),
    slackMm: slackFor(laid.map(({ variant }) => variant.box)),
    still,
  };
}

/** As many of the emptiest sheets as have few enough copies together, the emptiest last. */
function emptiest(sheets: readonly Contents[]): readonly Contents[] {
  const rising = sheets.toSorted((a, b) => b.placed.length - a.placed.length).toReversed();
  let copies = 0;
  const tooMany = rising.findIndex(({ placed }) => (copies += placed.length) > MOST_COPIES);
  return (tooMany < 0 ? rising : rising.slice(0, tooMany)).toReversed();
}

/** Every two of them have a weight. */
const MOST_COPIES = 600;

/** Rooms are further apart than any gap. */
function roomOf(choice: Footing, { usedMm }: Contents, index: number): Room {
  const { widthMm, heightMm, marginMm } = choice;
  const left = index * apartMm(choice);
  return {
    minX: left + marginMm,
    minY: marginMm,
    maxX: left + widthMm - marginMm,
    maxY: heightMm === null ? usedMm : heightMm - marginMm,
  };
}

function apartMm({ widthMm, gapMm }: Footing): number {
  return 2 * (widthMm + gapMm);
}

function layoutOf(
  sheets: readonly Contents[],
  stances: readonly Stance[],
  rooms: readonly Room[],
  choice: Footing,
): Layout {
  const layout = new Layout(sheets.reduce((sum, { placed }) => sum + placed.length, 0));
  let copy = 0;
  for (const [room, { placed }] of sheets.entries()) {
    for (const { shape, variant, x, y } of placed) {
      layout.stance[copy] = stances.findIndex(
        ({ form, turnDeg, mirrored }) =>
          form === shape && turnDeg === variant.turnDeg && mirrored === variant.mirrored,
      );
      layout.room[copy] = room;
      layout.x[copy] = x + rooms[room]!.minX - choice.marginMm;
      layout.y[copy] = y;
      copy++;
    }
  }
  return layout;
}

/** All sheets, those last that the search moves; empty ones are left out. */
export function sheetsOf(
  { choice, shapes }: Loose,
  ground: Ground,
  layout: Layout,
): readonly Contents[] {
  const { model, forms, rooms, still } = ground;
  const { marginMm } = choice;
  const moved = rooms.map(({ minX }, room) =>
    contentsOf(model, forms, layout, shapes, { room, minX, marginMm }),
  );
  return [...still, ...moved.filter(({ placed }) => placed.length > 0)];
}

/** Inside of a sheet's margin. Sheets lie side by side along x, too far apart to touch. */
export interface Room {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Where all copies lie, whether they overlap or not. */
export class Layout {
  /** By copy: the number of its stance, the place of its 0,0, the number of its room. */
  readonly stance: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly room: Int32Array;

  constructor(copies: number) {
    this.stance = new Int32Array(copies);
    this.x = new Float64Array(copies);
    this.y = new Float64Array(copies);
    this.room = new Int32Array(copies);
  }

  take(from: Layout): void {
    this.stance.set(from.stance);
    this.x.set(from.x);
    this.y.set(from.y);
    this.room.set(from.room);
  }

  copy(): Layout {
    const made = new Layout(this.x.length);
    made.take(this);
    return made;
  }
}

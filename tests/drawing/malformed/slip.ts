import type { LineRule } from "../../../src/job/types.ts";

/** A drawing as somebody gets it wrong. */
export interface Slip {
  readonly name: string;
  readonly file: string;
  readonly content: string | Uint8Array;
  /** In the parts list; the file's name unless it is said. */
  readonly cell?: string;
  readonly rules?: readonly LineRule[];
}

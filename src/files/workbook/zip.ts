import { strFromU8, unzipSync } from "fflate";

/** A workbook is a zip of XML files (ECMA-376, part 2); they are unpacked one by one, as needed. */
export interface Zip {
  readonly has: (path: string) => boolean;
  /** The text of a file inside; null when there is none. */
  readonly read: (path: string) => string | null;
}

/** Unpacked; a parts list is a thousandth of it, a file made to fill the memory far more. */
const MOST_BYTES = 64 * 1024 * 1024;

/** Throws what the unpacking throws: at bytes that are no zip, or a broken one, or unpack too large. */
export function openZip(bytes: Uint8Array): Zip {
  const names = new Set<string>();
  unzipSync(bytes, {
    filter: ({ name }) => {
      names.add(name);
      return false;
    },
  });
  return {
    has: (path) => names.has(path),
    read: (path) => {
      const found = unzipSync(bytes, {
        filter: ({ name, originalSize }) => {
          if (name === path && originalSize > MOST_BYTES) throw new RangeError("too large");
          return name === path;
        },
      })[path];
      return found === undefined ? null : strFromU8(found).replace(/^\uFEFF/, "");
    },
  };
}

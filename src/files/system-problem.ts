import { errorAt } from "../problem.ts";
import type { Problem } from "../problem.ts";

/** What the operating system refuses, in words. */

/** @param file the path as the person gave it. */
export function systemProblem(file: string, error: unknown): Problem {
  const code = systemCode(error);
  const [expected, mend] = REASONS[code] ?? [
    "a file or folder that can be used",
    "Look at the disk and the rights of the folder, then try again",
  ];
  return errorAt(
    { file: shortened(file), line: null, column: null },
    { code: `system-${code.toLowerCase()}`, found: code, expected, mend },
  );
}

/** A path of thousands of characters helps nobody to find it. */
const MOST_SHOWN = 240;

function shortened(path: string): string {
  if (path.length <= MOST_SHOWN) return path;
  return `${path.slice(0, MOST_SHOWN / 2)}...${path.slice(-MOST_SHOWN / 2)}`;
}

/** An error of the system, with the path at which a person finds what is wrong. */
export class PathError extends Error {
  readonly path: string;

  constructor(path: string, cause: unknown) {
    super(path, { cause });
    this.path = path;
  }
}

/** `ENOENT`; `UNKNOWN` for an error that is none of the system's. */
export function systemCode(error: unknown): string {
  if (!(error instanceof Error) || !("code" in error)) return "UNKNOWN";
  return typeof error.code === "string" ? error.code : "UNKNOWN";
}

const NO_RIGHT = [
  "the right to use it",
  "Change the rights of the file or folder, or choose another",
] as const;

const IN_USE = [
  "a file that no other program holds open",
  "Close the program that has it open, then try again",
] as const;

const REASONS: Readonly<Record<string, readonly [string, string]>> = {
  EACCES: NO_RIGHT,
  EPERM: NO_RIGHT,
  EROFS: ["a disk that can be written", "Choose a folder on another disk"],
  EBUSY: IN_USE,
  ENOENT: ["a file or folder that is there", "Correct the path"],
  ENOTDIR: ["a folder", "Choose a path that leads through folders only"],
  EISDIR: ["a file", "Rename what stands in its place"],
  EEXIST: ["a folder", "Choose another name: a file of this name is there already"],
  ENOSPC: ["room on the disk", "Make room on the disk, then try again"],
  EDQUOT: ["room on the disk", "Make room on the disk, then try again"],
  EMFILE: ["fewer files open at once", "Close other programs, then try again"],
  ENAMETOOLONG: ["a shorter name", "Choose a shorter path"],
  ELOOP: ["a path without links in a circle", "Choose a path without links"],
  ENOTSUP: ["a place where folders can be made", "Choose a folder on another disk"],
  ERUNNING: [
    "one run at a time in this folder",
    "Wait until the other run has ended; if there is none, delete the folder .writing in it",
  ],
};

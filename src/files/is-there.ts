import { access } from "node:fs/promises";

/** Whether a path leads to a file or folder that can be reached. */
export async function isThere(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}

import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach } from "vitest";

const made: string[] = [];

afterEach(async () => {
  await Promise.all(made.splice(0).map((path) => rm(path, { recursive: true, force: true })));
});

/** A temporary folder with the given files; gone after the test. */
export async function folder(
  files: Readonly<Record<string, string | Uint8Array>> = {},
): Promise<string> {
  const path = await mkdtemp(join(tmpdir(), "job-"));
  made.push(path);
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(path, name)), { recursive: true });
    await writeFile(join(path, name), content);
  }
  return path;
}

/** Every file below a folder with its text, by name. */
export async function contents(path: string): Promise<Readonly<Record<string, string>>> {
  const names = await readdir(path, { recursive: true, withFileTypes: true });
  const files = names
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .toSorted();
  const texts = await Promise.all(files.map((file) => readFile(file, "utf8")));
  return Object.fromEntries(
    files.map((file, index) => [file.slice(path.length + 1), texts[index] ?? ""]),
  );
}

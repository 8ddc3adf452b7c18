import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { closeSync, openSync } from "node:fs";
import { mkdtemp, readdir, rm, symlink } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SMALL_FILES } from "./cli/shell.ts";
import { folder } from "./files/folder.ts";

/** The program as its own process, for what no test inside of one can see: how it ends. */

const ROOT = fileURLToPath(new URL("..", import.meta.url));
let home = "";
let main = "";

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), "built-"));
  main = join(home, "dist/main.js");
  await Promise.all(
    ["node_modules", "package.json", "price-tables"].map(async (name) =>
      symlink(join(ROOT, name), join(home, name)),
    ),
  );
  const build = ["-p", join(ROOT, "tsconfig.build.json"), "--outDir", join(home, "dist")];
  spawnSync(join(ROOT, "node_modules/.bin/tsc"), build);
}, 60_000);

afterAll(async () => rm(home, { recursive: true, force: true }));

interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly err: string;
}

async function ended(child: ReturnType<typeof spawn>): Promise<Ended> {
  let err = "";
  child.stderr?.on("data", (data: Buffer) => (err += data.toString()));
  await once(child, "close");
  return { code: child.exitCode, signal: child.signalCode, err };
}

async function small(): Promise<readonly string[]> {
  const path = await folder(SMALL_FILES);
  return [`${path}/job`, "--tables", `${path}/price-tables`];
}

describe("the process", () => {
  it("ends with the code of what was asked when nobody reads the output", async () => {
    const path = await folder();
    for (const [args, code] of [
      [["check", ...(await small())], 0],
      [["check", path], 3],
    ] as const) {
      const child = spawn(process.execPath, [main, ...args], { stdio: ["ignore", "pipe", "pipe"] });
      child.stdout.destroy();
      expect(await ended(child)).toEqual({ code, signal: null, err: "" });
    }
  });

  it.skipIf(process.platform !== "linux")("says when the output takes nothing", async () => {
    const full = openSync("/dev/full", "w");
    const child = spawn(process.execPath, [main, "--help"], { stdio: ["ignore", full, "pipe"] });
    const { code, err } = await ended(child);
    closeSync(full);
    expect(code).toBe(3);
    expect(err).toMatch(/^error: the output: read "ENOSPC", expected room on the disk\..*\n$/);
  });

  it("ends by Ctrl-C with the best so far said and written", async () => {
    let last = await interrupted("SIGINT", 1000);
    // On a busy machine the search has not begun by then: nothing to keep yet.
    for (let ms = 3000; last.err === "" && ms < 20_000; ms *= 3)
      last = await interrupted("SIGINT", ms);
    expect([last.code, last.signal]).toEqual([null, "SIGINT"]);
    expect(last.err).toMatch(/^Interrupted: finishing with the best nest so far\..*\n$/);
    for (const name of ["quote.csv", "costing.csv", "layouts"]) expect(last.files).toContain(name);
    expect(last.files.filter((name) => name.startsWith("."))).toEqual([]);
  });

  it.each(["SIGTERM", "SIGHUP"] as const)("ends by %s at once, with nothing", async (signal) => {
    const { code, signal: by, err, files } = await interrupted(signal, 700);
    expect({ code, by, err, files }).toEqual({ code: null, by: signal, err: "", files: [] });
  });
});

/** What a quote that would take for ever leaves when a signal comes after some time. */
async function interrupted(
  signal: NodeJS.Signals,
  afterMs: number,
): Promise<Ended & { readonly files: readonly string[] }> {
  const out = await folder();
  const args = ["quote", ...(await small()), "--out", out, "--steps", "999999"];
  const child = spawn(process.execPath, [main, ...args], { stdio: ["ignore", "ignore", "pipe"] });
  setTimeout(() => child.kill(signal), afterMs);
  return { ...(await ended(child)), files: await readdir(out) };
}

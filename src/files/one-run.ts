import { mkdtemp, readdir, rename, rm, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { basename, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { isThere } from "./is-there.ts";
import { systemCode } from "./system-problem.ts";

const LOCK = ".writing";
const WAIT_MS = 5000;
const LOOK_EVERY_MS = 50;

/**
 * Lets one run at a time write into a folder. The run that writes holds the folder `.writing`, in
 * which a file names it; both come to be in one rename, so that a lock always has an owner. The lock
 * of a run that was killed is taken over, and what such runs left behind is cleared away.
 * @param work gets the path of `.writing`, to prepare things in on the same disk; gone afterwards.
 * @throws an error with code `ERUNNING` when another run has not ended within five seconds.
 */
export async function asOnlyRun<T>(dir: string, work: (aside: string) => Promise<T>): Promise<T> {
  const lock = join(dir, LOCK);
  const key = await mkdtemp(join(dir, `${LOCK}-${ME}-`));
  try {
    await writeFile(join(key, ME), "");
    await waitFor(lock, key);
    try {
      await clearLeftovers(dir, basename(key));
      return await work(lock);
    } finally {
      await rm(key, IF_THERE).catch(() => undefined);
      await rename(lock, key).catch(() => undefined);
    }
  } finally {
    // What can not be cleared away now is left to the next run.
    await rm(key, IF_THERE).catch(() => undefined);
  }
}

const IF_THERE = { recursive: true, force: true } as const;

/** Names this run among all that may write into the folder, also from other machines. */
const ME = `${encodeURIComponent(hostname())}-${process.pid}`;

async function waitFor(lock: string, key: string): Promise<void> {
  for (let waited = 0; !(await takes(lock, key)); waited += LOOK_EVERY_MS) {
    if (waited >= WAIT_MS) throw Object.assign(new Error(lock), { code: "ERUNNING" });
    await pause(LOOK_EVERY_MS);
  }
}

/** Of several runs that take the lock, or take over that of a dead one, one succeeds. */
async function takes(lock: string, key: string): Promise<boolean> {
  try {
    await rename(key, lock);
    return true;
  } catch (error) {
    // It may be gone again by now; some systems say "no right" of a lock that is there.
    if (!TAKEN.has(systemCode(error)) && !(await isThere(lock))) throw error;
  }
  const owner = (await readdir(lock).catch(() => [])).find((name) => OWNER.test(name));
  if (owner === undefined || isAlive(owner)) return false;
  try {
    await rename(join(lock, owner), join(lock, ME));
    return true;
  } catch (error) {
    if (systemCode(error) === "ENOENT") return false;
    throw error;
  }
}

const TAKEN = new Set(["ENOTEMPTY", "EEXIST"]);
const OWNER = /^(.+)-(\d+)$/;

/** Of a run on another machine we can not know, so that it counts as alive. */
function isAlive(owner: string): boolean {
  const [, host, pid] = OWNER.exec(owner) ?? [];
  if (host !== encodeURIComponent(hostname())) return true;
  try {
    process.kill(Number(pid), 0);
    return true;
  } catch (error) {
    return systemCode(error) !== "ESRCH";
  }
}

/** What a killed run prepared in the lock, and the keys of those that were killed while waiting. */
async function clearLeftovers(dir: string, key: string): Promise<void> {
  const prepared = (await readdir(join(dir, LOCK))).filter((name) => name !== ME);
  const keys = (await readdir(dir)).filter((name) => {
    const owner = KEY.exec(name)?.[1];
    return owner !== undefined && name !== key && !isAlive(owner);
  });
  for (const name of [...prepared.map((one) => join(LOCK, one)), ...keys])
    await rm(join(dir, name), IF_THERE);
}

const KEY = /^\.writing-(.+-\d+)-\w{6}$/;

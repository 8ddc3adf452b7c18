import { createHash } from "node:crypto";
import { chmod, lstat, readFile, stat, symlink } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { keepFile } from "../../src/files/keep.ts";
import { contents, folder } from "./folder.ts";

const OLD = "part,qty\r\nheron,1\r\n";
const NEW = "part,qty\r\nheron,3\r\n";

function hash(bytes: string): string {
  return createHash("sha256").update(bytes).digest("hex");
}

describe("a file of the job", () => {
  it("is replaced whole, with its rights, and nothing is left aside", async () => {
    const job = await folder({ "parts.csv": OLD, "job.yaml": "pieces: 2\n" });
    await chmod(join(job, "parts.csv"), 0o640);
    expect(await keepFile(job, { name: "parts.csv", sha256: hash(OLD), text: NEW })).toEqual([]);
    expect(await contents(job)).toEqual({ "parts.csv": NEW, "job.yaml": "pieces: 2\n" });
    expect((await stat(join(job, "parts.csv"))).mode & 0o777).toBe(0o640);
  });

  it("keeps its byte order mark", async () => {
    const job = await folder({ "parts.csv": `\uFEFF${OLD}` });
    await keepFile(job, { name: "parts.csv", sha256: hash(`\uFEFF${OLD}`), text: NEW });
    const bytes = await readFile(join(job, "parts.csv"));
    expect(bytes.toString("hex")).toBe(`efbbbf${Buffer.from(NEW).toString("hex")}`);
  });

  it("that was changed meanwhile is not touched", async () => {
    const job = await folder({ "parts.csv": `${OLD}curlew,1\r\n` });
    const problems = await keepFile(job, { name: "parts.csv", sha256: hash(OLD), text: NEW });
    expect(problems[0]).toMatchObject({ code: "changed-meanwhile", file: "parts.csv" });
    expect(await contents(job)).toEqual({ "parts.csv": `${OLD}curlew,1\r\n` });
  });

  it("that is new never takes the place of one that came meanwhile", async () => {
    const job = await folder({ "parts.csv": OLD });
    const file = { name: "job.yaml", sha256: null, text: "pieces: 5\n" };
    expect(await keepFile(job, file)).toEqual([]);
    expect((await keepFile(job, { ...file, text: "pieces: 6\n" }))[0]?.code).toBe("system-eexist");
    expect(await contents(job)).toEqual({ "parts.csv": OLD, "job.yaml": "pieces: 5\n" });
  });

  it("is found from its parts.csv and as a lone list, also behind a link", async () => {
    const job = await folder({ "parts.csv": OLD, "real/signs.csv": OLD });
    const kept = { sha256: hash(OLD), text: NEW };
    await symlink(join(job, "real/signs.csv"), join(job, "signs.csv"));
    expect(await keepFile(join(job, "parts.csv"), { name: "parts.csv", ...kept })).toEqual([]);
    expect(await keepFile(join(job, "signs.csv"), { name: "signs.csv", ...kept })).toEqual([]);
    expect((await lstat(join(job, "signs.csv"))).isSymbolicLink()).toBe(true);
    expect(await contents(job)).toEqual({ "parts.csv": NEW, "real/signs.csv": NEW });
  });

  it("that is gone is a problem with its path", async () => {
    const job = await folder();
    const problems = await keepFile(job, { name: "parts.csv", sha256: hash(OLD), text: NEW });
    expect(problems[0]).toMatchObject({ code: "system-enoent", file: join(job, "parts.csv") });
    expect(await contents(job)).toEqual({});
  });
});

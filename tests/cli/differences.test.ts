import { readFile, writeFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { folder } from "../files/folder.ts";
import { ran, SMALL_FILES } from "./shell.ts";

/** A job that was quoted, and was changed since; its folder and the tables'. */
async function changedSince(): Promise<{ job: string; more: readonly string[] }> {
  const path = await folder(SMALL_FILES);
  const job = `${path}/job`;
  const more = ["--tables", `${path}/price-tables`, "--steps", "1"];
  expect((await ran(["quote", job, ...more])).exit).toBe(0);
  const file = `${job}/job.yaml`;
  const text = await readFile(file, "utf8");
  await writeFile(file, text.replace("delivery: 12.35", "delivery: 40.00"));
  return { job, more };
}

describe("differences", () => {
  it("tells what changed since the quote that was kept, by its folder or its file", async () => {
    const { job, more } = await changedSince();
    const byFolder = await ran(["differences", job, `${job}/quote`, ...more]);
    expect([byFolder.exit, byFolder.err]).toEqual([0, ""]);
    expect(byFolder.out).toContain(
      "job.yaml, line 6, price.delivery: delivery of the order 12.35 -> 40",
    );
    expect(Math.max(...byFolder.out.split("\n").map(({ length }) => length))).toBeLessThan(81);
    const byFile = await ran(["differences", job, `${job}/quote/estimate.json`, ...more]);
    expect(byFile).toEqual(byFolder);
  });

  it("compares two jobs, and nothing is given otherwise between a job and itself", async () => {
    const { job, more } = await changedSince();
    const same = await ran(["differences", job, job, ...more, "--json"]);
    expect([same.exit, same.err]).toEqual([0, ""]);
    expect(JSON.parse(same.out)).toMatchObject({
      version: 1,
      net: { difference: "0.00" },
      causes: [],
    });
  });

  it("names what it can not compare with", async () => {
    const { job, more } = await changedSince();
    await writeFile(`${job}/other.json`, "{}");
    const wrong = await ran(["differences", job, `${job}/other.json`, ...more]);
    expect(wrong.exit).toBe(3);
    expect(wrong.err).toMatch(/other\.json: read "something else", expected an estimate as quote/);
    expect((await ran(["differences", job, `${job}/none`, ...more])).exit).toBe(3);
    expect((await ran(["differences", job, ...more])).exit).toBe(2);
  });
});

import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { page } from "../drawing/reading.ts";
import { contents, folder } from "../files/folder.ts";
import { ran } from "./shell.ts";

const PLATE = page(`<rect width="120" height="80"/><circle cx="20" cy="20" r="2.75"/>`);
const TWO = page(`<rect width="50" height="40"/><rect x="60" width="30" height="30"/>
<path d="M5 5h20" stroke="red" fill="none"/>`);

async function drawings(more: Readonly<Record<string, string>> = {}): Promise<string> {
  return folder({
    "stand/plate.svg": PLATE,
    "stand/old/plate.svg": PLATE,
    "stand/two.svg": TWO,
    ...more,
  });
}

async function rowsOf(dir: string): Promise<readonly Record<string, string>[]> {
  const text = await readFile(join(dir, "stand/parts.csv"), "utf8");
  return parse(text, { columns: true });
}

describe("init", () => {
  it("makes a row for each piece, with a name of its own, and a job that check reads", async () => {
    const dir = await drawings();
    const job = join(dir, "stand");
    const made = await ran(["init", job, "--material", "Birch plywood", "--thickness", "4mm"]);
    expect(made.exit).toBe(0);
    expect(await rowsOf(dir)).toMatchObject([
      {
        part: "plate",
        qty: "1",
        material: "Birch plywood",
        thickness: "4mm",
        drawing: "plate.svg",
      },
      { part: "two-1", drawing: "two.svg#outline-1", note: "50 x 40 mm" },
      { part: "two-2", drawing: "two.svg#outline-2", note: "30 x 30 mm" },
      { part: "old-plate", drawing: "old/plate.svg", note: "120 x 80 mm, 1 hole, all round" },
    ]);
    // The open line is told now, and again by check until a line rule says that it is scored.
    expect(made.err).toContain("an open line");
    const checked = await ran(["check", job]);
    expect(checked.out).toMatch(/^error: two\.svg/m);
    expect(checked.out).not.toMatch(/parts\.csv|job\.yaml/);
  });

  it("leaves open what is not said, and check asks for it", async () => {
    const dir = await drawings();
    const made = await ran(["init", join(dir, "stand")]);
    expect(made.out).toContain("fill in material, thickness, qty in parts.csv");
    const checked = await ran(["check", join(dir, "stand")]);
    expect(checked.out).toMatch(/parts\.csv, line 2, material/);
    expect(checked.out).toMatch(/parts\.csv, line 2, thickness/);
  });

  it("replaces nothing, and writes nothing where one of the two is there", async () => {
    const dir = await drawings({ "stand/job.yaml": "pieces: 4\n" });
    const before = await contents(dir);
    const made = await ran(["init", join(dir, "stand")]);
    expect(made.exit).toBe(3);
    expect(made.err).toContain("job.yaml");
    expect(await contents(dir)).toEqual(before);
  });

  it("names the sheet that is meant, and a folder without drawings", async () => {
    const dir = await drawings({ "empty/readme.txt": "" });
    const job = join(dir, "stand");
    expect(await ran(["init", job, "--material", "bich plywood"])).toMatchObject({ exit: 2 });
    const thick = await ran(["init", job, "--material", "MDF", "--thickness", "4"]);
    expect(thick).toMatchObject({ exit: 2 });
    expect(thick.err).toContain("no sheet of MDF is 4 mm thick: take 3 mm, 6 mm or 9 mm");
    expect((await ran(["init", join(dir, "empty")])).err).toContain("a folder with .svg or .dxf");
    expect(Object.keys(await contents(dir))).not.toContain("stand/parts.csv");
  });

  it("answers in JSON", async () => {
    const dir = await drawings();
    const { out } = await ran(["init", join(dir, "stand"), "--json"]);
    const answer: unknown = JSON.parse(out);
    expect(answer).toMatchObject({
      version: 1,
      drawings: [{ file: "plate.svg" }, {}, { file: "old/plate.svg" }],
    });
  });
});

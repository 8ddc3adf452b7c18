import { chmod, readFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { dxf, rectangle } from "../drawing/dxf/dxf-text.ts";
import { page } from "../drawing/reading.ts";
import { contents, folder } from "../files/folder.ts";
import { ran } from "./shell.ts";

const PLATE = page(`<rect width="120" height="80"/><circle cx="20" cy="20" r="2.75"/>`);
const TWO = page(`<rect width="50" height="40"/><rect x="60" width="30" height="30"/>
<path d="M5 5h20" stroke="red" fill="none"/>`);

async function drawings(more: Readonly<Record<string, string | Uint8Array>> = {}): Promise<string> {
  return folder({
    "stand/plate.svg": PLATE,
    "stand/old/plate.svg": PLATE,
    "stand/two.svg": TWO,
    ...more,
  });
}

async function rowsOf(dir: string, job = "stand"): Promise<readonly Record<string, string>[]> {
  const text = await readFile(join(dir, job, "parts.csv"), "utf8");
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
    expect(checked.out).not.toMatch(/^error: (?:parts\.csv|job\.yaml)/m);
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

  it("names pieces by the ids that the drawing gives them, where all lines have one", async () => {
    const holed = `<rect width="50" height="40"/><circle cx="9" cy="9" r="2"/>`;
    const dir = await folder({
      "job/a.svg": page(`<g id="cap">${holed}</g><rect id="foot" x="60" width="30" height="30"/>`),
      "job/b.svg": page(`${holed}<rect id="foot" x="60" width="30" height="30"/>`),
      "job/c.svg": page(`<g id="g12">${holed}</g><rect id="foot" x="60" width="30" height="30"/>`),
      "job/d.svg": page(
        `<g id="cap">${holed}</g><g id="feet"><rect x="60" width="30" height="30"/><rect x="100" width="30" height="30"/></g>`,
      ),
      "job/e.dxf": dxf(rectangle(0, 0, 40, 30, "TOP") + rectangle(50, 0, 40, 30, "BASE")),
      "job/g.dxf": dxf(rectangle(0, 0, 40, 30, "Foot") + rectangle(50, 0, 40, 30, "Lid")),
      "job/f.dxf": dxf(rectangle(0, 0, 40, 30) + rectangle(50, 0, 40, 30)),
    });
    const made = await ran(["init", join(dir, "job"), "--material", "MDF", "--thickness", "3"]);
    expect(made).toMatchObject({ exit: 0, err: "" });
    const rows = await rowsOf(dir, "job");
    expect(rows.map(({ part, drawing }) => `${part} ${drawing}`)).toEqual([
      "cap a.svg#cap",
      "foot a.svg#foot",
      "b-1 b.svg#outline-1",
      "b-2 b.svg#outline-2",
      "c-1 c.svg#outline-1",
      "c-2 c.svg#outline-2",
      "d-1 d.svg#outline-1",
      "d-2 d.svg#outline-2",
      "d-3 d.svg#outline-3",
      "TOP e.dxf#TOP",
      "BASE e.dxf#BASE",
      "f-1 f.dxf#outline-1",
      "f-2 f.dxf#outline-2",
      "g-Foot g.dxf#Foot",
      "Lid g.dxf#Lid",
    ]);
    expect(await ran(["check", join(dir, "job")])).toMatchObject({ exit: 0 });
  });

  it("writes what check reads, whatever the drawings are called", async () => {
    const names = [
      "=1+1",
      "@home",
      "-a, b",
      'say "hi"',
      "Größe 2",
      "sub/Größe 2",
      "sub/größe 2",
      "=",
      "plate",
    ];
    const files = names.map((name) => [`my job/${name}.svg`, PLATE] as const);
    const dir = await folder(Object.fromEntries(files));
    const sheet = ["--material", "MDF", "--thickness", "3"];
    const made = await ran(["init", join(dir, "my job"), ...sheet]);
    expect(made.out).toContain(`  tallywright check '${join(dir, "my job")}'`);
    const rows = await rowsOf(dir, "my job");
    expect(rows.map(({ part }) => part)).toEqual([
      "a, b",
      "part-2",
      "1+1",
      "home",
      "Größe 2",
      "plate",
      'say "hi"',
      "sub-Größe 2",
      "größe 2-2",
    ]);
    const { exit, out } = await ran(["check", join(dir, "my job")]);
    expect([exit, out]).toEqual([0, "0 errors, 0 warnings.\n"]);
  });

  it("goes on past drawings that it can not use, and says which", async () => {
    const dir = await drawings({
      "stand/broken.svg": "<svg",
      "stand/packed.svg": "\u001f\u008b",
      "stand/latin.svg": Buffer.from("<svg>\xe4</svg>", "latin1"),
      "stand/no#1.svg": PLATE,
      "stand/two  blanks.svg": PLATE,
    });
    const made = await ran(["init", join(dir, "stand")]);
    expect(made.exit).toBe(0);
    for (const name of ["broken.svg", "packed.svg", "latin.svg", "no#1.svg", "two  blanks.svg"])
      expect(made.err).toMatch(new RegExp(`^warning: ${name}`, "m"));
    expect(made.err).toContain("Rename the drawing, and add a row for it");
    expect(await rowsOf(dir)).toHaveLength(4);
  });

  it("takes what is sound and has an id from a drawing with a faulty outline", async () => {
    const bow = `<path id="bow" d="M100 10L140 50L140 10L100 50Z"/>`;
    const plate = `<rect id="plate" x="9" y="9" width="60" height="40"/>`;
    const back = `<g id="back"><rect x="150" y="9" width="30" height="40"/></g>`;
    const dir = await folder({
      "stand/a.svg": page(`${plate}<text>note</text>${bow}${back}`),
      // Without ids its pieces would be counted anew once it is mended.
      "stand/b.svg": page(`${bow.replace(` id="bow"`, "")}<rect width="9" height="9"/>`),
    });
    const job = join(dir, "stand");
    const made = await ran(["init", job, "--material", "MDF", "--thickness", "6mm"]);
    expect(made.err).toContain("crosses or touches itself");
    expect(await rowsOf(dir)).toMatchObject([
      { part: "plate", drawing: "a.svg#plate", note: "60 x 40 mm" },
      { part: "back", drawing: "a.svg#back", note: "30 x 40 mm" },
    ]);
    const checked = await ran(["check", job]);
    expect(checked.out).not.toMatch(/^error: a\.svg/m);
  });

  it("takes no other job's files for new ones", async () => {
    for (const name of ["parts.xlsx", "job.yml", "Parts.CSV"]) {
      const dir = await drawings({ [`stand/${name}`]: "?" });
      const before = await contents(dir);
      const made = await ran(["init", join(dir, "stand")]);
      expect(made.exit).toBe(3);
      expect(made.err).toContain(`error: ${name}: read "${name}", expected a folder without it`);
      expect(await contents(dir)).toEqual(before);
    }
  });

  it("takes back the first file when the second can not be made", async () => {
    const dir = await drawings({ "stand/job.yaml/note.txt": "a folder of that name" });
    const before = await contents(dir);
    const made = await ran(["init", join(dir, "stand")]);
    expect(made.exit).toBe(3);
    expect(made.err).toContain("error: job.yaml: ");
    expect(await contents(dir)).toEqual(before);
  });

  it.skipIf(process.getuid?.() === 0)("says when the folder takes no files", async () => {
    const dir = await drawings();
    await chmod(join(dir, "stand"), 0o555);
    const made = await ran(["init", join(dir, "stand")]);
    await chmod(join(dir, "stand"), 0o755);
    expect(made).toMatchObject({ exit: 3, out: "" });
    expect(made.err).toContain('parts.csv: read "EACCES"');
  });

  it("says when there is nothing that it could list, and writes nothing", async () => {
    const dir = await folder({ "a/broken.svg": "<svg", "b.svg": PLATE });
    const none = await ran(["init", join(dir, "a"), "--json"]);
    expect(none).toMatchObject({ exit: 3 });
    expect(none.out).toContain("1 drawing without a piece");
    expect((await ran(["init", join(dir, "b.svg")])).err).toContain(
      "expected a folder of drawings",
    );
    expect((await ran(["init", join(dir, "c")])).err).toContain("a folder or file that is there");
    expect(Object.keys(await contents(dir))).toEqual(["a/broken.svg", "b.svg"]);
  });

  it("lists hundreds of drawings", async () => {
    const many = Array.from({ length: 400 }, (_, at) => [`job/part ${at}.svg`, PLATE] as const);
    const dir = await folder(Object.fromEntries(many));
    const made = await ran(["init", join(dir, "job")]);
    expect(made.out).toContain("parts.csv with 400 parts, and job.yaml");
    expect(new Set((await rowsOf(dir, "job")).map(({ part }) => part)).size).toBe(400);
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

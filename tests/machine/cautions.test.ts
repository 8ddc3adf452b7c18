import { describe, expect, it } from "vitest";
import { cautionsFor } from "../../src/machine/cautions.ts";
import type { CautionInput } from "../../src/machine/cautions.ts";

const NOTHING: CautionInput = { laserCut: [], sawn: [], painted: [], hazards: [] };

const topics = (input: Partial<CautionInput>): string[] =>
  cautionsFor({ ...NOTHING, ...input }).map(({ topic }) => topic);

describe("cautionsFor", () => {
  it("says nothing where nothing calls for it", () => {
    expect(topics({})).toEqual([]);
  });

  it("keeps the order of the work and says what calls for each", () => {
    const cautions = cautionsFor({
      laserCut: ["birch plywood", "acrylic cast", "birch plywood"],
      sawn: ["Larch batten"],
      painted: [
        { part: "heron", material: "acrylic cast" },
        { part: "board", material: "birch plywood" },
      ],
      hazards: [
        { hazard: "mains", what: "Lamp holder" },
        { hazard: "drilling", what: "Drilling a hole" },
        { hazard: "solvent", what: "Cementing tabs" },
      ],
    });
    expect(cautions.map(({ topic, because }) => `${topic}: ${because}`)).toEqual([
      "laser: cut by laser: birch plywood, acrylic cast",
      "fume: cut by laser: birch plywood, acrylic cast",
      "laser: cut by laser: acrylic cast",
      "sawing: sawn: Larch batten",
      "drilling: Drilling a hole",
      "sanding: sanded before and between coats: board",
      "spray: painted: heron, board",
      "solvent: Cementing tabs",
      "mains: Lamp holder",
    ]);
  });

  it("defers to a licensed electrician, the manual and the data sheet", () => {
    const texts = new Map(
      cautionsFor({
        laserCut: ["MDF"],
        sawn: ["Oak strip"],
        painted: [{ part: "letter", material: "MDF" }],
        hazards: [{ hazard: "mains", what: "Lamp holder" }],
      }).map(({ topic, text }) => [topic, text]),
    );
    expect(texts.get("mains")).toMatch(/licensed electrician to the local code/);
    expect(texts.get("spray")).toMatch(/safety data sheet.*local fire code/);
    expect(texts.get("fume")).toMatch(/safety data sheet/);
    expect(texts.get("sawing")).toMatch(/manual of the saw and the local rules/);
  });

  // Source: woodworkers forum and trade pages: paint cracks laser-cut extruded acrylic.
  it.each([
    ["acrylic extruded", true],
    ["acrylic", true],
    ["acrylic cast", false],
    ["birch plywood", false],
  ])("warns of cracks when %s is painted: %s", (material, warned) => {
    const painted = [{ part: "heron", material }];
    const crack = cautionsFor({ ...NOTHING, laserCut: [material], painted }).filter(({ text }) =>
      text.includes("cracks"),
    );
    expect(crack).toHaveLength(warned ? 1 : 0);
    expect(topics({ laserCut: [material] })).not.toContain("solvent");
  });

  it("warns of cracks when extruded acrylic is cemented", () => {
    const hazards = [{ hazard: "solvent", what: "Cementing tabs" }] as const;
    expect(topics({ laserCut: ["acrylic extruded"], hazards })).toEqual([
      "laser",
      "fume",
      "laser",
      "solvent",
      "solvent",
    ]);
  });
});

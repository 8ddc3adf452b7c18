import { describe, expect, it } from "vitest";
import { NEVER_LASER } from "../../src/machine/laser-materials.ts";
import { careWith, neverLaser, refuseUnsafe } from "../../src/machine/laser-safety.ts";
import { sentence } from "../../src/problem.ts";

/** Sources of the verdicts: lab material list, university approved materials list, trade lists. */
const NEVER: readonly (readonly [material: string, what: RegExp])[] = [
  ["PVC", /PVC/],
  ["pvc foam 3mm", /PVC/],
  ["rigid uPVC", /PVC/],
  ["Hard-PVC_3mm", /PVC/],
  ["3mmPVC", /PVC/],
  ["clearPVC", /PVC/],
  ["PVC free foam board", /PVC/],
  ["PVC-free print on vinyl", /PVC/],
  ["self-adhesive vinyl", /vinyl/],
  ["poly vinyl chloride", /vinyl/],
  ["polyvinylchloride", /vinyl/],
  ["chlorinated polyethylene", /chlorinated/],
  ["Neoprene", /chlorinated/],
  ["faux leather", /leather/],
  ["leatherette", /leather/],
  ["shelf film", /shelf/],
  ["PTFE sheet", /PTFE/],
  ["fluoropolymer film", /fluoropolymer/],
  ["ABS", /ABS/],
  ["black abs 2mm", /ABS/],
  ["polycarbonate", /polycarbonate/],
  ["poly-carbonate clear", /polycarbonate/],
  ["PC clear", /polycarbonate/],
  ["polystyrene foam", /polystyrene foam/],
  ["foamed PS sheet", /polystyrene foam/],
  ["XPS", /polystyrene foam/],
  ["foamboard", /foam board/],
  ["foam core 5", /foam board/],
  ["PP foam", /polypropylene/],
  ["polyethylene foam", /polyethylene/],
  ["poly ethylene foam", /polyethylene/],
  ["HDPE", /HDPE/],
  ["high-density polyethylene", /HDPE/],
  ["carbon fibre plate", /carbon/],
  ["carbon-fiber", /carbon/],
  ["fibreglass", /fibreglass/],
  ["FR4", /laminate/],
  ["fr-4 board", /laminate/],
  ["phenolic paper", /laminate/],
  ["chrome-tanned leather", /chrome/],
  ["pressure-treated pine", /treated/],
  ["treated timber", /treated/],
  ["MDF, unknown paint", /paint/],
  ["galvanized steel", /galvanised/],
  ["galvanised sheet", /galvanised/],
  ["unlabelled clear plastic", /plastic/],
  ["plastic", /plastic/],
];

const ALLOWED = [
  "acrylic cast",
  "acrylic extruded",
  "fluorescent acrylic",
  "birch plywood",
  "MDF",
  "cardstock",
  "greyboard",
  "stencil film",
  "PVC-free film",
  "non-vinyl film",
  "halogen-free card",
  "absorbent board",
  "heat-treated pine",
  "untreated timber",
  "vegetable-tanned leather",
  "lead-free paint board",
  "phenolic-glue birch ply",
  "MDF 4 pc",
  "EVA foam",
  "polypropylene",
];

describe("refuseUnsafe", () => {
  it.each(NEVER)("refuses %s", (material, what) => {
    expect(neverLaser(material)?.what).toMatch(what);
    expect(neverLaser(material.toUpperCase())).not.toBeNull();
  });

  it.each(ALLOWED)("lets %s pass", (material) => {
    expect(neverLaser(material)).toBeNull();
  });

  it("has an example for every rule", () => {
    const used = new Set(NEVER.map(([material]) => neverLaser(material)));
    expect(NEVER_LASER.filter((rule) => !used.has(rule))).toEqual([]);
  });

  it("says which row, why and what to do", () => {
    const place = { file: "parts.csv", line: 4, column: null };
    const parts = [
      { material: "acrylic cast", place: { ...place, line: 3 } },
      { material: "PVC foam", place },
    ];
    const problems = refuseUnsafe(parts);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ code: "never-laser", severity: "error", line: 4 });
    expect(sentence(problems[0]!)).toMatch(
      /^parts\.csv, line 4, material: read "PVC foam", expected .*Choose another material.*hydrogen chloride/,
    );
  });
});

describe("careWith", () => {
  it.each([
    ["acrylic cast", "acrylic"],
    ["MDF", "MDF"],
    ["birch exterior ply", "exterior plywood"],
    ["exterior birch plywood", "exterior plywood"],
    ["phenolic-glue ply", "exterior plywood"],
    ["corrugated card", "corrugated card"],
    ["PP 0.8", "polypropylene"],
    ["PETG", "PETG"],
    ["leather", "leather"],
    ["birch plywood", null],
  ])("of %s knows %s", (material, what) => {
    expect(careWith(material).map((rule) => rule.what)).toEqual(what === null ? [] : [what]);
  });
});

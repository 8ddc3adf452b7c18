import { careWith, says } from "./laser-safety.ts";
import type { Caution, CautionTopic } from "./types.ts";

/** What to mind while making a job, said where the job calls for it. */

/** What of a job may hurt somebody. */
export interface CautionInput {
  /** Materials of what is cut by laser, as the parts list spells them; empty when nothing is. */
  readonly laserCut: readonly string[];
  /** What is sawn: lengths from bars, panels from sheets that are larger than the bed. */
  readonly sawn: readonly string[];
  /** Parts that are painted. */
  readonly painted: readonly { readonly part: string; readonly material: string }[];
  /** Rows of the hardware and tasks tables with a hazard; `what` is their description. */
  readonly hazards: readonly {
    readonly hazard: "mains" | "drilling" | "solvent";
    readonly what: string;
  }[];
}

/** In the order of the work; nothing twice. */
export function cautionsFor(input: CautionInput): readonly Caution[] {
  return [
    ...laserCautions(input),
    ...materialCautions(input),
    ...sawingCautions(input),
    ...drillingCautions(input),
    ...sandingCautions(input),
    ...sprayCautions(input),
    ...solventCautions(input),
    ...mainsCautions(input),
  ];
}

/** Facts: IEC 60825-1; acrylic processing tips, trade; college course slides; fume extraction guide. */
function laserCautions({ laserCut }: CautionInput): Caution[] {
  if (laserCut.length === 0) return [];
  const because = `cut by laser: ${listed(laserCut)}`;
  return [
    caution(
      "laser",
      "Stay with the laser for the whole job, with an extinguisher within reach, and never defeat a lid switch; an open machine needs an enclosure or eyewear rated for its beam. The machine's manual and the rules of the workshop come first.",
      because,
    ),
    caution(
      "fume",
      "Run the extraction, outdoors or through a particle and carbon filter, while cutting and until the smoke has cleared. Cut only sheet that you know by name, after reading its safety data sheet.",
      because,
    ),
  ];
}

function materialCautions({ laserCut }: CautionInput): Caution[] {
  return unique(laserCut).flatMap((material) =>
    careWith(material).map(({ reason }) =>
      caution("laser", `${reason}.`, `cut by laser: ${material}`),
    ),
  );
}

/** Common practice, from memory; no page found. */
function sawingCautions({ sawn }: CautionInput): Caution[] {
  if (sawn.length === 0) return [];
  return [
    caution(
      "sawing",
      "Saw with the guard in place, the work clamped or against its fence, hands out of the line of the blade and a push stick for short ends; wear eye and ear protection and catch the dust. The manual of the saw and the local rules for machines decide who may use it.",
      `sawn: ${listed(sawn)}`,
    ),
  ];
}

/** Facts: acrylic fabrication manual; drilling guide. */
function drillingCautions(input: CautionInput): Caution[] {
  const drilled = hazardsOf(input, "drilling");
  if (drilled.length === 0) return [];
  return [
    caution(
      "drilling",
      "Clamp the work on a backing board, drill slowly and wear eye protection; in acrylic use a drill ground to a point of 60 to 90 degrees without rake, since an ordinary one chips it on the way out. The manual of the drill comes first.",
      listed(drilled),
    ),
  ];
}

/** Facts: school materials reference; hobby forum (masks). */
function sandingCautions({ painted }: CautionInput): Caution[] {
  const wooden = painted.filter(({ material }) => says(material, WOOD));
  if (wooden.length === 0) return [];
  return [
    caution(
      "sanding",
      "Sand wood and MDF with dust extraction and a dust mask: the fine dust harms the lungs. Local limits for wood dust hold.",
      `sanded before and between coats: ${listed(wooden.map(({ part }) => part))}`,
    ),
  ];
}

/** Facts: 29 CFR 1910.94/.107 summary; spray booth guide; doi 10.1186/2052-336X-12-41. */
function sprayCautions({ painted }: CautionInput): Caution[] {
  if (painted.length === 0) return [];
  return [
    caution(
      "spray",
      "Spray only with mechanical ventilation, during and after, away from flames, sparks and hot lamps, and wear a respirator with organic-vapour and particle filters; a dust mask does not hold back solvent. The safety data sheet of the paint and the local fire code decide.",
      `painted: ${listed(painted.map(({ part }) => part))}`,
    ),
  ];
}

/** Facts: woodworkers forum; trade pages. */
function solventCautions(input: CautionInput): Caution[] {
  const used = hazardsOf(input, "solvent");
  const general = caution(
    "solvent",
    "Use solvents and cements in moving air, with gloves that they do not eat and without any flame, and let rags dry outdoors. Their safety data sheets and the local fire code decide.",
    listed(used),
  );
  return [...(used.length === 0 ? [] : [general]), ...crackCautions(input)];
}

/** Acrylic that is not called cast may be extruded, and its cut edge is under tension. */
function crackCautions(input: CautionInput): Caution[] {
  const painted = new Set(input.painted.map(({ material }) => material));
  const wetted = hazardsOf(input, "solvent").length > 0;
  const tense = input.laserCut.filter(
    (material) =>
      (wetted || painted.has(material)) && says(material, ACRYLIC) && !says(material, CAST),
  );
  if (tense.length === 0) return [];
  return [
    caution(
      "solvent",
      "The laser-cut edge of extruded acrylic cracks within hours to a day when paint or solvent reaches it. Use cast sheet, or anneal it first as its maker says, or use water-based paint; try it on an offcut.",
      `painted or cemented after cutting, and not known to be cast: ${listed(tense)}`,
    ),
  ];
}

/** Facts: test guidance for lamp makers; wording for a quote: common practice. */
function mainsCautions(input: CautionInput): Caution[] {
  const wired = hazardsOf(input, "mains");
  if (wired.length === 0) return [];
  return [
    caution(
      "mains",
      "Have mains parts fitted or checked by a licensed electrician to the local code. Who sells a lamp answers for its conformity with the law of the place; a plug-in test alone is not enough. Keep hot bulbs away from acrylic, card and plywood.",
      listed(wired),
    ),
  ];
}

const WOOD = /\b(?:\w*wood\w*|ply|mdf|hdf|timber|oak|beech|birch|pine|larch)\b/;
const ACRYLIC = /\b(?:acrylics?|pmma)\b/;
const CAST = /\bcast\b/;

function hazardsOf({ hazards }: CautionInput, hazard: string): string[] {
  return hazards.filter((each) => each.hazard === hazard).map(({ what }) => what);
}

function caution(topic: CautionTopic, text: string, because: string): Caution {
  return { topic, text, because };
}

function listed(names: readonly string[]): string {
  return unique(names).join(", ");
}

function unique(names: readonly string[]): string[] {
  return [...new Set(names)];
}

/**
 * What must never meet a laser beam, and what asks for care. It stands in the code and not in a
 * table, so that no set of price tables can take it away. The sources are lists of laser workshops;
 * the safety data sheet of the very material comes before any list.
 */

export interface MaterialRule {
  /** What the rule is about, as a person would say it. */
  readonly what: string;
  /** Looked for in a name made plain: lower case, words and numbers apart by single spaces. */
  readonly words: RegExp;
  /** A sentence without a full stop. */
  readonly reason: string;
  readonly source: string;
}

export const NEVER_LASER: readonly MaterialRule[] = [
  {
    what: "PVC, vinyl and other chlorinated or halogenated plastics",
    words:
      /\b(?:\w*pvc\w*|pvdc|vinyls?|poly ?vinyl(?:idene)? ?chlorid\w*|(?:poly)?chloroprene|neoprene|chlorinated|halogenated|brominated)\b/,
    reason: "it gives off hydrogen chloride or the like, which poisons people and eats the machine",
    source: "lab material list; university approved materials list; trade list",
  },
  {
    what: "faux leather and shelf film",
    words:
      /\b(?:(?:faux|artificial|imitation|synthetic|vegan|pu) leather|leather ?(?:ette|cloth)|pleather|shelf (?:film|liner|paper))\b/,
    reason: "it is mostly PVC, which gives off hydrogen chloride",
    source: "lab material list; trade list",
  },
  {
    what: "PTFE and other fluoropolymers",
    words:
      /\b(?:ptfe|fep|pfa|etfe|pvdf|fkm|poly ?tetra ?fluoro\w*|fluoro ?(?:polymer|plastic|carbon|elastomer)s?|fluorinated)\b/,
    reason: "it gives off hydrogen fluoride and fluorinated gases",
    source: "trade list; makerspace safety page",
  },
  {
    what: "ABS",
    words: /\b(?:abs|acrylonitrile butadiene styrene)\b/,
    reason: "it melts and burns, with hydrogen cyanide in its fume",
    source: "lab material list; trade list; maker safety page",
  },
  {
    what: "polycarbonate",
    words: /\b(?:poly ?carbonates?|(?<!\d )pc)\b/,
    reason: "it takes up the infrared beam, chars and flames instead of being cut",
    source: "lab material list; university approved materials list",
  },
  {
    what: "polystyrene foam and foam board",
    words:
      /\b(?:eps|xps|foam ?(?:board|core)|(?:expanded|extruded|foamed) (?:poly ?)?styrene|(?:poly ?styrene|styrene|ps)\b.*\bfoam(?:ed)?|foam(?:ed)?\b.*\b(?:poly ?styrene|styrene|ps))\b/,
    reason: "it catches fire, melts and drips burning: the first cause of laser fires",
    source: "lab material list; university approved materials list",
  },
  {
    what: "polypropylene and polyethylene foam",
    words:
      /\b(?:(?:poly ?propylene|poly ?ethylene|pp|pe)\b.*\bfoam(?:ed)?|foam(?:ed)?\b.*\b(?:poly ?propylene|poly ?ethylene|pp|pe)|epp|epe)\b/,
    reason: "it catches fire, melts and drips burning",
    source: "lab material list; university approved materials list",
  },
  {
    what: "HDPE",
    words: /\b(?:hdpe|pe ?hd|high density poly ?ethylene)\b/,
    reason: "it melts and catches fire",
    source: "lab material list; university approved materials list",
  },
  {
    what: "carbon fibre, fibreglass and epoxy or phenolic laminate",
    words:
      /\b(?:carbon ?fib(?:re|er)|cfrp|(?:fib(?:re|er) ?glass|glass ?fib(?:re|er))|gfrp|grp|fr 4|g 10|epoxy|srbp|phenolic (?:laminate|paper|board|sheet|resin))\b/,
    reason: "its resin gives off poisonous fume and its fibres fly, and it can not be cut through",
    source: "lab material list; trade list",
  },
  {
    what: "chrome-tanned leather",
    words: /\bchrome ?tan(?:ned)?\b/,
    reason: "its fume carries chromium VI",
    source: "trade list; makerspace safety page",
  },
  {
    what: "treated wood",
    words:
      /\b(?:pressure (?:treated|impregnated)|cca|creosoted?|(?<!(?:heat|thermally|oil|un) ?)treated (?:wood|timber|pine|spruce|larch|ply|plywood|softwood))\b/,
    reason: "its fume may carry arsenic and copper",
    source: "trade list; makerspace safety page",
  },
  {
    what: "lead or unknown paint",
    words: /\b(?:lead(?:ed)?|unknown) paint(?:ed)?\b/,
    reason: "its fume may carry lead",
    source: "trade list; makerspace safety page",
  },
  {
    what: "galvanised metal",
    words: /\b(?:galvani[sz]ed|zinc (?:plated|coated))\b/,
    reason: "its coat gives off zinc fume",
    source: "trade list; makerspace safety page",
  },
  {
    what: "plastic without a name",
    words:
      /\b(?:unknown|unlabell?ed|unidentified|mystery) (?:\w+ )?plastics?\b|^plastics?(?: sheet)?$/,
    reason:
      "it may look like acrylic and be polycarbonate, polystyrene or PVC; its safety data sheet decides",
    source: "makerspace list; makerspace wiki",
  },
];

export const LASER_CAUTIONS: readonly MaterialRule[] = [
  {
    what: "acrylic",
    words: /\b(?:acrylics?|pmma)\b/,
    reason:
      "Acrylic burns readily and with little smoke: never leave it while it is cut, keep the air assist on and an extinguisher at hand; its vapour is extracted outdoors or through a carbon filter",
    source: "acrylic processing tips, trade; acrylic fabrication manual",
  },
  {
    what: "MDF",
    words: /\b(?:mdf|medium density fib(?:re|er) ?board)\b/,
    reason:
      "MDF gives off fume from its glue when cut, and fine dust when sanded: cut it only with the extraction running and let the smoke clear before opening the lid",
    source: "school materials reference",
  },
  {
    what: "exterior plywood",
    words:
      /\b(?:phenolic (?:(?:glue|bonded|faced|film) )*ply(?:wood)?|(?:exterior|marine|wbp|film faced) (?:\w+ )?ply(?:wood)?)\b/,
    reason:
      "Plywood with exterior glue has patches that the beam does not cut, and its glue fume is stronger: try a piece first and do not answer with more passes than the sheet bears",
    source: "trade page; birch plywood mill data sheet",
  },
  {
    what: "corrugated card",
    words: /\b(?:corrugated|cardboard|fluted)\b/,
    reason:
      "Corrugated card is very likely to catch fire: watch every second of it, keep the bed clear of scraps and never stack sheets",
    source: "makerspace wiki",
  },
  {
    what: "polypropylene",
    words: /\b(?:poly ?propylene|pp)\b/,
    reason:
      "Lists disagree about solid polypropylene: it melts and burns, so ask whoever runs the machine and see its safety data sheet first",
    source: "trade list against makerspace safety page",
  },
  {
    what: "PETG",
    words: /\b(?:petg|pet g)\b/,
    reason: "PETG melts to a gummy edge and may flare: try a piece first and stay with it",
    source: "maker safety page",
  },
  {
    what: "polyurethane",
    words: /\b(?:poly ?urethane|pu)\b/,
    reason:
      "Polyurethane burns and may give off isocyanates: avoid it, or ask whoever runs the machine",
    source: "trade list",
  },
  {
    what: "leather",
    words: /\bleather\b/,
    reason:
      "Cut only leather known to be vegetable-tanned: chrome-tanned leather gives off chromium VI and must not be cut",
    source: "trade list; makerspace safety page",
  },
];

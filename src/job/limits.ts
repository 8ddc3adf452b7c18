/**
 * More than this is a slip of a digit, a point or a unit, and would go through to the price unseen.
 * No honest job of cut and painted sheet comes near (common practice, no source; from memory).
 */
export const MOST = {
  /** Any count without a limit of its own. */
  counted: 1_000_000,
  /** One price, rate or fee, in any currency. */
  money: 1_000_000_000,
  /** Of a part, sheet, roll, bar or bed: longer than any van. */
  sizeMm: 20_000,
  /** Foam board and blocks end at 100 mm or so. */
  thicknessMm: 200,
  /** Between and around pieces. */
  spacingMm: 500,
  /** Between engraved lines, and the width of a saw cut. */
  fineMm: 20,
  /** Of a regular polygon; more is a disc. */
  sides: 100,
  /** In one shape. */
  holes: 10_000,
  /** Between a slot and the sheet in it. */
  clearanceMm: 5,
  /** Copies of one part, lengths or fixings, in one piece commissioned. */
  each: 100_000,
  /** Often one thing is done: a task on a part, a coat on a face, a pass along a line. */
  times: 10_000,
  /** Across a bead of glue; the thickness of a film. */
  beadMm: 50,
  gluedCm2: 1_000_000,
  /** To one bolt. */
  washers: 20,
  coats: 50,
  passes: 100,
  /** A thousand hours. */
  minutes: 60_000,
  /** Until a machine is worn out. */
  lifeHours: 1_000_000,
  powerKw: 1000,
  /** That a service takes. */
  days: 365,
  /** On top for each day that a service is to be quicker. */
  rushPercent: 300,
  /** That a quote holds. */
  validDays: 1000,
  /** Of a design. */
  revisions: 100,
  /** To begin one contour. */
  pierceS: 600,
  /** Mirrors that steer a beam go up to some 10 m/s. */
  speedMmS: 20_000,
  accelerationMmS2: 10_000_000,
  /** Of sheet: lead has 11 340. */
  densityKgM3: 25_000,
  /** Of one parcel, or a metre of a section. */
  kg: 10_000,
  weightG: 1_000_000,
  /** Of a box that a carrier counts as a kg. */
  cm3PerKg: 100_000,
  /** One can, drum or abrasive. */
  contentMl: 1_000_000,
  spreadM2: 10_000,
  filmUm: 10_000,
  /** Nobody takes more thinner than paint thrice over. */
  thinnerPercent: 300,
  /** Until paint is hard: oil in the cold takes weeks. */
  cureHours: 2000,
  /** Of fixings bought on top. */
  sparePercent: 300,
} as const;

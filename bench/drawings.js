import { entityTable, unitTable } from "./drawings/entities.js";
import { kerfTable } from "./drawings/kerf.js";
import { largeTable } from "./drawings/large.js";
import { malformedTable } from "./drawings/malformed.js";
import { heading, say } from "./drawings/print.js";
import { againstLibraries } from "./drawings/references.js";
import { slotTable } from "./drawings/slots.js";

/**
 * What comes out of drawings, against libraries, closed forms and published trials: every number is
 * measured in this run. The slips, and the words that DXF is written in, are those of the tests,
 * compiled to `bench-out`. Exits 1 where something is wrong; slots that makers found otherwise are
 * only marked, since most of their kerfs are borrowed.
 */

const TABLES = [
  againstLibraries,
  entityTable,
  unitTable,
  largeTable,
  malformedTable,
  kerfTable,
  slotTable,
];

const wrong = TABLES.flatMap((print) => print());
heading(`${wrong.length} wrong, beside slots that differ from a trial`);
for (const one of wrong) say(one);
if (wrong.length > 0) process.exitCode = 1;

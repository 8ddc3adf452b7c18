import * as fc from "fast-check";
import { costingWorkbook } from "../dist/exports/costing-workbook.js";
import { HAS_LIBRE_OFFICE, recalculated } from "../bench-out/tests/helpers/libre-office.js";
import { sumFaults, withOneChanged, workbookFaults } from "../bench-out/tests/pricing/adds-up.js";
import { richJob } from "../bench-out/tests/pricing/rich-job.js";
import { run } from "../bench-out/tests/worked/tool-board.js";

/**
 * Jobs by lot, as many as the first argument says, from the seed that the second one says: lines,
 * taxes and stages have to add up, and the workbook of each, opened and worked out anew by LibreOffice,
 * has to have the same figures, as it is and with one rate changed. Exits 1 where one does not.
 */

const [COUNT = 1000, SEED = 1] = process.argv.slice(2).map(Number);
/** Workbooks that LibreOffice opens in one go; starting takes it longer than one workbook. */
const AT_ONCE = 100;

function say(text) {
  process.stdout.write(`${text}\n`);
}

function timed(what, work) {
  const start = performance.now();
  const done = work();
  say(`${what}: ${((performance.now() - start) / 1000).toFixed(1)} s`);
  return done;
}

/** @returns what is wrong with each. */
async function workbooksOf(estimates) {
  const pairs = estimates.flatMap((estimate, index) => {
    const changed = withOneChanged(estimate, ((index * 7919) % 1009) / 1009);
    return [
      { estimate, changed: null, book: estimate },
      { estimate, changed, book: changed.estimate },
    ];
  });
  const faults = [];
  for (let from = 0; from < pairs.length; from += AT_ONCE) {
    const some = pairs.slice(from, from + AT_ONCE);
    const opened = await recalculated(some.map(({ book }) => costingWorkbook(book)));
    for (const [index, { estimate, changed }] of some.entries())
      for (const fault of workbookFaults(estimate, opened[index], changed))
        faults.push(
          `job ${Math.floor((from + index) / 2)}, ${changed?.id ?? "as it is"}: ${fault}`,
        );
  }
  return { faults, books: pairs.length, rates: pairs.map(({ changed }) => changed?.id) };
}

const jobs = fc.sample(richJob, { numRuns: COUNT, seed: SEED });
const answers = timed(`${COUNT} jobs worked out`, () => jobs.map((job) => run(job)));
const estimates = answers.flatMap(({ value }) => value ?? []);
const refusals = answers.flatMap(({ value, problems }) =>
  value === null ? problems.filter(({ severity }) => severity === "error") : [],
);
say(
  `refused ${COUNT - estimates.length}: ${[...new Set(refusals.map(({ code }) => code))].join(", ")}`,
);
const sums = estimates.flatMap((estimate, index) =>
  sumFaults(estimate).map((fault) => `job ${index}: ${fault}`),
);
const total = (of) => estimates.reduce((sum, estimate) => sum + of(estimate), 0);
say(
  `lines ${total(({ quote }) => quote.length)}, figures ${total(({ figures }) => figures.length)}`,
);
say(`with stages ${estimates.filter(({ terms }) => terms.stages.length > 0).length}`);
say(
  `with several taxes ${estimates.filter(({ quote }) => quote.filter(({ kind }) => kind === "tax").length > 1).length}`,
);
say(`sums that do not add up: ${sums.length}`);
let wrong = sums;
if (HAS_LIBRE_OFFICE) {
  const start = performance.now();
  const { faults, books, rates } = await workbooksOf(estimates);
  say(`${books} workbooks in LibreOffice: ${((performance.now() - start) / 1000).toFixed(1)} s`);
  say(`different rates changed: ${new Set(rates).size - 1}`);
  say(`figures and amounts that differ: ${faults.length}`);
  wrong = [...sums, ...faults];
} else say("no soffice here: the workbooks were not opened");
for (const one of wrong.slice(0, 20)) say(one);
if (wrong.length > 0) process.exitCode = 1;

import { readdirSync, readFileSync } from "node:fs";
import { readPartGeometry } from "../../dist/drawing/parts.js";
import { decodeText } from "../../dist/files/decode.js";
import { readIntake } from "../../dist/job/intake.js";
import { isError, sentence } from "../../dist/problem.js";
import { DXF_SLIPS } from "../../bench-out/tests/drawing/malformed/dxf.js";
import { SVG_SLIPS } from "../../bench-out/tests/drawing/malformed/svg.js";
import { pageFrom, textsOf } from "../../bench-out/tests/job/malformed/pages.js";
import { tables } from "../../bench-out/tests/job/texts.js";
import { part } from "./part.js";
import { heading, say, table } from "./print.js";

/** The slips of `tests/drawing/malformed` and `tests/job/malformed`, read anew. */

const PAGES = new URL("../../tests/job/malformed/", import.meta.url);

function ofDrawing({ name, file, content, cell = file, rules = [] }) {
  const decoded = decodeText(file, Buffer.from(content));
  if (decoded.value === null) return { name, problems: decoded.problems };
  const [path, id = null] = cell.split("#");
  const { problems } = readPartGeometry([part(path, id)], [decoded.value], rules);
  return { name, problems: [...decoded.problems, ...problems] };
}

function ofJob(slip) {
  const given = { jobName: "gate", job: textsOf(slip), tables: tables() };
  return { name: slip.name, problems: readIntake(given, "quote").problems };
}

function jobPages() {
  const names = readdirSync(PAGES).filter((name) => name.endsWith(".txt"));
  return names.map((name) => ({
    name: name.replace(/\.txt$/, ""),
    slips: pageFrom(readFileSync(new URL(name, PAGES), "utf8")).slips.map(ofJob),
  }));
}

export function malformedTable() {
  const pages = [
    { name: "SVG drawings", slips: SVG_SLIPS.map(ofDrawing) },
    { name: "DXF drawings", slips: DXF_SLIPS.map(ofDrawing) },
    ...jobPages(),
  ];
  const all = { name: "all", slips: pages.flatMap(({ slips }) => slips) };
  heading(`${all.slips.length} malformed inputs`);
  table(
    ["inputs", "number", "refused", "read, noted", "sentences", "without a word"],
    [...pages, all].map(({ name, slips }) => [
      name,
      slips.length,
      count(slips, (problems) => problems.some(isError)),
      count(slips, (problems) => problems.length > 0 && !problems.some(isError)),
      slips.reduce((sum, { problems }) => sum + problems.length, 0),
      count(slips, (problems) => problems.length === 0),
    ]),
  );
  for (const { name, slips } of pages) {
    say(`\n${name}: the first sentence of each`);
    for (const slip of slips) say(`- ${slip.name}: ${firstOf(slip.problems)}`);
  }
  return all.slips.filter(({ problems }) => problems.length === 0).map(({ name }) => name);
}

function count(slips, is) {
  return slips.filter(({ problems }) => is(problems)).length;
}

function firstOf(problems) {
  const [first] = problems;
  if (first === undefined) return "NOTHING IS TOLD";
  return `${sentence(first)}${problems.length > 1 ? ` (+${problems.length - 1})` : ""}`;
}

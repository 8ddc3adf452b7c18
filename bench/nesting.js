import { existsSync } from "node:fs";
import { threadAide } from "../dist/threads/thread-aide.js";
import { bins } from "./nesting/bins.js";
import { circles } from "./nesting/circles.js";
import { say, SHARED } from "./nesting/common.js";
import { scale } from "./nesting/scale.js";
import { strips } from "./nesting/strips.js";

/**
 * Nests against published records, on the instances of `../shared/bench`:
 *
 *     npm run bench:nesting -- [strip|bins|circles|scale] [seconds] [seeds] [NAME ...]
 *
 * 60 s and seeds 1 to 3 unless said. Strips run as a roll of their width, their length along it;
 * density is the area of the pieces over width times length, beside the best published value and
 * the mean of the best published method (arXiv:2509.13329, tables 2 and 3; sources in the files).
 * Every nest is judged once more at the end; a fault ends the command with 1. `--wider` widens
 * strips and bins by 0.01 %, as that paper does; densities count the width as published. Circles go
 * by how many there are; `scale` nests so many generated pieces, and needs no instances.
 */

const KINDS = { strip: strips, bins, circles, scale };

function numberAt(words, index, otherwise) {
  const number = Number(words[index]);
  return Number.isFinite(number) && number > 0 ? number : otherwise;
}

const words = process.argv.slice(2).filter((word) => word !== "--wider");
const [kind = "strip"] = words;
const count = numberAt(words, 2, 3);
const aide = threadAide();
const settings = {
  seconds: numberAt(words, 1, 60),
  seeds: Array.from({ length: count }, (_, index) => index + 1),
  names: words.slice(3),
  wider: process.argv.includes("--wider"),
  aide,
};
if (kind !== "scale" && !existsSync(SHARED))
  say("../shared/bench is not there: nothing to measure against.");
else (KINDS[kind] ?? strips)(settings);
aide?.close();

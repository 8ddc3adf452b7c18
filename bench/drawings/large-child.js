import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { readPartGeometry } from "../../dist/drawing/parts.js";
import { decodeText } from "../../dist/files/decode.js";
import { part } from "./part.js";

/** Reads the drawing it is given as one part, and says what that took: `{ seconds, peakMb ... }`. */

const start = performance.now();
const [, , path] = process.argv;
const name = basename(path);
const { value: text } = decodeText(name, readFileSync(path));
const { value } = readPartGeometry([part(name)], [text], []);
const seconds = (performance.now() - start) / 1000;
const peakMb = process.resourceUsage().maxRSS / 1024;
const [{ holes, cutLengthMm, areaMm2 }] = value;
process.stdout.write(
  JSON.stringify({ seconds, peakMb, holes: holes.length, lengthMm: cutLengthMm, areaMm2 }),
);

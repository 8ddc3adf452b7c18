import { gzipSync } from "node:zlib";
import { page, rule } from "../reading.ts";
import type { Slip } from "./slip.ts";

const PLATE = `<rect width="60" height="40"/>`;

function svg(content: string): Slip["content"] {
  return page(content);
}

/** One byte more than is unpacked. */
const TOO_LARGE = 64 * 1024 * 1024 + 1;

/** Nine copies of nine copies, and so on. */
const LAUGHS = Array.from(
  { length: 9 },
  (_, depth) => `<!ENTITY l${depth + 1} "${`&l${depth};`.repeat(9)}">`,
);

const USES = Array.from(
  { length: 9 },
  (_, depth) => `<g id="u${depth + 1}">${`<use href="#u${depth}"/>`.repeat(9)}</g>`,
);

/** Drawings in SVG as they go wrong. */
export const SVG_SLIPS: readonly Slip[] = [
  { name: "an empty file", file: "a.svg", content: "" },
  { name: "a file that breaks off", file: "a.svg", content: page(PLATE).slice(0, -20) },
  { name: "a file that breaks off in a tag", file: "a.svg", content: page(PLATE).slice(0, 120) },
  {
    name: "a web page",
    file: "a.svg",
    content: "<!DOCTYPE html><html><body><p>Not found</p></body></html>",
  },
  { name: "plain text", file: "a.svg", content: "bird, 60 x 40 mm" },
  {
    name: "a packed drawing that breaks off",
    file: "a.svgz",
    content: gzipSync(page(PLATE)).subarray(0, 60),
  },
  {
    name: "a packed drawing far too large",
    file: "a.svgz",
    content: gzipSync(Buffer.alloc(TOO_LARGE)),
  },
  { name: "a picture", file: "a.svg", content: Buffer.from("\u0089PNG\r\n\u001a\n", "latin1") },
  {
    name: "a drawing in UTF-16 that breaks off",
    file: "a.svg",
    content: Buffer.from(`\uFEFF${page(PLATE)}`, "utf16le").subarray(0, 99),
  },
  {
    name: "a letter in another encoding",
    file: "a.svg",
    content: Buffer.from(page(`<g id="St\xfcck">${PLATE}</g>`), "latin1"),
  },
  { name: "a drawing of another program", file: "a.svg", content: page(PLATE), cell: "bird.cdx" },
  {
    name: "a file that is not there",
    file: "drawings/heron.svg",
    content: page(PLATE),
    cell: "heron.svg",
  },
  {
    name: "an id a slip away",
    file: "a.svg",
    content: svg(`<g id="heron">${PLATE}</g>`),
    cell: "a.svg#herno",
  },
  {
    name: "an id on two elements",
    file: "a.svg",
    content: svg(`<g id="a">${PLATE}</g><g id="a">${PLATE}</g>`),
    cell: "a.svg#a",
  },
  {
    name: "an id that is hidden",
    file: "a.svg",
    content: svg(`<g display="none"><g id="a">${PLATE}</g></g>${PLATE}`),
    cell: "a.svg#a",
  },
  {
    name: "an outline number too high",
    file: "a.svg",
    content: svg(PLATE),
    cell: "a.svg#outline-3",
  },
  { name: "nothing drawn", file: "a.svg", content: svg("") },
  {
    name: "everything scored",
    file: "a.svg",
    content: svg(`<path class="s" d="M0 0h9"/>`),
    rules: [rule("class", "s", "score")],
  },
  {
    name: "text, and an outline that is open",
    file: "a.svg",
    content: svg(`<text x="5" y="9">Heron</text><polyline points="0,0 60,0 60,40" stroke="red"/>`),
  },
  {
    name: "text, and several outlines",
    file: "a.svg",
    content: svg(`${PLATE}<text x="5" y="9">Heron</text><circle cx="90" cy="20" r="9"/>`),
  },
  { name: "nothing but text", file: "a.svg", content: svg(`<text x="5" y="9">Heron</text>`) },
  {
    name: "a path that can not be read, and a line that may be open for its sake",
    file: "a.svg",
    content: svg(`<path d="M0,0 L60"/><polyline points="0,0 60,0 60,40" stroke="red"/>`),
  },
  { name: "text", file: "a.svg", content: svg(`${PLATE}<text x="5" y="9">Heron</text>`) },
  {
    name: "a picture inside the drawing",
    file: "a.svg",
    content: svg(`${PLATE}<image href="bird.png" width="9" height="9"/>`),
  },
  { name: "a clip", file: "a.svg", content: svg(`<g clip-path="url(#c)">${PLATE}</g>`) },
  { name: "a gap in the outline", file: "a.svg", content: svg(`<path d="M0 0H60V40H0V0.7"/>`) },
  {
    name: "a gap between two lines",
    file: "a.svg",
    content: svg(`<path d="M0 0H60V40"/><path d="M60 40.3H0V0"/>`),
  },
  {
    name: "an outline that crosses itself",
    file: "a.svg",
    content: svg(`<path d="M0 0L60 40V0L0 40z"/>`),
  },
  {
    name: "a hole over the edge",
    file: "a.svg",
    content: svg(`${PLATE}<circle cx="60" cy="20" r="3"/>`),
  },
  { name: "an outline without area", file: "a.svg", content: svg(`<path d="M0 0H60H0z"/>`) },
  { name: "a circle without size", file: "a.svg", content: svg(`<circle cx="9" cy="9" r="0"/>`) },
  {
    name: "a negative radius",
    file: "a.svg",
    content: svg(`${PLATE}<circle cx="9" cy="9" r="-3"/>`),
  },
  {
    name: "a width that is no number",
    file: "a.svg",
    content: svg(`<rect width="NaN" height="40"/>`),
  },
  {
    name: "path data with a letter too many",
    file: "a.svg",
    content: svg(`<path d="M0 0 H60 V40 W3 z"/>`),
  },
  {
    name: "path data with a number too few",
    file: "a.svg",
    content: svg(`<path d="M0 0 L60 z"/>`),
  },
  { name: "path data that is NaN", file: "a.svg", content: svg(`<path d="M0 0 LNaN 5 9 9z"/>`) },
  { name: "points of odd number", file: "a.svg", content: svg(`<polygon points="0,0 60,0 60"/>`) },
  { name: "a drawing far off", file: "a.svg", content: svg(`<path d="M1e9 0h60v40h-60z"/>`) },
  { name: "a number beyond all", file: "a.svg", content: svg(`<rect width="1e999" height="40"/>`) },
  {
    name: "a page without size",
    file: "a.svg",
    content: `<svg xmlns="http://www.w3.org/2000/svg">${PLATE}</svg>`,
  },
  { name: "a page of no size", file: "a.svg", content: page(PLATE).replace('"200mm"', '"0mm"') },
  {
    name: "a page in a unit that is none",
    file: "a.svg",
    content: page(PLATE).replace('"200mm"', '"200 millimeters"'),
  },
  {
    name: "a viewBox of three numbers",
    file: "a.svg",
    content: page(PLATE).replace("0 0 200 100", "0 0 200"),
  },
  {
    name: "a transform that is none",
    file: "a.svg",
    content: svg(`<g transform="turn(45)">${PLATE}</g>`),
  },
  {
    name: "entities within entities",
    file: "a.svg",
    content: `<!DOCTYPE svg [<!ENTITY l0 "ha">${LAUGHS.join("")}]>${page("<title>&l9;</title>")}`,
  },
  {
    name: "an entity in a file",
    file: "a.svg",
    content: `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${page("<title>&x;</title>")}`,
  },
  {
    name: "copies within copies",
    file: "a.svg",
    content: svg(`<defs><path id="u0" d="M0 0h1v1z"/>${USES.join("")}</defs><use href="#u9"/>`),
  },
  { name: "a copy of itself", file: "a.svg", content: svg(`<g id="a"><use href="#a"/></g>`) },
  { name: "a copy of nothing", file: "a.svg", content: svg(`${PLATE}<use href="#bird"/>`) },
  {
    name: "a copy from another file",
    file: "a.svg",
    content: svg(`${PLATE}<use href="other.svg#bird"/>`),
  },
  {
    name: "groups without end",
    file: "a.svg",
    content: svg("<g>".repeat(5000) + PLATE + "</g>".repeat(5000)),
  },
  {
    name: "two pieces as one part",
    file: "a.svg",
    content: svg(`${PLATE}<rect x="80" width="20" height="20"/>`),
  },
  {
    name: "a piece inside a hole",
    file: "a.svg",
    content: svg(
      `${PLATE}<rect x="9" y="9" width="20" height="20"/><rect x="12" y="12" width="9" height="9"/>`,
    ),
  },
  { name: "the same outline twice", file: "a.svg", content: svg(PLATE + PLATE) },
  { name: "a speck", file: "a.svg", content: svg(`${PLATE}<path d="M70 5h0.02"/>`) },
  {
    name: "a hole too small to cut",
    file: "a.svg",
    content: svg(`${PLATE}<circle cx="20" cy="20" r="0.5"/>`),
  },
  {
    name: "a web too thin to stand",
    file: "a.svg",
    content: svg(`${PLATE}<rect x="0.3" y="5" width="20" height="20"/>`),
  },
  {
    name: "a line without colour",
    file: "a.svg",
    content: svg(`${PLATE}<path fill="none" d="M5 5h9v9z"/>`),
  },
  {
    name: "a line of opacity 0, and a layer that is switched off",
    file: "a.svg",
    content: svg(
      `${PLATE}<g opacity="0"><path stroke="red" d="M5 5h9v9z"/></g><g style="display:none"><circle cx="30" cy="20" r="3"/><text>note</text><use href="#a"/></g>`,
    ),
  },
  {
    name: "a border around the page",
    file: "a.svg",
    content: svg(`<rect width="200" height="100"/><rect x="9" y="9" width="120" height="80"/>`),
  },
  {
    name: "a border around a page with a holed part",
    file: "a.svg",
    content: svg(
      `<rect width="200" height="100"/><rect x="9" y="9" width="120" height="80"/><circle cx="30" cy="30" r="5"/><circle cx="60" cy="30" r="5"/>`,
    ),
  },
  {
    name: "a mark misspelt",
    file: "a.svg",
    content: svg(`${PLATE}<path class="engraved" d="M5 5h9v9h-9z"/>`),
    rules: [rule("class", "engravd", "engrave")],
  },
  {
    name: "an engraving that is open",
    file: "a.svg",
    content: svg(`${PLATE}<path class="e" d="M5 5h9v9"/>`),
    rules: [rule("class", "e", "engrave")],
  },
  {
    name: "a score outside",
    file: "a.svg",
    content: svg(`${PLATE}<path class="s" d="M70 5h9"/>`),
    rules: [rule("class", "s", "score")],
  },
];

import svgpath from "svgpath";
import { endpointArc } from "../../geometry/ellipse.ts";
import { samePoint } from "../../geometry/point.ts";
import type { Path, Point, Segment } from "../../geometry/types.ts";

/** The subpaths of a `d` attribute in user units, or what is wrong with it. */
export type PathData = { readonly paths: readonly Path[] } | { readonly fault: string };

/** Reads path data (SVG 1.1 section 8.3); quadratic curves become cubics exactly. */
export function readPathData(d: string): PathData {
  if (d.trim() === "" || d.trim() === "none") return { paths: [] };
  const parsed = new svgpath(withLettersRepeated(d));
  const fault = parseFault(parsed);
  if (fault !== null) return { fault };
  const pen = new Pen();
  parsed
    .abs()
    .unshort()
    .iterate((command) => pen.draw(command));
  return pen.unread === null ? { paths: pen.finish() } : { fault: `command ${pen.unread}` };
}

const LONG_RUN = 4000;
const COMMAND = /(?=[mlhvcsqtaz])/i;
const ARGUMENT = /\s*,?\s*[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?/gi;
const ARGUMENTS: Readonly<Record<string, number>> = { h: 1, v: 1, c: 6, s: 4, q: 4 };
const GROUPS_IN_A_RUN = 100;

/**
 * The library's time for one command grows with the square of its run of numbers, so in long runs
 * the letter, which may be left out, is written now and then.
 */
function withLettersRepeated(d: string): string {
  if (d.length < LONG_RUN) return d;
  const commands = d.split(COMMAND);
  return commands.map((one) => (one.length < LONG_RUN ? one : inShortRuns(one))).join("");
}

function inShortRuns(command: string): string {
  const letter = command.charAt(0);
  // The flags of arcs need no blanks between them, so that their numbers can not be told here.
  if (!/[mlhvcsqt]/i.test(letter)) return command;
  // After its first pair a moveto goes on as lineto.
  const next = letter === "M" ? "L" : letter === "m" ? "l" : letter;
  const every = GROUPS_IN_A_RUN * (ARGUMENTS[letter.toLowerCase()] ?? 2);
  let count = -1;
  return command.replace(ARGUMENT, (written) => {
    count++;
    return count > 0 && count % every === 0 ? next + written.replace(/^\s*,?/, "") : written;
  });
}

/** The library says why it stopped in a field that its types leave out. */
function parseFault(parsed: object): string | null {
  const message = "err" in parsed && typeof parsed.err === "string" ? parsed.err : "";
  return message === "" ? null : plainFault(message.replace(/^SvgPath: /, ""));
}

/** In words for somebody who draws: `no number at character 9`. */
function plainFault(message: string): string {
  const [, what = message, at] = /^(.*?)(?: \(at pos (\d+)\))?$/s.exec(message) ?? [];
  const words = /^(?:param should|missed param)/.test(what) ? "no number" : what;
  return at === undefined ? words : `${words} at character ${Number(at) + 1}`;
}

class Pen {
  /** The first command that is not of SVG 1.1. */
  unread: string | null = null;
  #paths: Path[] = [];
  #start: Point = { x: 0, y: 0 };
  #here: Point = { x: 0, y: 0 };
  #segments: Segment[] = [];

  draw(command: readonly (string | number)[]): void {
    const [name, ...values] = command;
    const [p1 = 0, p2 = 0, p3 = 0, p4 = 0, p5 = 0, p6 = 0, p7 = 0] = values.map(Number);
    const from = this.#here;
    if (name === "M") this.#moveTo({ x: p1, y: p2 });
    else if (name === "L") this.#add({ kind: "line", to: { x: p1, y: p2 } });
    else if (name === "H") this.#add({ kind: "line", to: { x: p1, y: from.y } });
    else if (name === "V") this.#add({ kind: "line", to: { x: from.x, y: p1 } });
    else if (name === "C") this.#add(cubic({ x: p1, y: p2 }, { x: p3, y: p4 }, { x: p5, y: p6 }));
    else if (name === "Q") this.#add(raised(from, { x: p1, y: p2 }, { x: p3, y: p4 }));
    else if (name === "A") {
      const flags = { largeArc: p4 === 1, sweep: p5 === 1, to: { x: p6, y: p7 } };
      this.#add(...endpointArc(from, { radiusX: p1, radiusY: p2, rotationDeg: p3, ...flags }));
    } else if (name === "Z") this.#close();
    else this.unread ??= String(name);
  }

  finish(): readonly Path[] {
    this.#lift(false);
    return this.#paths;
  }

  #moveTo(point: Point): void {
    this.#lift(false);
    this.#start = point;
    this.#here = point;
  }

  #add(...segments: readonly Segment[]): void {
    this.#segments.push(...segments);
    this.#here = segments.at(-1)?.to ?? this.#here;
  }

  #close(): void {
    const isBack = samePoint(this.#here, this.#start) && this.#segments.length > 0;
    if (!isBack) this.#add({ kind: "line", to: this.#start });
    this.#lift(true);
    this.#here = this.#start;
  }

  #lift(closed: boolean): void {
    if (this.#segments.length > 0)
      this.#paths.push({ start: this.#start, segments: this.#segments, closed });
    this.#segments = [];
  }
}

function cubic(control1: Point, control2: Point, to: Point): Segment {
  return { kind: "cubic", control1, control2, to };
}

/** Degree elevation: the same curve with the controls two thirds of the way to the old one. */
function raised(from: Point, control: Point, to: Point): Segment {
  return cubic(twoThirds(from, control), twoThirds(to, control), to);
}

function twoThirds(end: Point, control: Point): Point {
  return { x: end.x + (2 * (control.x - end.x)) / 3, y: end.y + (2 * (control.y - end.y)) / 3 };
}

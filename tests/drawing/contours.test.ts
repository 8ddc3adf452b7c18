import { describe, expect, it } from "vitest";
import { legsOf } from "../../src/geometry/path.ts";
import { onlyProblem, page, readOne, readSvgText } from "./reading.ts";

describe("cut lines", () => {
  it("that are loose are joined end to end, whichever way each runs", () => {
    const { areaMm2, cutLengthMm, outline } = readOne(
      page(`
        <line x1="10" y1="10" x2="60" y2="10"/>
        <line x1="10" y1="40" x2="10" y2="10"/>
        <path d="M60 40L60.02 10.01"/>
        <polyline points="60,40.03 30,40 10,40"/>`),
    );
    // Ends move by up to 0.03 mm over sides of up to 50 mm.
    expect(Math.abs(areaMm2 - 1500)).toBeLessThan(1.5);
    expect(Math.abs(cutLengthMm - 160)).toBeLessThan(0.1);
    expect(outline.closed).toBe(true);
  });

  it("join arcs without making them anything else", () => {
    const { areaMm2, outline } = readOne(
      page(`<path d="M20 50A30 30 0 0 1 80 50"/><path d="M80 50.03A30 30 0 0 1 20 50.02"/>`),
    );
    expect(outline.segments.map(({ kind }) => kind)).toEqual(["arc", "arc"]);
    expect(areaMm2 / (900 * Math.PI)).toBeCloseTo(1, 2);
  });

  it("join arcs that are moved to meet and leave them circular", () => {
    const { outline } = readOne(page(`<path d="M20 50A30 30 0 0 1 80 50V90H20V50.04"/>`));
    const loose = readOne(
      page(`<path d="M20 50A30 30 0 0 1 80 50"/><path d="M80.03 50.02V90H20V50"/>`),
    );
    for (const leg of [...legsOf(outline), ...legsOf(loose.outline)]) {
      if (leg.segment.kind !== "arc") continue;
      const { centre, to } = leg.segment;
      const radii = [leg.from, to].map(({ x, y }) => Math.hypot(x - centre.x, y - centre.y));
      expect(radii[0]).toBeCloseTo(radii[1] ?? 0, 9);
      expect(radii[0]).toBeCloseTo(30, 1);
    }
    expect(legsOf(loose.outline).map(({ segment }) => segment.kind)).toContain("arc");
  });

  it("are specks below 0.1 mm along their curve, not along their chords", () => {
    const plate = `<rect width="60" height="40"/>`;
    const codes = (d: string): readonly string[] =>
      readSvgText(page(`${plate}<path d="${d}"/>`)).problems.map(({ code }) => code);
    expect(codes("M9 9h0.09")).toEqual(["contour-speck"]);
    expect(codes("M9 9h0.11")).toEqual(["contour-open"]);
    // Half a circle over a chord of 0.07 mm is 0.11 mm long, over one of 0.06 mm 0.094 mm.
    expect(codes("M9 9a0.035 0.035 0 0 1 0.07 0")).toEqual(["contour-open"]);
    expect(codes("M9 9a0.03 0.03 0 0 1 0.06 0")).toEqual(["contour-speck"]);
  });

  it("go on with the nearest end of several", () => {
    // Two squares whose corners lie 0.036 mm apart: each closes in itself.
    const near = [`M10 10H50V50`, `M50 50H10V10`, `M90 90H50.03V50.02`, `M50.03 50.02H90V90`];
    const read = readSvgText(page(near.map((d) => `<path d="${d}"/>`).join("")));
    expect(onlyProblem(read).code).toBe("outline-several");
  });

  it("whose ends meet within 0.05 mm are closed, with z or without", () => {
    for (const end of ["L10.03 10.02", "L10.03 10.02z", "L10 10", "z"]) {
      const { outline, region } = readOne(page(`<path d="M10 10H60V40H10${end}"/>`));
      expect(outline.closed).toBe(true);
      expect(outline.segments.at(-1)?.to).toEqual(outline.start);
      expect(region.outer).toHaveLength(4);
    }
  });

  it("keep their curves when their ends are drawn together", () => {
    // A nearly full circle gets a short line; a long curve is turned by a hair.
    const ring = readOne(page(`<path d="M60 50A10 10 0 1 1 60 49.97"/>`));
    expect(ring.outline.segments.map(({ kind }) => kind).toSorted()).toEqual(["arc", "line"]);
    expect(ring.areaMm2).toBeCloseTo(100 * Math.PI, 1);
    const petal = readOne(page(`<path d="M20 50Q60 10 100 50C80 90 40 90 20.03 50.02"/>`));
    expect(petal.outline.segments.map(({ kind }) => kind)).toEqual(["cubic", "cubic"]);
    const exact = readOne(page(`<path d="M20 50Q60 10 100 50C80 90 40 90 20 50"/>`));
    expect(Math.abs(petal.areaMm2 - exact.areaMm2)).toBeLessThan(0.03 * 80);
  });

  it("that stay open are told with the place and the gap", () => {
    const problem = onlyProblem(readSvgText(page(`<path id="b" d="M10 10H60V40H10V10.3"/>`)));
    expect(problem).toMatchObject({
      code: "contour-open",
      file: "a.svg",
      line: 2,
      column: 'path "b"',
    });
    expect(problem.found).toBe(
      "an open line from 10, 90 mm to 10, 89.7 mm, with a gap of 0.3 mm to its own start",
    );
  });

  it("that stay open in great number are told in five and one problems", () => {
    const lines = Array.from({ length: 12 }, (_, i) => `<path d="M${10 + 9 * i} 5v5"/>`);
    const { problems } = readSvgText(page(lines.join("\n")));
    expect(problems.map(({ code, line }) => [code, line])).toEqual(
      [2, 3, 4, 5, 6, 7].map((line) => ["contour-open", line]),
    );
    expect(problems[5]?.found).toBe("7 more open lines, the first at 55, 95 mm");
  });

  it("shorter than 0.1 mm are left out with a warning", () => {
    const read = readSvgText(
      page(`<rect width="50" height="50"/><path d="M90 90h0.05"/><path d="M9 9z"/>`),
    );
    expect(onlyProblem(read)).toMatchObject({
      code: "contour-speck",
      severity: "warning",
      found: "2 lines of up to 0.05 mm at 9, 91 mm; 90, 10 mm",
    });
    expect(read.value?.[0]?.cutLengthMm).toBe(200);
  });

  it("drawn twice are cut once, also reversed, shifted by a hair or made of other pieces", () => {
    const twins = [
      `<circle cx="50" cy="50" r="10"/>`,
      `<path d="M60 50A10 10 0 1 0 40 50 10 10 0 1 0 60 50z"/>`,
      `<circle cx="50.005" cy="50" r="10"/>`,
      `<path d="M60 50C60 55.52285 55.52285 60 50 60S40 55.52285 40 50 44.47715 40 50 40 60 44.47715 60 50z"/>`,
    ];
    for (const twin of twins) {
      const read = readSvgText(
        page(`<rect width="99" height="99"/><circle cx="50" cy="50" r="10"/>\n${twin}`),
      );
      expect(onlyProblem(read)).toMatchObject({
        code: "contour-twice",
        severity: "warning",
        line: 3,
      });
      expect(read.value?.[0]?.holes).toHaveLength(1);
    }
    const loose = `<path d="M0 0H50V50H0"/><line x1="0" y1="50" x2="0" y2="0"/><line x1="0" y1="0" x2="0" y2="50"/>`;
    expect(onlyProblem(readSvgText(page(loose))).code).toBe("contour-twice");
  });

  it("as near as 0.1 mm are two cuts", () => {
    const read = readOne(
      page(`<circle cx="50" cy="50" r="20"/><circle cx="50" cy="50" r="19.9"/>`),
    );
    expect(read.holes).toHaveLength(1);
  });
});

function zigzag(peaks: number): string {
  return Array.from(
    { length: peaks },
    (_, peak) => `L${20 + 10 * peak} ${peak % 2 === 0 ? 60 : 40}`,
  ).join("");
}

describe("outline and holes", () => {
  it.each([
    ["outline-several", `<rect width="20" height="20"/>\n<rect x="30" width="20" height="20"/>`, 3],
    [
      "contour-island",
      `<rect width="90" height="90"/><circle cx="40" cy="40" r="30"/>\n<circle cx="40" cy="40" r="9"/>`,
      3,
    ],
    ["contour-crossing", `<rect width="50" height="50"/>\n<circle cx="50" cy="25" r="5"/>`, 3],
    ["contour-crossing", `<path d="M0 0L50 50V0L0 50Z"/>`, 2],
    ["part-degenerate", `<path d="M0 0H50Z"/>`, 2],
    ["outline-missing", `<g/>`, 1],
  ])("%s", (code, content, line) => {
    expect(onlyProblem(readSvgText(page(content)))).toMatchObject({
      code,
      line,
      severity: "error",
    });
  });

  it("say where contours cross", () => {
    const problem = onlyProblem(readSvgText(page(`<path d="M0 0L50 50V0L0 50Z"/>`)));
    expect(problem.found).toContain("25, 75 mm");
  });

  it("are told with all places where they cross, five at most, each once", () => {
    // A zigzag there and a straight line back: worked by hand, it crosses every 10 mm from 15.
    const twice = readSvgText(page(`<path d="M10 40${zigzag(2)}L40 50L10 50Z"/>`));
    expect(onlyProblem(twice).found).toBe(
      "a contour that crosses or touches itself at 15, 50 mm; 25, 50 mm",
    );
    const often = readSvgText(page(`<path d="M10 40${zigzag(9)}L120 50L10 50Z"/>`));
    expect(onlyProblem(often).found).toMatch(/at 15, 50 mm; 25, 50 mm; .*; and 4 more places$/);
  });

  it("are told of for each two contours that cross", () => {
    const rects = [10, 40, 70].map((x) => `<rect x="${x}" y="-5" width="10" height="20"/>`);
    const { problems } = readSvgText(
      page(`<rect y="5" width="150" height="50"/>\n${rects.join("\n")}`),
    );
    expect(problems.map(({ code, line }) => [code, line])).toEqual([
      ["contour-crossing", 3],
      ["contour-crossing", 4],
      ["contour-crossing", 5],
    ]);
    expect(problems[0]?.found).toContain("the one of line 2 at 10, 95 mm; 20, 95 mm");
  });

  it("come out in any order of drawing", () => {
    const { holes, areaMm2 } = readOne(
      page(
        `<rect x="10" y="10" width="5" height="5"/><rect width="90" height="90"/><rect x="30" y="10" width="5" height="5"/>`,
      ),
    );
    expect(holes).toHaveLength(2);
    expect(areaMm2).toBe(8050);
  });

  it("of 2400 holes are nested within the time limit", () => {
    const holes = Array.from(
      { length: 2400 },
      (_, i) =>
        `<circle cx="${2 + 3.2 * (i % 60)}" cy="${1.5 + 2.4 * Math.floor(i / 60)}" r="0.8"/>`,
    );
    expect(
      readOne(page(`<rect width="200" height="100"/>${holes.join("")}`)).roundHoles,
    ).toHaveLength(2400);
  });
});

describe("round holes", () => {
  it("are found from circles, arcs, cubics and fine polygons, to 0.01 mm", () => {
    const hexecontagon = Array.from({ length: 60 }, (_, i) => {
      const angle = (2 * Math.PI * i) / 60;
      return `${(50 + 2.75 * Math.cos(angle)).toFixed(5)},${(50 + 2.75 * Math.sin(angle)).toFixed(5)}`;
    });
    const holes = [
      `<circle cx="50" cy="50" r="2.75"/>`,
      `<path d="M47.25 50a2.75 2.75 0 1 0 5.5 0a2.75 2.75 0 1 0-5.5 0z"/>`,
      `<path transform="translate(50 50) scale(2.75)" d="M1 0C1 .5523 .5523 1 0 1S-1 .5523-1 0-.5523-1 0-1 1-.5523 1 0z"/>`,
      `<polygon points="${hexecontagon.join(" ")}"/>`,
    ];
    for (const hole of holes) {
      const { roundHoles } = readOne(page(`<rect width="99" height="99"/>${hole}`));
      expect(roundHoles).toHaveLength(1);
      expect(roundHoles[0]?.diameterMm).toBeCloseTo(5.5, 2);
      expect(roundHoles[0]?.centre.x).toBeCloseTo(50, 2);
      expect(roundHoles[0]?.centre.y).toBeCloseTo(50, 2);
    }
  });

  it("are not squares, hexagons, slots or half moons, however small", () => {
    const others = [
      `<rect x="50" y="50" width="0.4" height="0.4"/>`,
      `<polygon points="0.6,0 0.42426,0.42426 0,0.6 -0.42426,0.42426 -0.6,0 -0.42426,-0.42426 0,-0.6 0.42426,-0.42426" transform="translate(50 50)"/>`,
      `<polygon points="52,50 51,51.732 49,51.732 48,50 49,48.268 51,48.268"/>`,
      `<rect x="50" y="50" width="5.3" height="5" rx="2.5"/>`,
      `<path d="M50 50a2.5 2.5 0 0 1 5 0z"/>`,
      `<ellipse cx="50" cy="50" rx="2.5" ry="2.38"/>`,
    ];
    for (const other of others) {
      const { holes, roundHoles } = readOne(page(`<rect width="99" height="99"/>${other}`));
      expect(holes).toHaveLength(1);
      expect(roundHoles).toEqual([]);
    }
  });
});

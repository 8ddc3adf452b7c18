import { SaxesParser } from "saxes";
import { svgPathProperties } from "svg-path-properties";
import { describe, expect, it } from "vitest";
import type { TimedStock } from "../../src/estimate-data.ts";
import { layoutOf } from "../../src/exports/layout.ts";
import { layoutSvg } from "../../src/exports/layout-svg.ts";
import { pathArea, pathLength } from "../../src/geometry/path.ts";
import { posePoint, poseRegion } from "../../src/geometry/pose.ts";
import { pointInRing } from "../../src/geometry/ring.ts";
import type { Path, Point } from "../../src/geometry/types.ts";
import { timeSheet } from "../../src/machine/sheet-time.ts";
import { sheetWork } from "../../src/machine/work.ts";
import { feed, machine } from "../machine/samples.ts";
import { GEOMETRY, LEFT, NASTY_NAME, OFFCUT, PLACEMENTS, STOCK } from "./layout-sample.ts";

interface Element {
  readonly name: string;
  readonly group: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const HEIGHT = 150;

/** Every element with the group that it is in; saxes throws where the XML is not well formed. */
function read(svg: string): Element[] {
  const elements: Element[] = [];
  const open: Element[] = [];
  const parser = new SaxesParser();
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element = { name, group: open.at(-1)?.attributes["id"] ?? "", attributes };
    elements.push(element);
    open.push(element);
  });
  parser.on("closetag", () => open.pop());
  parser.write(svg).close();
  return elements;
}

const elements = read(layoutSvg(STOCK, 0, GEOMETRY));

/** The path elements of one copy in one group, as an independent library reads them. */
function drawn(
  group: string,
  part: string,
  copy: number,
): InstanceType<typeof svgPathProperties>[] {
  return elements
    .filter(({ attributes }) => attributes["data-part"] === part)
    .filter((each) => each.group === group && each.attributes["data-copy"] === String(copy))
    .map(({ attributes }) => new svgPathProperties(attributes["d"]!));
}

/** On the sheet again: y up. */
const onSheet = ({ x, y }: Point): Point => ({ x, y: HEIGHT - y });

describe("layoutSvg", () => {
  it("is at true size, with a group for each operation", () => {
    expect(elements[0]!.attributes).toMatchObject({
      version: "1.1",
      width: "200mm",
      height: "150mm",
      viewBox: "0 0 200 150",
    });
    const groups = elements
      .filter(({ name }) => name === "g")
      .map(({ attributes }) => attributes["id"]);
    expect(groups).toEqual(["sheet", "engrave", "score", "cut", "label"]);
    const ids = elements.flatMap(({ attributes }) => attributes["id"] ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^[A-Za-z_][\w.-]*$/);
  });

  // Judged by svg-path-properties: length, and the point reached at the end of every segment.
  it("shows each copy as it lies on the sheet, never its mirror image", () => {
    let judged = 0;
    for (const placement of PLACEMENTS) {
      const { outline, holes, scores } = GEOMETRY.get(placement.part)!;
      const cut = drawn("cut", placement.part, placement.copy);
      const scored = drawn("score", placement.part, placement.copy);
      expect([cut.length, scored.length]).toEqual([holes.length + 1, scores.length]);
      for (const [index, path] of [...holes, outline, ...scores].entries()) {
        const seen = [...cut, ...scored][index]!;
        expect(seen.getTotalLength()).toBeCloseTo(pathLength(path), 3);
        for (const { way, point } of stations(path)) {
          judged += 1;
          const [found, expected] = [
            onSheet(seen.getPointAtLength(way)),
            posePoint(placement, point),
          ];
          expect(Math.hypot(found.x - expected.x, found.y - expected.y)).toBeLessThan(0.002);
        }
      }
    }
    expect(judged).toBeGreaterThan(35);
  });

  it("keeps areas, and turns mirrored outlines round", () => {
    for (const placement of PLACEMENTS) {
      const seen = drawn("cut", placement.part, placement.copy).at(-1)!;
      const total = seen.getTotalLength();
      const points = Array.from({ length: 4000 }, (_, i) =>
        onSheet(seen.getPointAtLength((total * i) / 4000)),
      );
      const area = pathArea(GEOMETRY.get(placement.part)!.outline) * (placement.mirrored ? -1 : 1);
      expect(polygonArea(points) / area).toBeCloseTo(1, 3);
    }
  });

  it("keeps curves as curves", () => {
    const data = elements.flatMap(({ attributes }) => attributes["d"] ?? []).join(" ");
    expect(data.match(/C/g)).toHaveLength(2);
    // In thirds of a turn at most: full turns 3, half 2, quarter 1, three quarters 3.
    expect(data.match(/A/g)).toHaveLength(2 * (3 + 1 + 2) + 2 * (4 + 3));
  });

  it("engraves what is around a free area as one shape", () => {
    const engraved = elements.filter(({ name, group }) => name === "path" && group === "engrave");
    expect(engraved).toHaveLength(2);
    for (const { attributes } of engraved) expect(attributes["d"]!.match(/M/g)).toHaveLength(2);
  });

  it("closes what is closed and leaves open what is open", () => {
    for (const { group, attributes } of elements.filter(({ name }) => name === "path"))
      expect(attributes["d"]!.endsWith("Z")).toBe(group !== "score");
  });

  it("labels each copy on its own material", () => {
    const { labels } = layoutOf(STOCK, 0, GEOMETRY);
    expect(labels.map(({ text }) => text)).toContain(`${NASTY_NAME} 2`);
    for (const [index, { centre }] of labels.entries()) {
      const placement = PLACEMENTS[index]!;
      const { outer, holes } = poseRegion(placement, GEOMETRY.get(placement.part)!.region);
      expect(pointInRing(centre, outer)).toBe(true);
      for (const hole of holes) expect(pointInRing(centre, hole)).toBe(false);
    }
    expect(elements.filter(({ name }) => name === "text")).toHaveLength(PLACEMENTS.length);
  });

  it("shows what is left in one piece, dashed, and not for the machine", () => {
    const shown = read(layoutSvg(LEFT, 0, GEOMETRY));
    const its = shown.filter(({ group }) => group === "leftover");
    expect(its.map(({ name }) => name)).toEqual(["rect", "text"]);
    // On the sheet from 80.5 to 140.7 up: 150 - 140.7 from the top.
    const place = { x: "110", y: "9.3", width: "85", height: "60.2" };
    expect(its[0]!.attributes).toEqual(place);
    const group = shown.find(({ attributes }) => attributes["id"] === "leftover");
    expect(group?.attributes["stroke-dasharray"]).toBe("4 2");
    expect(layoutSvg(LEFT, 0, GEOMETRY)).toContain(">left: 85 x 60.2 mm<");
    // Nothing else of the sheet is another for it.
    expect(shown.filter(({ name, group: of }) => name === "path" && of !== "leftover")).toEqual(
      elements.filter(({ name }) => name === "path"),
    );
    const other = { ...LEFT, leftover: { ...LEFT.leftover!, onSheet: 1 } };
    expect(layoutSvg(other, 0, GEOMETRY)).toBe(layoutSvg(STOCK, 0, GEOMETRY));
  });

  it("says in the margin of an offcut which one it is, and nothing of a sheet that is bought", () => {
    const shown = read(layoutSvg(OFFCUT, 0, GEOMETRY));
    const [outline, name, ...others] = shown.filter(({ group }) => group === "sheet");
    expect(outline).toMatchObject({ name: "rect", attributes: { width: "200", height: "150" } });
    expect(layoutSvg(OFFCUT, 0, GEOMETRY)).toContain(">offcut small, 200 x 150 mm<");
    // In the lower 5 mm.
    const [base, size] = [name!.attributes["y"], name!.attributes["font-size"]].map(Number);
    expect(base).toBeLessThan(HEIGHT);
    expect(base! - size!).toBeGreaterThan(HEIGHT - 5);
    expect(others).toEqual([]);
    const bought = { ...OFFCUT, used: OFFCUT.used.map((one) => ({ ...one, offcut: false })) };
    const bare = { ...OFFCUT, used: OFFCUT.used.map((one) => ({ ...one, marginMm: 0 })) };
    for (const other of [bought, bare])
      expect(layoutSvg(other, 0, GEOMETRY)).toBe(layoutSvg(STOCK, 0, GEOMETRY));
  });

  it("follows the machine's order where there is one", () => {
    const feeds = [feed("cut", 10), feed("score", 90), feed("engrave", 300)];
    const work = sheetWork(STOCK.sheets[0]!, GEOMETRY, feeds, machine(), "twice");
    const time = timeSheet(work);
    const timed: TimedStock = { ...STOCK, times: [time], feeds: [] };
    const cut = read(layoutSvg(timed, 0, GEOMETRY)).filter(
      ({ name, group }) => name === "path" && group === "cut",
    );
    const ordered = time.order.filter(({ operation }) => operation === "cut");
    expect(cut.map(({ attributes }) => [attributes["data-part"], attributes["data-copy"]])).toEqual(
      ordered.map(({ part, copy }) => [part, String(copy)]),
    );
    for (const [index, { path }] of ordered.entries()) {
      const start = new svgPathProperties(cut[index]!.attributes["d"]!).getPointAtLength(0);
      expect(onSheet(start).x).toBeCloseTo(path.start.x, 5);
      expect(onSheet(start).y).toBeCloseTo(path.start.y, 5);
    }
  });

  it("refuses a sheet that is not there", () => {
    expect(() => layoutSvg(STOCK, 1, GEOMETRY)).toThrow(RangeError);
  });
});

/** Where each segment ends, and how far along the path that is. */
function stations(path: Path): { way: number; point: Point }[] {
  return [0, ...path.segments.keys()].map((_, index) => {
    const before = { ...path, segments: path.segments.slice(0, index) };
    return { way: pathLength(before), point: before.segments.at(-1)?.to ?? path.start };
  });
}

function polygonArea(points: readonly Point[]): number {
  return points.reduce((sum, a, index) => {
    const b = points[(index + 1) % points.length]!;
    return sum + (a.x * b.y - b.x * a.y) / 2;
  }, 0);
}

import { describe, expect, it } from "vitest";
import { readPartGeometry } from "../../src/drawing/parts.ts";
import { dxf, entity, rectangle } from "./dxf/dxf-text.ts";
import { page, part, readOne, readSvgText, rule } from "./reading.ts";

const PLATE = `<rect x="5" y="5" width="60" height="40"/>`;

describe("lines that a rule leaves out", () => {
  it("are not worked, by any mark", () => {
    const frame = `<rect id="frame" class="border" stroke="blue" fill="none" width="200" height="100"/>`;
    for (const [by, value] of [
      ["id", "frame"],
      ["class", "border"],
      ["stroke", "blue"],
    ] as const) {
      const read = readSvgText(page(frame + PLATE), { rules: [rule(by, value, "leave out")] });
      expect(read.problems).toEqual([]);
      expect(read.value?.[0]?.cutLengthMm).toBe(200);
    }
  });

  it("may be what could not be worked: a text, a layer of notes in a DXF", () => {
    const note = `<g id="notes"><text x="9" y="9">cut twice</text></g>`;
    const rules = [rule("id", "notes", "leave out")];
    expect(readOne(page(note + PLATE), { rules }).cutLengthMm).toBe(200);
    const text =
      rectangle(0, 0, 60, 40, "CUT") +
      rectangle(-10, -10, 297, 210, "BORDER") +
      entity("TEXT", 8, "BORDER", 10, 5, 20, 5, 1, "note");
    const texts = [{ name: "a.dxf", text: dxf(text), sha256: "" }];
    const form = { kind: "drawing", path: "a.dxf", id: null } as const;
    const { value, problems } = readPartGeometry([part(form)], texts, [
      rule("layer", "border", "leave out"),
    ]);
    expect(problems).toEqual([]);
    expect(value?.[0]?.cutLengthMm).toBe(200);
  });

  it("are taken by the first rule that fits, as others are", () => {
    const line = `<path id="l" class="c" stroke="red" d="M9 9h9"/>`;
    const rules = [rule("class", "c", "score", 4), rule("id", "l", "leave out", 6)];
    const read = readSvgText(page(PLATE + line), { rules });
    expect(read.value?.[0]?.scores).toHaveLength(1);
    expect(read.problems.map(({ code }) => code)).toEqual(["line-rule-shadowed"]);
    const turned = readSvgText(page(PLATE + line), { rules: rules.toReversed() });
    expect(turned.value?.[0]?.scores).toEqual([]);
  });
});

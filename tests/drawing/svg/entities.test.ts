import { describe, expect, it } from "vitest";
import { onlyProblem, readOne, readSvgText } from "../reading.ts";

const RECT = `<rect width="50" height="50"/>`;

function declaring(declarations: string, content: string): string {
  return `<?xml version="1.0"?>\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [${declarations}]>\n<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">${content}</svg>`;
}

describe("entities (XML 1.0 section 4)", () => {
  it("of plain text are followed, as vector programs declare namespaces", () => {
    const svg = declaring(
      `<!ENTITY ns "http://www.w3.org/2000/svg"> <!ENTITY w '50'> <!ENTITY w '60'>`,
      `<g data-ns="&ns;"><rect width="&w;" height="50"/></g>`,
    );
    expect(readOne(svg).cutLengthMm).toBe(200);
    expect(readOne(declaring("", RECT)).cutLengthMm).toBe(200);
  });

  it.each([
    ["external", `<!ENTITY e SYSTEM "file:///secret">`],
    ["external, public", `<!ENTITY e PUBLIC "x" "https://example.org/x">`],
    ["parameter", `<!ENTITY % e SYSTEM "https://example.org/x.dtd"> %e;`],
    ["of entities", `<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">`],
    ["of elements", `<!ENTITY e "<rect/>">`],
    ["very long", `<!ENTITY e "${"x".repeat(300)}">`],
  ])("are refused: %s", (_, declarations) => {
    for (const content of [RECT, `${RECT}<title>&e;</title>`])
      expect(onlyProblem(readSvgText(declaring(declarations, content)))).toMatchObject({
        code: "svg-entity",
        line: 2,
        severity: "error",
      });
  });

  it("are refused when they swell the drawing", () => {
    const svg = declaring(
      `<!ENTITY e "${"x".repeat(200)}">`,
      `<title>${"&e;".repeat(5000)}</title>${RECT}`,
    );
    expect(onlyProblem(readSvgText(svg)).found).toBe("entities used 5000 times");
  });

  it("that nobody declared are malformed", () => {
    expect(onlyProblem(readSvgText(declaring("", `${RECT}<title>&e;</title>`))).code).toBe(
      "svg-malformed",
    );
  });
});

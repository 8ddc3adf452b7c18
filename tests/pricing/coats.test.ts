import { expect, it } from "vitest";
import { coatText, coatUsesText } from "../../src/pricing/coats.ts";

it.each([
  [1, "both", true, "paint", "1 coat on front, back and edges"],
  [2, "both", false, "paint", "2 coats on front and back"],
  [2, "front", true, "paint", "2 coats on front and edges"],
  [1, "front", false, "paint", "1 coat on the front"],
  [2, "none", true, "paint", "2 coats on the edges"],
  [1, "both", true, "abrasive", "once over front, back and edges"],
  [2, "front", false, null, "twice over the front"],
  [3, "none", true, "masking", "3 times over the edges"],
] as const)("%i on %s, edges %s, of %s", (coats, faces, edges, kind, words) => {
  expect(coatText({ coats, faces, edges, kind })).toBe(words);
});

it("adds up the steps of a finish, and takes finishes that get the same together", () => {
  const all = { faces: "both", edges: true, kind: "paint" } as const;
  const red = ["letter", "panel"];
  expect(
    coatUsesText([
      { ...all, coats: 1, parts: red },
      { ...all, coats: 1, parts: red },
      { ...all, coats: 2, parts: ["foot"] },
      { coats: 1, faces: "front", edges: false, kind: "paint", parts: red },
    ]),
  ).toBe(
    "2 coats on front, back and edges of letter, panel, foot; 1 coat on the front of letter, panel",
  );
});

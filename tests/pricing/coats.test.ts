import { expect, it } from "vitest";
import { coatText, coatUsesText } from "../../src/pricing/coats.ts";

it.each([
  [1, "both", true, "1 coat on front, back and edges"],
  [2, "both", false, "2 coats on front and back"],
  [2, "front", true, "2 coats on front and edges"],
  [1, "front", false, "1 coat on the front"],
] as const)("%i on %s, edges %s", (coats, faces, edges, words) => {
  expect(coatText({ coats, faces, edges })).toBe(words);
});

it("adds up the steps of a finish, and takes finishes that get the same together", () => {
  const all = { faces: "both", edges: true } as const;
  const red = ["letter", "panel"];
  expect(
    coatUsesText([
      { ...all, coats: 1, parts: red },
      { ...all, coats: 1, parts: red },
      { ...all, coats: 2, parts: ["foot"] },
      { coats: 1, faces: "front", edges: false, parts: red },
    ]),
  ).toBe(
    "2 coats on front, back and edges of letter, panel, foot; 1 coat on the front of letter, panel",
  );
});

import { expect, it } from "vitest";
import { counted, noun } from "../src/names.ts";

it("has the singular for one alone, also where the count is a decimal text", () => {
  expect([0, 1, 2, 11].map((count) => counted(count, "part"))).toEqual([
    "0 parts",
    "1 part",
    "2 parts",
    "11 parts",
  ]);
  expect(counted("1", "pass", "passes")).toBe("1 pass");
  expect(counted("1.5", "pass", "passes")).toBe("1.5 passes");
  expect([noun(1, "can"), noun("3", "can"), noun(2, "copy", "copies")]).toEqual([
    "can",
    "cans",
    "copies",
  ]);
});

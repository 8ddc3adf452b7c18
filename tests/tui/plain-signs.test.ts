import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { showsUnicode, withPlainSigns } from "../../src/tui/plain-signs.ts";
import { displayWidth } from "../../src/tui/text.ts";
import { frameLines } from "../../src/tui/views/frame.ts";
import { LARGE, SMALL, press, readyState, textOf } from "./steps.ts";

const FOREIGN = /[^\n -~]/u;

describe("a terminal that shows ASCII only", () => {
  it.each(["1", "2", "3", "4", "5", "?", "w"])(
    "gets every sign in ASCII, as wide as before, after %s",
    (key) => {
      let replaced = 0;
      for (const size of [SMALL, LARGE])
        for (const line of textOf(frameLines(press(readyState(size), key)))) {
          const signs = withPlainSigns(line);
          expect(signs).not.toMatch(FOREIGN);
          expect(displayWidth(signs)).toBe(displayWidth(line));
          if (signs !== line) replaced++;
        }
      expect(replaced).toBeGreaterThan(4);
    },
  );

  it("has a sign for each that the screen's source draws", () => {
    const folder = new URL("../../src/tui/", import.meta.url);
    const sources = readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((name) => /\.tsx?$/.test(name) && !/plain-signs|text\.ts|run\.tsx/.test(name))
      .map((name) =>
        readFileSync(new URL(name, folder), "utf8").replace(/\/\*[^]*?\*\/|\/\/.*/g, ""),
      );
    const signs = new Set(sources.join("").match(new RegExp(FOREIGN, "gu")));
    expect(signs.size).toBeGreaterThan(10);
    for (const sign of signs) expect(withPlainSigns(sign)).not.toMatch(FOREIGN);
  });

  it("still has a picture: full, upper, lower and empty cells differ", () => {
    expect(withPlainSigns("⣿⠉⣀⠀⡇")).toBe("#'. +");
  });

  it("gets names from files as they are", () => {
    expect(withPlainSigns("Käfer 甲虫")).toBe("Käfer 甲虫");
  });
});

describe("what a terminal shows", () => {
  // POSIX.1-2017, 8.2: LC_ALL, then LC_CTYPE, then LANG; an empty one counts as unset.
  it.each([
    [{}, true],
    [{ LANG: "de_DE.UTF-8" }, true],
    [{ LANG: "C.utf8" }, true],
    [{ LANG: "C" }, false],
    [{ LANG: "en_GB.ISO-8859-1" }, false],
    [{ LC_CTYPE: "POSIX", LANG: "en_GB.UTF-8" }, false],
    [{ LC_ALL: "", LC_CTYPE: "en_GB.UTF-8", LANG: "C" }, true],
    [{ LC_ALL: "C", LC_CTYPE: "en_GB.UTF-8" }, false],
  ])("is told by %o: Unicode %s", (environment, unicode) => {
    expect(showsUnicode(environment)).toBe(unicode);
  });
});

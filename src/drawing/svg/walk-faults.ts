import type { Fault } from "../../problem.ts";
import { excerpt } from "../fault.ts";
import { LENGTH_FORMS } from "./lengths.ts";
import type { Element } from "./xml.ts";

/** What can go wrong on the way through a drawing, in words. */

export function badTransform(found: string): Fault {
  return {
    code: "svg-transform",
    found,
    expected: "matrix, translate, scale, rotate, skewX or skewY with their numbers",
    mend: "Correct the transform, or let the drawing program apply it to the lines",
  };
}

export function tooLarge(): Fault {
  return {
    code: "svg-number",
    found: "coordinates beyond a kilometre",
    expected: "lines near the page",
    mend: "Correct or delete the line",
  };
}

export function badLength(name: string, text: string): Fault {
  return {
    code: "svg-number",
    found: `${name}="${excerpt(text)}"`,
    expected: LENGTH_FORMS,
    mend: `Correct ${name} in the drawing`,
  };
}

const UNLINK = "Replace the copies by lines of their own (unlink the clones)";

export function copyOfItself({ attributes }: Element): Fault {
  return {
    code: "svg-use-cycle",
    found: `a copy of #${attributes.get("id") ?? ""} inside itself`,
    expected: "copies of other elements",
    mend: UNLINK,
  };
}

export function copiesTooDeep(): Fault {
  return {
    code: "svg-too-deep",
    found: "copies inside copies too many times over",
    expected: "a few copies inside each other",
    mend: UNLINK,
  };
}

export function tooManyCopies(most: number): Fault {
  return {
    code: "svg-use-many",
    found: `more than ${most} elements in copies`,
    expected: `at most ${most}`,
    mend: UNLINK,
  };
}

export function noChoice(): Fault {
  return {
    code: "svg-switch",
    found: "a switch whose choices all ask for an extension or a language",
    expected: "one choice without conditions",
    mend: "Replace the switch by the group that is to be worked",
  };
}

export function beyondFrame(): Fault {
  return {
    code: "svg-clipped",
    found: "lines that reach beyond the frame around them",
    expected: "lines inside the frame; viewers hide the rest, here it is worked in full",
    mend: "Delete what is not to be worked, or make the frame larger",
  };
}

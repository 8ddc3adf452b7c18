import type { SourceText } from "../../../src/job/types.ts";
import { text } from "../texts.ts";

/** The pages of slips: what stands in the files, and the sentences that each of them gets. */

export interface Slip {
  readonly name: string;
  /** As they stand in the file: name and lines. */
  readonly files: readonly (readonly [name: string, lines: string])[];
  readonly sentences: readonly string[];
}

/** For slips that are not in the parts list itself. */
const SOUND = "part,qty,material,thickness,shape,diameter\nplate,1,card,1,disc,90";

export interface Page {
  readonly intro: string;
  readonly slips: readonly Slip[];
}

export function pageFrom(content: string): Page {
  const [intro = "", ...blocks] = content.split(/^=== /m);
  return { intro, slips: blocks.map(slipOf) };
}

function slipOf(block: string): Slip {
  const [name = "", ...lines] = block.trimEnd().split("\n");
  const sentences = lines.filter((line) => line.startsWith("> ")).map((line) => line.slice(2));
  const files = lines
    .filter((line) => !line.startsWith("> "))
    .join("\n")
    .split(/^--- /m)
    .slice(1)
    .map((file): [string, string] => {
      const [fileName = "", ...body] = file.split("\n");
      return [fileName, body.join("\n").trimEnd()];
    });
  return { name, files, sentences };
}

/** The job's files as the disk would give them. */
export function textsOf({ files }: Slip): readonly SourceText[] {
  const given = files.map(([name, lines]) => text(name, plain(lines)));
  const hasList = given.some(({ name }) => name === "parts.csv");
  return hasList ? given : [text("parts.csv", SOUND), ...given];
}

/** `\t` and `\uFF11` stand for themselves, so that the page can be read. */
function plain(lines: string): string {
  return lines
    .replaceAll(String.raw`\t`, "\t")
    .replace(/\\u([0-9A-F]{4})/g, (_, code: string) =>
      String.fromCodePoint(Number.parseInt(code, 16)),
    );
}

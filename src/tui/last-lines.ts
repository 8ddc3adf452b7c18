import { counted } from "../names.ts";
import { changesText, hasUnsaved, isChanged } from "./changes.ts";
import { totalText } from "./state.ts";
import type { State } from "./state.ts";
import { cut } from "./text.ts";

/** What stays in the terminal after leaving: where the quote is, what it comes to, what was not kept. */

const WIDEST = 500;

export function lastLines(state: State): readonly string[] {
  const { exported, saved, estimate, freshness } = state;
  const lines: string[] = [...saved];
  if (exported) {
    const { dir, files, estimate: quoted, changes } = exported;
    const written = counted(files.length, "file");
    lines.push(`${quoted.title}: ${totalText(quoted)}, ${written} in ${dir}`);
    if (isChanged(changes))
      lines.push(
        `That quote has ${changesText(state, changes)}; the job's own files keep the old numbers`,
      );
  }
  if (hasUnsaved(state)) lines.push(`Neither saved nor exported: ${changesText(state)}`);
  else if (!exported && estimate && freshness === "current")
    lines.push(`${estimate.title}: ${totalText(estimate)}, nothing was exported`);
  return lines.map((line) => cut(line, WIDEST));
}

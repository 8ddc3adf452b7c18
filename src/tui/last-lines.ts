import { hasUnsaved, totalText } from "./state.ts";
import type { State } from "./state.ts";
import { cut } from "./text.ts";

/** What stays in the terminal after leaving: where the quote is, what it comes to, what was not kept. */

const WIDEST = 500;

export function lastLines(state: State): readonly string[] {
  const { exported, quantities } = state;
  const lines: string[] = [];
  if (exported) {
    const { dir, files, estimate } = exported;
    lines.push(`${estimate.title}: ${totalText(estimate)}, ${files.length} files in ${dir}`);
  }
  if (hasUnsaved(state)) {
    const changes = Object.entries(quantities).map(([part, quantity]) => `${part} ${quantity}`);
    const what = changes.length > 0 ? changes.join(", ") : "as in the parts list again";
    lines.push(`Not exported: changed quantities (${what})`);
  } else if (!exported && state.estimate && state.freshness === "current")
    lines.push(`${state.estimate.title}: ${totalText(state.estimate)}, nothing was exported`);
  return lines.map((line) => cut(line, WIDEST));
}

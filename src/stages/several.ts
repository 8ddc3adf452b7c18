import type { Aide } from "../nesting/separation/lanes.ts";
import { withBest } from "../work.ts";
import type { Work } from "../work.ts";
import type { Prepared } from "./assemble.ts";
import { nestWanted } from "./nest.ts";
import type { Wanted } from "./nest.ts";
import type { NestedGroup } from "./sheets-tried.ts";
import { choicesOf, piecesOf } from "./stock-groups.ts";

/**
 * The nests of several jobs, in rounds together, each as if it were alone. What would be nested twice,
 * the same copies on the same sheets, is nested once.
 * @returns for each job, in the order of its groups.
 */
export function* nestSeveral(
  jobs: readonly Prepared[],
  aide: Aide | null,
): Work<readonly (readonly NestedGroup[])[]> {
  const wanted = jobs.map(({ groups, read }) =>
    groups.map((group): Wanted & { readonly key: string } => {
      const one = { group, pieces: read.job.pieces, stocks: groups.length };
      return { ...one, key: keyOf(one) };
    }),
  );
  const once = new Map(wanted.flat().map((one) => [one.key, one]));
  const keys = [...once.keys()];
  const each = (nested: readonly NestedGroup[]): readonly (readonly NestedGroup[])[] =>
    wanted.map((its) =>
      its.flatMap(({ group, key }) => {
        const outcome = nested[keys.indexOf(key)]?.outcome;
        return outcome === undefined ? [] : [{ group, outcome }];
      }),
    );
  const [first] = jobs;
  if (first === undefined) return [];
  return each(yield* withBest(nestWanted([...once.values()], first.input, aide), each));
}

/** All that a nest follows from, but for seed and steps. */
function keyOf({ group, pieces, stocks }: Wanted): string {
  return JSON.stringify([piecesOf(group, pieces), choicesOf(group), stocks]);
}

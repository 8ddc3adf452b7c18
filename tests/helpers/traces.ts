import type { Estimate } from "../../src/estimate-data.ts";
import type { Place } from "../../src/problem.ts";

/** Which rows each figure of an estimate says that it hangs on: `tables/rates.csv:2`. */

function rowOf({ file, line }: Place): string {
  return `${file}:${line}`;
}

/** For every figure the rows that its trace ends at. */
export function tracesOf({ figures }: Estimate): ReadonlyMap<string, ReadonlySet<string>> {
  const traces = new Map<string, ReadonlySet<string>>();
  for (const { id, origin } of figures) {
    if (origin.kind === "derived")
      traces.set(id, new Set(origin.inputs.flatMap((input) => [...(traces.get(input) ?? [])])));
    else {
      const { source } = origin;
      traces.set(
        id,
        new Set((source.kind === "computed" ? source.from : [source.place]).map(rowOf)),
      );
    }
  }
  return traces;
}

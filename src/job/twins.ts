import { plainName } from "../names.ts";
import type { Place, Problem } from "../problem.ts";

/**
 * A problem for every row with a name that an earlier one has. Names are compared without regard to
 * case: they become words in files and on screen.
 *
 * @param problemOf from a row's place and name, and the place of the first row of that name.
 */
export function twinProblems(
  rows: readonly { readonly place: Place; readonly name: string | undefined }[],
  problemOf: (place: Place, name: string, twin: Place) => Problem,
): readonly Problem[] {
  const first = new Map<string, Place>();
  return rows.flatMap(({ place, name }) => {
    if (name === undefined) return [];
    const key = plainName(name);
    const twin = first.get(key);
    if (twin === undefined) first.set(key, place);
    return twin === undefined ? [] : [problemOf(place, name, twin)];
  });
}

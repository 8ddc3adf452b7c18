import { distance } from "fastest-levenshtein";
import { plainName } from "../names.ts";
import { inColumn, warningAt } from "../problem.ts";
import type { Problem } from "../problem.ts";
import type { TableRow } from "./types.ts";

/**
 * Rows of the job's own tables that are new by their id and yet look like a slip in a known one:
 * then the row that was to be replaced would stay in force beside them.
 * @param same whether two rows are of one thing, whatever their ids.
 */
export function newRowNotes<R extends TableRow>(
  builtIn: readonly R[],
  ofJob: readonly R[],
  same: (a: R, b: R) => boolean = () => false,
): readonly Problem[] {
  const known = new Set(builtIn.map(({ id }) => plainName(id)));
  const first = new Map(ofJob.toReversed().map((row) => [plainName(row.id), row]));
  return ofJob
    .filter((row) => first.get(plainName(row.id)) === row && !known.has(plainName(row.id)))
    .flatMap((row) => {
      const near = builtIn.find((one) => isSlip(row.id, one.id, same(row, one)));
      return near === undefined ? [] : [newRow(row, near)];
    });
}

/** Numbers in an id tell sizes apart; only between rows of the same thing can they be a slip. */
function isSlip(written: string, known: string, same: boolean): boolean {
  const [a, b] = [plainName(written), plainName(known)];
  const steps = distance(a, b);
  if (steps > MOST_STEPS || steps > Math.max(a.length, b.length) * MOST_SHARE) return false;
  return same || digitsOf(a) === digitsOf(b);
}

/** Two letters swapped are two steps. */
const MOST_STEPS = 2;
const MOST_SHARE = 0.4;

function digitsOf(text: string): string {
  return text.replace(/[^\d.]+/g, " ").trim();
}

function newRow({ id, place }: TableRow, near: TableRow): Problem {
  return warningAt(inColumn(place, "id"), {
    code: "new-row-near",
    found: id,
    expected: `an id of ${near.place.file}, or one that is unlike all of them`,
    mend: `Write "${near.id}" if that row is to be replaced; as it stands, both are on offer`,
  });
}

import type { Figure, FigureSheet } from "../figure.ts";
import type { Place } from "../problem.ts";
import { distinct } from "./ledger.ts";

/** Every row and drawing that some figures go back to. */
export function placesUnder(sheet: FigureSheet, ids: readonly string[]): readonly Place[] {
  const byId = new Map(sheet.figures().map((figure) => [figure.id, figure]));
  const seen = new Set<string>();
  const places: Place[] = [];
  const visit = (id: string): void => {
    const figure = byId.get(id);
    if (figure === undefined || seen.has(id)) return;
    seen.add(id);
    if (figure.origin.kind === "given") places.push(...placesOf(figure.origin.source));
    else for (const input of figure.origin.inputs) visit(input);
  };
  for (const id of ids) visit(id);
  return distinct(places.map((place) => ({ ...place, column: null })));
}

type Given = Extract<Figure["origin"], { kind: "given" }>;

function placesOf(source: Given["source"]): readonly Place[] {
  return source.kind === "computed" ? source.from : [source.place];
}

import type { FitReport, FitSheet } from "../estimate-data.ts";
import { combFor } from "../fit/comb.ts";
import type { Comb } from "../fit/comb.ts";
import { offsetPath } from "../geometry/offset.ts";
import { lengthText, stockName } from "../units.ts";
import { drawingDxf } from "./layout-dxf.ts";
import { layoutName } from "./layout-name.ts";
import { drawingSvg } from "./layout-svg.ts";
import type { Layout } from "./layout.ts";
import type { OutputText } from "./output-files.ts";

/** A comb for every sheet whose kerf and fit are known, as SVG and DXF. */
export function combFiles(report: FitReport): readonly OutputText[] {
  return report.sheets.flatMap((sheet, index) => {
    const comb = combOf(sheet, report);
    if (comb === null) return [];
    const layout = layoutOf(comb, sheet, movedBy(sheet, report));
    const name = layoutName(index + 1, stockName(sheet));
    const what = `slots from ${lengthText(comb.slotsMm[0] ?? 0)} to ${lengthText(comb.slotsMm.at(-1) ?? 0)}`;
    return [
      { name: `combs/${name}.svg`, what, content: drawingSvg(layout) },
      { name: `combs/${name}.dxf`, what, content: drawingDxf(layout) },
    ];
  });
}

function combOf(sheet: FitSheet, { cutLines }: FitReport): Comb | null {
  const { thicknessMm, measuredMm, betweenMm, snugMm, kerfMm } = sheet;
  if (betweenMm === null || snugMm === null || kerfMm === null) return null;
  const [lowMm, highMm] = betweenMm;
  const likelyMm = measuredMm ?? thicknessMm;
  const thickness = { lowMm, likelyMm, highMm, measured: measuredMm !== null };
  const clearance = { lowMm: snugMm[0], highMm: snugMm[1] };
  return combFor(thickness, cutLines === "as drawn" ? kerfMm : 0, clearance);
}

/** As the job's layouts do it, so that a comb shows what comes of a drawn width. */
function movedBy({ kerfMm }: FitSheet, { cutLines }: FitReport): number {
  return cutLines === "as drawn" || kerfMm === null ? 0 : kerfMm / 2;
}

function layoutOf(
  { widthMm, heightMm, outline, figures }: Comb,
  sheet: FitSheet,
  movedMm: number,
): Layout {
  const cut = movedMm === 0 ? outline : (offsetPath(outline, movedMm) ?? outline);
  const one = { part: "comb", copy: 1 };
  return {
    title: `comb for ${stockName(sheet)}, slots as drawn`,
    widthMm,
    heightMm,
    paths: [
      ...figures.map((path) => ({ ...one, operation: "score", path }) as const),
      { ...one, operation: "cut", path: cut },
    ],
    labels: [],
    outline: null,
    offcut: null,
    leftover: null,
  };
}

/** Sheets that are sawn up before they come to the machine, because its bed is smaller. */

export interface Sides {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Equal panels of a sheet, side by side along its width and its height: grain runs on as it does in it. */
export interface Panels extends Sides {
  readonly across: number;
  readonly along: number;
}

/** What a cut takes off and a panel saw's fence leaves uncertain, mm (common practice, no source). */
const SAW_KERF_MM = 4;

/**
 * How to saw a sheet into panels that lie on a bed, either way round: so that most parts go on one,
 * then for the most area in few panels. Null where nothing is left of it.
 *
 * @param going how many parts go on a panel.
 */
export function panelsOf(
  sheet: Sides,
  bed: Sides,
  going: (panel: Panels) => number,
): Panels | null {
  const beds = [bed, { widthMm: bed.heightMm, heightMm: bed.widthMm }];
  const all = beds
    .flatMap(({ widthMm, heightMm }) =>
      rowsOf(sheet.widthMm, widthMm).flatMap((across) =>
        rowsOf(sheet.heightMm, heightMm).map((along) => ({
          across: across.count,
          along: along.count,
          widthMm: across.eachMm,
          heightMm: along.eachMm,
        })),
      ),
    )
    .filter(({ widthMm, heightMm }) => widthMm > 0 && heightMm > 0)
    .map((panels) => ({ panels, parts: going(panels) }));
  all.sort((a, b) => b.parts - a.parts || worth(b.panels) - worth(a.panels));
  return all[0]?.panels ?? null;
}

interface Row {
  readonly count: number;
  readonly eachMm: number;
}

/** The fewest that use up the side, and as many of full length as it has. Whole mm: nobody saws finer. */
function rowsOf(sideMm: number, mostMm: number): readonly Row[] {
  const each = (count: number): Row => ({
    count,
    eachMm: Math.min(mostMm, Math.floor((sideMm - (count - 1) * SAW_KERF_MM) / count)),
  });
  if (sideMm <= mostMm) return [{ count: 1, eachMm: sideMm }];
  const full = Math.floor((sideMm + SAW_KERF_MM) / (mostMm + SAW_KERF_MM));
  const whole = each(full + 1);
  return full === 0 ? [whole] : [whole, each(full)];
}

/** Area, less for each panel to saw, to carry and to lay down. */
function worth({ across, along, widthMm, heightMm }: Panels): number {
  const count = across * along;
  return count * widthMm * heightMm * Math.max(0, 1 - SHARE_OF_A_PANEL * count);
}

const SHARE_OF_A_PANEL = 0.01;

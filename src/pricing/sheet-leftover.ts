import { sizeText, stockName } from "../units.ts";
import type { Ledger } from "./ledger.ts";
import { m2Of, nestedFrom, stockId, usedId } from "./stock-figures.ts";
import type { PricedStock, PricingInput } from "./types.ts";

/**
 * What is left in one piece, and the share of the sheet's price that goes with its area.
 * @returns the figure of its worth; null where nothing is worth keeping.
 */
export function addLeftover(
  { sheet }: Ledger,
  input: PricingInput,
  stock: PricedStock,
): string | null {
  const { leftover, nest, used } = stock;
  const from = nest.sheets[leftover?.onSheet ?? 0];
  const its = used.find(({ row }) => row.id === from?.sheet);
  if (leftover === null || from === undefined || its === undefined) return null;
  const id = (what: string): string => stockId(stock, `leftover.${what}`);
  const name = `${stockName(stock)}, largest rectangle left`;
  const size = sizeText(leftover.widthMm, leftover.heightMm);
  const area = sheet.given(id("area"), name, "m2", m2Of(leftover), {
    kind: "computed",
    by: "nest",
    what: `${size} free on sheet ${leftover.onSheet + 1}, less margin and gap`,
    from: nestedFrom(input, stock),
  });
  const whole = sheet.given(
    id("sheet"),
    `${stockName(stock)}, sheet it is left of`,
    "m2",
    m2Of(from),
    {
      kind: "computed",
      by: "nest",
      what: `${from.outline === undefined ? "" : "outline within "}${sizeText(from.widthMm, from.heightMm)} of ${its.row.id}`,
      from: nestedFrom(input, stock),
    },
  );
  const share = sheet.derived(id("share"), `${name}, share of its sheet`, "ratio", "quotient", [
    area,
    whole,
  ]);
  const own = (what: string): string => usedId(stock, its.row.id, what);
  const price =
    its.panels === null
      ? own("price")
      : sheet.derived(
          id("panel"),
          `${stockName(stock)}, panel it is left of`,
          "currency",
          "quotient",
          [own("price"), own("panels-each")],
        );
  return sheet.derived(id("worth"), `${name}, worth by area`, "currency", "product", [
    share,
    price,
  ]);
}

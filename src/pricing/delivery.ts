import { settingOf } from "./build-up.ts";
import { settingSource } from "./ledger.ts";
import type { Ledger } from "./ledger.ts";
import { addParcels } from "./parcels.ts";
import type { PricingInput } from "./types.ts";

/** Bringing the order to the customer: by a carrier's tariff, else at the price of the settings. */
export function addDelivery(ledger: Ledger, input: PricingInput): void {
  const cost = addParcels(ledger, input) ?? addSetPrice(ledger, input);
  if (cost === null) return;
  const packed = ledger.costs.some(({ section }) => section === "Delivery");
  ledger.costs.push({
    section: "Delivery",
    of: "delivery",
    description: packed ? "Packing and delivery" : "Delivery",
    basis: "to the agreed address",
    cost,
    each: null,
  });
}

/** Null for none. */
function addSetPrice({ sheet }: Ledger, input: PricingInput): string | null {
  const setting = settingOf(input, "delivery");
  if (!setting || setting.value.isZero()) return null;
  const label = "delivery of the order";
  return sheet.given("delivery.cost", label, "currency", setting.value, settingSource(setting));
}

import type { QuoteSection } from "../job/types.ts";
import { counted } from "../names.ts";
import { settingOf } from "./build-up.ts";
import type { PricingInput } from "./types.ts";

/**
 * The customer's words for what is done. What the workshop calls its tasks stays in the workshop,
 * and nothing is named that the job does not have.
 */

/** What hand work under a heading is called on the quote; it joins the goods of the same name. */
export function workWords(section: QuoteSection, input: PricingInput): string {
  switch (section) {
    case "Materials":
      return "Preparing the material";
    case "Cutting":
      return cuttingWords(input);
    case "Fixings and bought-in parts":
      return "Fitting";
    case "Delivery":
      return isDelivered(input) ? "Packing and delivery" : "Packing";
    case "Design and preparation":
    case "Finishing":
    case "Making and assembly":
      return section;
  }
}

export function cuttingWords({ parts }: PricingInput): string {
  const engraved = parts.some(({ geometry }) => geometry.engravings.length > 0);
  return engraved ? "Laser cutting and engraving" : "Laser cutting";
}

/** `192 parts, 12 of them engraved`. */
export function cuttingBasis(input: PricingInput): string {
  const engraved = input.parts.filter(({ geometry }) => geometry.engravings.length > 0);
  const [all, some] = [copiesOf(input.parts, input), copiesOf(engraved, input)];
  const also = some > 0 && some < all ? `, ${some} of them engraved` : "";
  return `${counted(all, "part")}${also}`;
}

/** `24 parts in heron-blue; 12 parts in clear-lacquer`. */
export function finishBasis(input: PricingInput): string {
  const finishes = [...new Set(input.parts.flatMap(({ part }) => part.finish ?? []))];
  const texts = finishes.map((finish) => {
    const parts = input.parts.filter(({ part }) => part.finish === finish);
    return `${counted(copiesOf(parts, input), "part")} in ${finish}`;
  });
  return texts.join("; ");
}

/** Copies of some parts over the whole commission. */
export function copiesOf(parts: PricingInput["parts"], { job }: PricingInput): number {
  return parts.reduce((sum, { part }) => sum + part.quantity, 0) * job.pieces;
}

function isDelivered(input: PricingInput): boolean {
  return input.job.delivery !== null || settingOf(input, "delivery")?.value.isZero() === false;
}

import type { LabelCaution, LabelContent } from "../../server/labels/labelContent.ts";
import type { NetWeight } from "../../server/labels/netWeight.ts";
import { monthWords } from "../format/dates.ts";

/** What a label says, part by part. */
export const labelRoles = [
  "name",
  "identity",
  "ingredients",
  "cautions",
  "maker",
  "contact",
  "lot",
  "durability",
  "weight",
] as const;
export type LabelRole = (typeof labelRoles)[number];

const OUNCES_IN_POUND_HUNDREDTHS = 1600;

/** The words of a label by part; blank where there is nothing to say. */
export function labelWords(content: LabelContent): Readonly<Record<LabelRole, string>> {
  const { product, ingredients, cautions, maker, lotCode, netWeight, durability } = content;
  return {
    name: product,
    identity: "Bath bomb",
    ingredients: ingredients ? `Ingredients: ${ingredients.map(({ name }) => name).join(", ")}.` : "",
    cautions: cautions.map((caution) => cautionOnLabel[caution]).join(" "),
    maker: [maker.makerName && `Made by ${maker.makerName}`, maker.makerPlace]
      .filter((words) => words !== "")
      .join(", "),
    contact: maker.contact,
    lot: lotCode === null ? "" : `Lot ${lotCode}`,
    // Word by word as Regulation (EC) 1223/2009, Article 19(1)(c), has it, from memory.
    durability:
      durability?.kind === "dated" ? `Best used before the end of ${monthWords(durability.lastMonth)}` : "",
    weight: netWeight ? netWeightWords(netWeight, content.market === "us") : "",
  };
}

/**
 * Both units side by side: "Net Wt 4.16 oz (118 g)" in the United States, grams first elsewhere. From a pound on pounds
 * stand there too (15 USC 1453(a)(2); 21 CFR 701.13(j), from memory).
 */
export function netWeightWords({ milligrams, ounceHundredths }: NetWeight, ouncesFirst: boolean): string {
  const grams = `${milligrams / 1000} g`;
  const ounces = `${ounceHundredths / 100} oz`;
  const pounds = Math.floor(ounceHundredths / OUNCES_IN_POUND_HUNDREDTHS);
  const rest = (ounceHundredths % OUNCES_IN_POUND_HUNDREDTHS) / 100;
  const both = pounds > 0 ? `${ounces} (${pounds} lb${rest > 0 ? ` ${rest} oz` : ""})` : ounces;
  if (!ouncesFirst) return `Net weight ${grams} (${ounces})`;
  return pounds > 0 ? `Net Wt ${both} ${grams}` : `Net Wt ${ounces} (${grams})`;
}

const cautionOnLabel: Readonly<Record<LabelCaution, string>> = {
  directions: "Keep dry. Drop into a full bath.",
  adults: "For adults only.",
  // Word by word as 21 CFR 740.17 has it.
  "bath-product":
    "Caution—Use only as directed. Excessive use or prolonged exposure may cause irritation to skin and urinary tract. Discontinue use if rash, redness, or itching occurs. Consult your physician if irritation persists. Keep out of reach of children.",
  skin: "Not for sore or broken skin; stop if it irritates.",
  slips: "The tub may be slippery.",
  stains: "Colours may stain: rinse the tub.",
  children: "Not to be eaten. Keep away from children and pets.",
};

import type { AmountUnit, MassUnit } from "../../server/recipes/amounts.ts";
import type { Caution } from "../../server/recipes/cautions.ts";
import type { Phase } from "../../server/recipes/phases.ts";
import { plainNumber } from "../format/quantities.ts";

/** How each unit is written behind a number. */
export const unitWords: Readonly<Record<AmountUnit, string>> = {
  g: "g",
  kg: "kg",
  oz: "oz",
  lb: "lb",
  ml: "ml",
  "fl-oz-us": "fl oz (US)",
  "fl-oz-imperial": "fl oz (imperial)",
  tsp: "tsp (US)",
  percent: "%",
};

export const massUnitChoices: readonly { readonly value: MassUnit; readonly label: string }[] = (
  ["g", "kg", "oz", "lb"] as const
).map((unit) => ({ value: unit, label: unitWords[unit] }));

export const phaseWords: Readonly<Record<Phase, string>> = {
  dry: "Dry",
  colour: "Colour",
  liquid: "Liquid",
  acid: "Acid, last and slowly",
};

/** "2 fl oz (US)", from thousandths of the unit. */
export function amountWords(thousandths: number, unit: AmountUnit): string {
  return `${plainNumber(thousandths / 1000)} ${unitWords[unit]}`;
}

/** An avoirdupois ounce (NIST Handbook 44, Appendix C). */
const MILLIGRAMS_IN_AN_OUNCE = 28_349.523125;

/** "26.88 oz", from milligrams: to the nearest hundredth, for weighing. */
export function ounceWords(milligrams: number): string {
  return `${(milligrams / MILLIGRAMS_IN_AN_OUNCE).toFixed(2)} oz`;
}

/** "4.58 oz", from milligrams: never more than there is, as labels ask. */
export function atMostOunceWords(milligrams: number): string {
  return `${(Math.floor((milligrams * 100) / MILLIGRAMS_IN_AN_OUNCE) / 100).toFixed(2)} oz`;
}

interface CautionWords {
  readonly name: string;
  readonly words: string;
}

/** The usual cautions. They are no legal or medical advice. */
export const cautionWords: Readonly<Record<Caution, CautionWords>> = {
  dust: {
    name: "Dust.",
    words:
      "Foaming powders and fine acid irritate lungs and eyes: dust mask, eye protection, gentle sifting.",
  },
  fire: {
    name: "Fire.",
    words:
      "Strong alcohol burns, and so does its vapour: no flame or hot plate, air the room, keep little of it open.",
  },
  gas: {
    name: "Gas.",
    words:
      "Acid, soda and damp make gas: never close fresh or damp mix, or pieces that are not dry, airtight.",
  },
  scent: {
    name: "Scent.",
    words:
      "Undiluted scent oils irritate skin and eyes: gloves, and no more than the supplier's certificate allows.",
  },
  foam: {
    name: "Foam.",
    words:
      "Some laws ask for a caution on the label of bath products that foam with a surfactant, such as 21 CFR 740.17 in the United States.",
  },
  slips: { name: "Slips.", words: "Oil and butter make a tub slippery: the label says so." },
  stains: {
    name: "Stains.",
    words:
      "Colours stain cloth and tubs, and not every colorant is permitted in every use: keep what its supplier states.",
  },
  skin: {
    name: "Skin.",
    words: "Not for sore or broken skin; keep pieces away from children and pets.",
  },
};

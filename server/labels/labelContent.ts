import type { IngredientKind } from "../recipes/cautions.ts";
import { type DryingPart, dryMilligrams } from "../recipes/drying.ts";
import { type Durability, durabilityOf } from "./durability.ts";
import { inLabelOrder, type LabelPart } from "./ingredientOrder.ts";
import { type AllergensFound, listedAllergens } from "./listedAllergens.ts";
import type { Market } from "./markets.ts";
import { mostDeclarable, type NetWeight } from "./netWeight.ts";

/** Who stands on every label, and by whose rules. */
export interface LabelMaker {
  readonly market: Market;
  readonly makerName: string;
  readonly makerPlace: string;
  /** Where complaints go: an address, a phone, a website. */
  readonly contact: string;
  /** Every product says on its label that it is for adults only. */
  readonly adultsOnly: boolean;
}

/** A part of the recipe, as the mix and as a label know it. */
export interface RecipePart extends DryingPart {
  readonly name: string;
  /** Blank where nobody knows how labels call it. */
  readonly labelName: string;
  readonly kind: IngredientKind;
  /** Listed allergens, in parts per million of the ingredient; null: no statement has been entered. */
  readonly allergens: readonly { readonly name: string; readonly sharePpm: number }[] | null;
}

/** What is known of the pieces a label is for. */
export interface LabelledPieces {
  readonly product: string;
  /** Null where the label is for no lot. */
  readonly lotCode: string | null;
  /** Of the version they are mixed by; null where there is none. */
  readonly parts: readonly RecipePart[] | null;
  /** Mix that goes into a piece. */
  readonly pieceMilligrams: number;
  /** What the maker wants to declare; null for as much as may be. */
  readonly declaredMilligrams: number | null;
  /** How long a piece keeps from the day it is made; null where the owner has not said. */
  readonly durabilityMonths: number | null;
  /** ISO 8601 calendar date of the workshop; null where nobody knows. */
  readonly madeOn: string | null;
}

/** What has to be said to whoever baths with it. */
export const labelCautions = [
  "directions",
  "adults",
  "bath-product",
  "skin",
  "slips",
  "stains",
  "children",
] as const;
export type LabelCaution = (typeof labelCautions)[number];

/** Everything that stands on a label, before it becomes words. */
export interface LabelContent {
  readonly product: string;
  readonly market: Market;
  /** Null where no recipe tells what a piece weighs dry. */
  readonly netWeight: NetWeight | null;
  readonly dryMilligrams: number | null;
  /** In the order of the label; null where there is no recipe. */
  readonly ingredients: readonly LabelPart[] | null;
  /** Null where there is no recipe, or the market asks for none. */
  readonly allergens: AllergensFound | null;
  /** Workshop's names of ingredients nobody has a label's name for. */
  readonly unnamed: readonly string[];
  readonly hasSurfactant: boolean;
  readonly cautions: readonly LabelCaution[];
  readonly maker: Omit<LabelMaker, "market">;
  readonly lotCode: string | null;
  /** Null where the market asks for none. */
  readonly durability: Durability | null;
}

export function labelContent(pieces: LabelledPieces, { market, ...maker }: LabelMaker): LabelContent {
  const { parts } = pieces;
  const allergens = parts && listedAllergens(parts, market);
  const dry = parts ? dryMilligrams(parts, pieces.pieceMilligrams) : null;
  const hasSurfactant = parts?.some(({ kind }) => kind === "surfactant") ?? false;
  return {
    ...{ product: pieces.product, lotCode: pieces.lotCode, market, maker, hasSurfactant, allergens },
    durability: durabilityOf(pieces, market),
    dryMilligrams: dry,
    // What was declared of an earlier recipe never says more than a piece of this one weighs.
    netWeight: dry === null ? null : mostDeclarable(Math.min(dry, pieces.declaredMilligrams ?? dry)),
    ingredients: parts && inLabelOrder(withAllergens(parts.map(asOnLabel), allergens), market),
    unnamed: [...new Set((parts ?? []).filter(isUnnamed(market)).map(({ name }) => name))],
    cautions: cautionsOf(parts ?? [], market, maker.adultsOnly, hasSurfactant),
  };
}

function asOnLabel({ name, labelName, kind, milligramsPerKilogram }: RecipePart): LabelPart {
  return { name: labelName || name, kind, milligramsPerKilogram };
}

/** What stands there as an ingredient is not named again. */
function withAllergens(parts: readonly LabelPart[], allergens: AllergensFound | null): readonly LabelPart[] {
  const listed = new Set(parts.map(({ name }) => name.toLowerCase()));
  const besides = (allergens?.toName ?? []).filter(({ name }) => !listed.has(name.toLowerCase()));
  return [...parts, ...besides.map((allergen) => ({ ...allergen, kind: "allergen" as const }))];
}

/** Where a market is chosen, scents are named by one word and need no name of their own. */
function isUnnamed(market: Market): (part: RecipePart) => boolean {
  return ({ kind, labelName }) => labelName === "" && (kind !== "scent" || market === "none");
}

/**
 * The caution of 21 CFR 740.17 belongs on bath products that foam with a surfactant, unless they are labelled for adults
 * only. It says all that ours on skin and children say, and stands alone.
 */
function cautionsOf(
  parts: readonly RecipePart[],
  market: Market,
  adultsOnly: boolean,
  hasSurfactant: boolean,
): readonly LabelCaution[] {
  const has = (kind: RecipePart["kind"]) => parts.some((part) => part.kind === kind);
  const mandated = market === "us" && hasSurfactant && !adultsOnly;
  const called: Readonly<Record<LabelCaution, boolean>> = {
    directions: true,
    adults: adultsOnly,
    "bath-product": mandated,
    skin: !mandated,
    slips: has("oil"),
    stains: has("colour"),
    children: !mandated && !adultsOnly,
  };
  return labelCautions.filter((caution) => called[caution]);
}

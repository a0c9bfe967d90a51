import type { Transaction } from "../../db/connect.ts";
import {
  sampleCategory,
  sampleIngredients,
  sampleRecipes,
  sampleRecipesFrom,
} from "../../db/demo/recipes.ts";
import type { Actor } from "../http/visitor.ts";
import { addVersion } from "../recipes/addVersion.ts";
import type { IngredientFacts } from "../supplies/forms.ts";
import { addIngredient } from "../supplies/writeIngredient.ts";
import { known, taken } from "./known.ts";

type Ingredient = Omit<IngredientFacts, "limits"> & { readonly limitPpm: number | null };

/** What is known of an ingredient of which the sample says nothing else. */
const plain: Ingredient = {
  name: "",
  kind: "other",
  labelName: "",
  densityGramsPerLitre: null,
  densitySource: "",
  evaporatesBasisPoints: 0,
  dusty: false,
  flammable: false,
  statement: "",
  counted: true,
  leastOnHand: 0,
  coverDays: 14,
  limitPpm: null,
  allergens: [],
  allergenSource: "",
};

/** The ingredients, and the first version of every blend's recipe; returns the ids of the ingredients by code. */
export async function addSampleRecipes(
  transaction: Transaction,
  actor: Actor,
  blends: ReadonlyMap<string, number>,
): Promise<ReadonlyMap<string, number>> {
  const supplies = new Map<string, number>();
  for (const [code, given] of Object.entries(sampleIngredients)) {
    const { limitPpm, ...facts } = { ...plain, ...given };
    const limits =
      limitPpm === null
        ? []
        : [{ category: sampleCategory, limitPpm, source: `invented certificate for ${facts.name}` }];
    supplies.set(code, taken(await addIngredient(transaction, actor, { ...facts, limits })).supplyId);
  }
  for (const { blend, forGrams, parts } of sampleRecipes) {
    const version = await addVersion(transaction, actor, {
      blendId: known(blends, blend),
      ...{ validFrom: sampleRecipesFrom, category: sampleCategory, note: "" },
      writtenFor: forGrams === null ? null : { thousandths: forGrams * 1000, unit: "g" },
      parts: parts.map(([ingredient, amount, unit], place) => ({
        ...{ place, supplyId: known(supplies, ingredient), phase: null },
        amount: { thousandths: Math.round(amount * 1000), unit },
      })),
    });
    taken(version);
  }
  return supplies;
}

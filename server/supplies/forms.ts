import { z } from "zod";
import { blankOr, choiceField, decimalField, rowsOf, textField, tickField } from "../http/formFields.ts";
import { shareField } from "../http/moneyFields.ts";
import { ingredientKinds } from "../recipes/cautions.ts";
import { NO_ALLERGENS, readAllergens } from "./allergenLines.ts";
import { leastGrams, stockFacts, stockFields } from "./stockFields.ts";

/** Categories of one scent oil that a form takes at most. */
const MOST_LIMITS = 24;

/** As certificates number the kinds of products, such as "9" or "5A"; read in capitals. */
export const categoryField = textField({ most: 12 }).transform((category) => category.toUpperCase());

const densityField = decimalField({ least: 0.01, most: 25, decimals: 3 });

const ingredientFields = z.object({
  name: textField({ most: 120 }),
  kind: choiceField(ingredientKinds, "Choose what it is to the mix."),
  labelName: textField({ most: 200, blank: true }),
  density: blankOr(densityField),
  densitySource: textField({ most: 200, blank: true }),
  evaporates: blankOr(shareField()),
  dusty: tickField(),
  flammable: tickField(),
  statement: textField({ most: 2000, blank: true }),
  limits: z
    .array(z.object({ category: z.string(), share: z.string() }))
    .transform((rows, context) => readLimits(rows, context)),
  limitSource: textField({ most: 200, blank: true }),
  allergens: textField({ most: 10_000, blank: true }).transform(readAllergens),
  allergenSource: textField({ most: 200, blank: true }),
  ...stockFields(leastGrams),
});

/** An ingredient with what is stated of it; a number that somebody weighs or judges by always says where it is from. */
export const ingredientForm = z.preprocess(
  (body) =>
    typeof body === "object" && body !== null
      ? { ...body, limits: rowsOf(body, { category: "limitCategory", share: "limitShare" }) }
      : body,
  ingredientFields
    .superRefine(({ density, densitySource, limits, limitSource, allergens, allergenSource }, context) => {
      const missing = (field: string, message: string) =>
        context.addIssue({ code: "custom", path: [field], message });
      if (density !== null && densitySource === "")
        missing(
          "densitySource",
          "Say where the number is from: the supplier's sheet, a table, your own weighing.",
        );
      if (limits.length > 0 && limitSource === "")
        missing("limitSource", "Say which certificate states it: the supplier, its number or its date.");
      if (allergens !== null && allergenSource === "")
        missing("allergenSource", "Say which paper states it: the supplier, its number or its date.");
      if (allergens === null && allergenSource !== "")
        missing("allergens", `Write what it states, a line each, or ${NO_ALLERGENS} where it states none.`);
    })
    .transform(({ density, densitySource, evaporates, limits, limitSource, allergens, ...others }) => {
      const { uncounted, leastOnHand, coverDays, ...rest } = others;
      return {
        ...rest,
        ...stockFacts({ uncounted, leastOnHand, coverDays }, 1000),
        densityGramsPerLitre: density === null ? null : Math.round(density * 1000),
        densitySource: density === null ? "" : densitySource,
        evaporatesBasisPoints: evaporates ?? 0,
        limits: limits.map((limit) => ({ ...limit, source: limitSource })),
        allergens: allergens ?? [],
      };
    }),
);

export type IngredientFacts = z.output<typeof ingredientForm>;

function readLimits(
  rows: readonly { readonly category: string; readonly share: string }[],
  context: z.RefinementCtx,
): readonly { readonly category: string; readonly limitPpm: number }[] {
  const wrong = (path: readonly (string | number)[], message: string) =>
    context.addIssue({ code: "custom", path: [...path], message });
  const filled = [...rows.entries()].filter(([, row]) => row.share.trim() !== "");
  if (filled.length > MOST_LIMITS) wrong([], `At most ${MOST_LIMITS} categories.`);
  const limits = new Map<string, number>();
  for (const [place, row] of filled.slice(0, MOST_LIMITS)) {
    const category = categoryField.safeParse(row.category);
    const share = shareField().safeParse(row.share);
    for (const [field, { error }] of [["category", category] as const, ["share", share] as const])
      if (error) wrong([place, field], error.issues[0]?.message ?? "Look at this again.");
    if (!category.success || !share.success) continue;
    if (limits.has(category.data)) wrong([place, "category"], "This category stands above already.");
    // Basis points to parts per million.
    limits.set(category.data, share.data * 100);
  }
  return [...limits].map(([category, limitPpm]) => ({ category, limitPpm }));
}

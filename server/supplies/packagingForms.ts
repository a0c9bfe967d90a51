import { z } from "zod";
import { blankOr, choiceField, idField, rowsOf, textField, wholeNumberField } from "../http/formFields.ts";
import { packagingKinds } from "./kinds.ts";
import { leastPieces, stockFacts, stockFields } from "./stockFields.ts";

/** Kinds of packaging that one product is packed with at most. */
const MOST_PACKING_PARTS = 20;

/** What pieces are packed with: cups, bags, ties, labels, boxes. */
export const packagingForm = z
  .object({
    name: textField({ most: 120 }),
    kind: choiceField(packagingKinds, "Choose what it is to the packing."),
    statement: textField({ most: 2000, blank: true }),
    ...stockFields(leastPieces),
  })
  .transform(({ uncounted, leastOnHand, coverDays, ...rest }) => ({
    ...rest,
    ...stockFacts({ uncounted, leastOnHand, coverDays }, 1),
  }));

export type PackagingFacts = z.output<typeof packagingForm>;

const packingRow = z.object({
  supply: idField("Choose what it is packed with."),
  amount: wholeNumberField({ least: 1, most: 1000 }),
  forPieces: blankOr(wholeNumberField({ least: 1, most: 10_000 })),
});

/**
 * What a product is packed with, as rows: a supply, so many of it, for every so many pieces (one where left blank). Rows
 * without a supply do not count. The mistakes of row 2 stand at "packing.2.supply" and so on.
 */
export const packingListForm = z.preprocess(
  (body) =>
    typeof body === "object" && body !== null
      ? {
          packing: rowsOf(body, { supply: "packedWith", amount: "packedAmount", forPieces: "packedFor" }),
        }
      : body,
  z.object({
    packing: z
      .array(z.object({ supply: z.string(), amount: z.string(), forPieces: z.string() }))
      .transform((rows, context) => {
        const filled = [...rows.entries()].filter(([, row]) => row.supply.trim() !== "");
        if (filled.length > MOST_PACKING_PARTS)
          context.addIssue({ code: "custom", message: `At most ${MOST_PACKING_PARTS} kinds of packaging.` });
        const seen = new Set<number>();
        return filled.slice(0, MOST_PACKING_PARTS).flatMap(([place, row]) => {
          const read = packingRow.safeParse(row);
          for (const issue of read.error?.issues ?? [])
            context.addIssue({ code: "custom", path: [place, ...issue.path], message: issue.message });
          if (!read.success) return [];
          const { supply: supplyId, amount, forPieces } = read.data;
          if (seen.has(supplyId))
            context.addIssue({
              code: "custom",
              path: [place, "supply"],
              message: "This stands above already: add the two up.",
            });
          seen.add(supplyId);
          return [{ place, supplyId, amount, forPieces: forPieces ?? 1 }];
        });
      }),
  }),
);

export type PackingList = z.output<typeof packingListForm>["packing"];

import { z } from "zod";
import { dateField, rowsOf, textField } from "../http/formFields.ts";
import { piecesField, type TypedPieces, withPieces } from "../http/piecesFields.ts";
import { referenceField } from "../orders/forms.ts";
import { MOST_LINES } from "../orders/order.ts";

/** What a shop fills in on its order page. */
export const shopOrderForm = z
  .preprocess(
    withPieces,
    z.object({
      needed_by: dateField(),
      customer_reference: referenceField,
      note: textField({ most: 2000, blank: true }),
      lines: piecesField(MOST_LINES),
    }),
  )
  .transform(({ needed_by, customer_reference, ...rest }) => ({
    ...rest,
    neededBy: needed_by,
    customerReference: customer_reference,
  }));

/** What can be read of a page that is still being filled in; nothing in it is a mistake yet. */
export interface PiecesBeingTyped {
  readonly neededBy: string | null;
  readonly lines: readonly TypedPieces[];
}

const neededBy = z.object({ needed_by: dateField() });
const onePieces = z.preprocess(withPieces, z.object({ lines: piecesField(MOST_LINES) }));

export function readPiecesBeingTyped(body: unknown): PiecesBeingTyped {
  return {
    neededBy: neededBy.safeParse(body).data?.needed_by ?? null,
    lines: rowsOf(body, { product: "product", units: "units" })
      .slice(0, MOST_LINES)
      .flatMap((row) => onePieces.safeParse(row).data?.lines ?? []),
  };
}

import { z } from "zod";
import { idField, rowsOf, wholeNumberField } from "./formFields.ts";

/** So many pieces of one product. */
export interface TypedPieces {
  readonly productId: number;
  readonly units: number;
}

/** Pieces of one line at most. */
const MOST_UNITS = 100_000;

const unitsField = wholeNumberField({ least: 1, most: MOST_UNITS });

/** Gathers the lists `product` and `units`, sent side by side, into the rows that `piecesField` reads. */
export function withPieces(body: unknown): unknown {
  if (typeof body !== "object" || body === null) return body;
  return { ...body, lines: rowsOf(body, { product: "product", units: "units" }) };
}

/**
 * How many pieces of each product of a list: a row for every product, most of them left blank or at 0, at least one
 * not. The mistakes about product 12 stand at `unitsOf(12)`.
 */
export function piecesField(mostLines: number): z.ZodType<readonly TypedPieces[]> {
  return z
    .array(z.object({ product: z.string(), units: z.string() }))
    .transform((rows, context) => readRows(rows, mostLines, context)) as unknown as z.ZodType<
    readonly TypedPieces[]
  >;
}

/** The name of a product's field, by which its label and its mistake find it. */
export function unitsOf(productId: number | string): string {
  return `lines.${productId}`;
}

function readRows(
  rows: readonly { readonly product: string; readonly units: string }[],
  mostLines: number,
  context: z.RefinementCtx,
): readonly TypedPieces[] {
  const wrong = (path: string[], message: string) => context.addIssue({ code: "custom", path, message });
  const filled = rows.filter(({ units }) => !/^[\s0]*$/.test(units));
  if (filled.length === 0) wrong([], "Nothing is asked for yet: say how many pieces of at least one.");
  if (filled.length > mostLines) {
    wrong([], `At most ${mostLines} products at once.`);
    return [];
  }
  const lines = new Map<number, TypedPieces>();
  for (const row of filled) {
    const productId = idField().safeParse(row.product);
    const units = unitsField.safeParse(row.units);
    if (!productId.success) wrong([], "Reload the page: this list is no longer the one it was.");
    else if (!units.success) wrong([row.product], units.error.issues[0]?.message ?? "Look at this again.");
    else if (lines.has(productId.data)) wrong([row.product], "This product is asked for twice.");
    else lines.set(productId.data, { productId: productId.data, units: units.data });
  }
  return [...lines.values()];
}

import { and, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { priceLists } from "../../db/schema/priceLists.ts";
import { taxGroups } from "../../db/schema/taxes.ts";
import { shapes } from "../../db/schema/workshop.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import type { CustomerFacts } from "./forms.ts";

export type TermsRefusal = "currency-changed" | "tax-group-unknown" | "price-list-unknown" | "shape-unknown";

/** What a customer had before a change: what is retired by now may stay. */
interface KeptTerms {
  readonly taxGroupId: number | null;
  readonly priceListId: number | null;
}

/** Holds the terms asked for against what there is to choose from; null when they can be kept. */
export async function checkTerms(
  transaction: Transaction,
  { currency, taxGroupId, priceListId, casePacks }: CustomerFacts,
  kept: KeptTerms = { taxGroupId: null, priceListId: null },
): Promise<TermsRefusal | null> {
  if ((await holdCurrency(transaction)) !== currency) return "currency-changed";
  if (taxGroupId !== null && taxGroupId !== kept.taxGroupId) {
    const inUse = and(eq(taxGroups.id, taxGroupId), isNull(taxGroups.retiredAt));
    if ((await transaction.$count(taxGroups, inUse)) === 0) return "tax-group-unknown";
  }
  if (priceListId !== null && priceListId !== kept.priceListId) {
    const inUse = and(eq(priceLists.id, priceListId), isNull(priceLists.retiredAt));
    if ((await transaction.$count(priceLists, inUse)) === 0) return "price-list-unknown";
  }
  const shapeIds = casePacks.map(({ shapeId }) => shapeId);
  const known = shapeIds.length === 0 ? 0 : await transaction.$count(shapes, inArray(shapes.id, shapeIds));
  return known === shapeIds.length ? null : "shape-unknown";
}

import { isDeepStrictEqual } from "node:util";
import { and, eq, isNull, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { invoices } from "../../db/schema/invoices.ts";
import { marketHabits, markets } from "../../db/schema/markets.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { parcels } from "../../db/schema/parcels.ts";
import { listPrices, ownPrices } from "../../db/schema/prices.ts";
import { products } from "../../db/schema/products.ts";
import { purchases, supplyPacks } from "../../db/schema/suppliers.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { taxGroups } from "../../db/schema/taxes.ts";
import { workshop } from "../../db/schema/workshop.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MoneySettings } from "./forms.ts";

export type MoneyChangeRefusal = "currency-in-use" | "tax-group-unknown";

/**
 * Sets how money is counted here. The currency stays once there is an amount in it; orders that have their prices keep
 * the rounding they were confirmed with.
 */
export async function changeMoney(
  transaction: Transaction,
  actor: Actor,
  after: MoneySettings,
): Promise<Result<null, MoneyChangeRefusal>> {
  const [row] = await transaction.select(moneyColumns).from(workshop).for("update");
  if (!row) throw new Error("There is no workshop to change");
  if (isDeepStrictEqual(row, after)) return ok(null);
  if (row.currency !== after.currency && (await hasAmounts(transaction))) return refuse("currency-in-use");
  if (after.usualTaxGroupId !== null && after.usualTaxGroupId !== row.usualTaxGroupId) {
    const inUse = and(eq(taxGroups.id, after.usualTaxGroupId), isNull(taxGroups.retiredAt));
    if ((await transaction.$count(taxGroups, inUse)) === 0) return refuse("tax-group-unknown");
  }
  await transaction.update(workshop).set(after);
  await recordChange(transaction, actor, {
    subject: "money",
    subjectId: 1,
    what: "changed",
    before: row,
    after,
  });
  return ok(null);
}

const moneyColumns = {
  currency: workshop.currency,
  rounding: workshop.rounding,
  usualTaxGroupId: workshop.usualTaxGroupId,
  makingCostBasisPoints: workshop.makingCostBasisPoints,
  leftoverLossBasisPoints: workshop.leftoverLossBasisPoints,
};

export async function readMoney(db: Database): Promise<MoneySettings> {
  const [row] = await db.select(moneyColumns).from(workshop);
  if (!row) throw new Error("There is no workshop to read");
  return row;
}

/** Whether any amount is kept in the workshop's currency; the last line behind it is a trigger of the migrations. */
export async function hasAmounts(db: Database | Transaction): Promise<boolean> {
  const [row] = await db.execute<{ there: boolean }>(sql`
    select exists (select from ${listPrices} where ${listPrices.unitPriceMinor} is not null)
      or exists (select from ${ownPrices} where ${ownPrices.unitPriceMinor} is not null)
      or exists (select from ${orderLines} where ${orderLines.unitPriceMinor} is not null)
      or exists (select from ${orders} where ${orders.shippingMinor} > 0)
      or exists (select from ${customers}
        where ${customers.shippingMinor} > 0 or ${customers.leastOrderMinor} is not null)
      or exists (select from ${products} where ${products.makingCostMinor} is not null)
      or exists (select from ${markets} where ${markets.feeMinor} > 0)
      or exists (select from ${marketHabits} where ${marketHabits.feeMinor} > 0)
      or exists (select from ${supplyLots} where ${supplyLots.priceMinor} is not null)
      or exists (select from ${supplyPacks} where ${supplyPacks.priceMinor} is not null)
      or exists (select from ${purchases} where ${purchases.priceMinor} is not null)
      or exists (select from ${invoices})
      or exists (select from ${parcels} where ${parcels.costMinor} is not null)
      or exists (select from ${workshop} where ${workshop.hourMinor} is not null) as there`);
  return row?.there ?? false;
}

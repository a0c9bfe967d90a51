import { and, eq, gte, inArray, lte, type SQL, sql } from "drizzle-orm";
import { customers } from "../../db/schema/customers.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { plans } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import type { Lateness, OrderFilter } from "./filter.ts";
import type { OrderState } from "./order.ts";

export const OPEN: readonly OrderState[] = ["confirmed", "packing", "packed"];
const WAITED_FOR: readonly OrderState[] = ["confirmed", "packing"];

/** What a filter asks for, as a condition on `orders` joined with `customers`. */
export function conditionOf(filter: OrderFilter, today: string): SQL | undefined {
  const { customerId, words, blendId, from, to, lateness } = filter;
  return and(
    stateCondition(filter.state, today),
    customerId === null ? undefined : eq(orders.customerId, customerId),
    blendId === null ? undefined : hasLine(sql`${products.blendId} = ${blendId}`),
    from === null ? undefined : gte(orders.shipBy, from),
    to === null ? undefined : lte(orders.shipBy, to),
    lateness === null ? undefined : latenessCondition(lateness, today),
    ...words
      .split(" ")
      .filter((word) => word !== "")
      .map(standsOnIt),
  );
}

export function stateCondition(state: OrderFilter["state"], today: string): SQL | undefined {
  switch (state) {
    case "all":
      return undefined;
    case "open":
      return inArray(orders.state, [...OPEN]);
    case "late":
      return and(inArray(orders.state, [...WAITED_FOR]), sql`${orders.shipBy} < ${today}`);
    default:
      return eq(orders.state, state);
  }
}

function latenessCondition(lateness: Lateness, today: string): SQL {
  switch (lateness) {
    case "date-gone-by":
      return sql`${orders.shippedAt} is null and ${orders.cancelledAt} is null and ${orders.shipBy} < ${today}`;
    case "by-plan":
      // Case and answer of a plan speak of orders by their references.
      return sql`${orders.state} in ('confirmed', 'packing') and exists (
        select from ${plans}, jsonb_array_elements(${plans.answer} -> 'orders') as outcome
        where ${plans.state} = 'accepted' and outcome ->> 'id' = ${orders.reference}
          and ((outcome ->> 'daysLate')::integer > 0 or (outcome ->> 'unitsShort')::integer > 0))`;
    case "left-late":
      return sql`(${orders.packedAt} at time zone (select time_zone from workshop))::date > ${orders.shipBy}`;
  }
}

/** Whether a word stands anywhere on the order, in small letters or capital ones. */
function standsOnIt(word: string): SQL {
  const pattern = `%${word.replaceAll(/[\\%_]/g, "\\$&")}%`;
  return sql`(concat_ws(' ', ${orders.reference}, ${orders.customerReference}, ${orders.shopReference},
      ${orders.note}, ${orders.customerNote}, ${customers.name}) ilike ${pattern}
    or ${hasLine(sql`concat_ws(' ', ${products.name}, ${products.code}, ${blends.name}) ilike ${pattern}`)})`;
}

function hasLine(condition: SQL): SQL {
  return sql`exists (select from ${orderLines} join ${products} on ${products.id} = ${orderLines.productId}
    join ${blends} on ${blends.id} = ${products.blendId}
    where ${orderLines.orderId} = ${orders.id} and ${orderLines.units} > 0 and ${condition})`;
}

import { sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { orderPromiseLines, orderPromises } from "../../db/schema/orderPromises.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";

/**
 * Writes down what the customers of these orders have been promised by now, date and pieces. A draft promises nothing;
 * what was promised last is not written again.
 */
export async function keepPromises(
  transaction: Transaction,
  at: Date,
  orderIds: readonly number[],
): Promise<void> {
  // One array of numbers however many orders a file brought: a statement takes only so many parameters.
  const ids = sql`any(${`{${orderIds.join(",")}}`}::integer[])`;
  await transaction.execute(sql`
    with made as (
      insert into ${orderPromises} (order_id, made_at, ship_by)
      select o.id, ${at.toISOString()}::timestamptz, o.ship_by from ${orders} o
      where o.id = ${ids} and o.state <> 'draft'
        and (o.ship_by, (select string_agg(l.product_id || ' ' || l.units, ',' order by l.product_id)
          from ${orderLines} l where l.order_id = o.id and l.units > 0)) is distinct from (
          select (p.ship_by, (select string_agg(pl.product_id || ' ' || pl.units, ',' order by pl.product_id)
            from ${orderPromiseLines} pl where pl.promise_id = p.id))
          from ${orderPromises} p where p.order_id = o.id order by p.id desc limit 1)
      order by o.id returning id, order_id)
    insert into ${orderPromiseLines} (promise_id, product_id, units)
    select made.id, l.product_id, l.units from made join ${orderLines} l on l.order_id = made.order_id
    where l.units > 0`);
}

import { and, asc, eq, inArray, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customerContacts, customers } from "../../db/schema/customers.ts";
import { lots } from "../../db/schema/lots.ts";
import { markets } from "../../db/schema/markets.ts";
import { orders } from "../../db/schema/orders.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { suppliers } from "../../db/schema/suppliers.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { groupBy } from "../basics/groupBy.ts";

/*
 * Where everything went, from the two ledgers. Each step asks for the rows of what the step before found, by an index
 * that begins with it (supply moves by lot and by run, lots by run, moves and delivery lines by lot and by order line), so
 * that years of records beside it are never read.
 */

/** Most finds of a search. */
const MOST_FOUND = 50;

/** Lots, lots of supplies and orders whose code or number has the given words in it; the newest first. */
export async function findTraceable(db: Database, words: string) {
  const has = (text: ReturnType<typeof sql>) => sql`position(lower(${words}) in lower(${text})) > 0`;
  return {
    supplyLots: await db
      .select({
        id: supplyLots.id,
        code: supplyLots.code,
        supply: supplies.name,
        supplierLot: supplyLots.supplierLot,
      })
      .from(supplyLots)
      .innerJoin(supplies, eq(supplies.id, supplyLots.supplyId))
      .where(
        or(has(sql`${supplyLots.code}`), has(sql`${supplyLots.supplierLot}`), has(sql`${supplies.name}`)),
      )
      .orderBy(sql`${supplyLots.id} desc`)
      .limit(MOST_FOUND),
    lots: await db
      .select({ id: lots.id, code: lots.code, product: products.name })
      .from(lots)
      .innerJoin(products, eq(products.id, lots.productId))
      .where(and(has(sql`${lots.code}`), sql`${lots.formedAt} is not null`))
      .orderBy(sql`${lots.id} desc`)
      .limit(MOST_FOUND),
    orders: await db
      .select({ id: orders.id, reference: orders.reference, customer: customers.name })
      .from(orders)
      .innerJoin(customers, eq(customers.id, orders.customerId))
      .where(has(sql`${orders.reference}`))
      .orderBy(sql`${orders.id} desc`)
      .limit(MOST_FOUND),
  };
}

/** A lot of a supply, and what became of all of it: its parts add up to what was received. */
export async function findSupplyLot(db: Database, supplyLotId: number) {
  const sum = (
    which: ReturnType<typeof sql>,
  ) => sql<number>`(select coalesce(sum(m.amount), 0) from supply_moves m
    where m.lot_id = ${supplyLotId} and ${which})::double precision`;
  const [row] = await db
    .select({
      id: supplyLots.id,
      code: supplyLots.code,
      supplyId: supplies.id,
      supply: supplies.name,
      kind: supplies.kind,
      supplier: suppliers.name,
      supplierContact: suppliers.contact,
      supplierLot: supplyLots.supplierLot,
      receivedOn: supplyLots.receivedOn,
      expiresOn: supplyLots.expiresOn,
      received: sum(sql`m.kind = 'received'`),
      usedByRuns: sum(sql`m.run_id is not null and m.kind in ('used', 'unused')`),
      usedByPacking: sum(sql`m.order_line_id is not null and m.kind in ('used', 'unused')`),
      lost: sum(sql`m.kind = 'lost'`),
      counted: sum(sql`m.kind = 'counted'`),
      onHand: sum(sql`true`),
    })
    .from(supplyLots)
    .innerJoin(supplies, eq(supplies.id, supplyLots.supplyId))
    .leftJoin(suppliers, eq(suppliers.id, supplyLots.supplierId))
    .where(eq(supplyLots.id, supplyLotId));
  return row;
}

export type TracedSupplyLot = NonNullable<Awaited<ReturnType<typeof findSupplyLot>>>;

/** The batches a lot of a supply went into, and how much of it is in each; those given back whole left out. */
export async function runsOfSupplyLot(db: Database, supplyLotId: number) {
  const taken = sql<number>`(-sum(m.amount))::double precision`;
  return await db
    .select({ runId: runs.id, blend: blends.name, sessionDate: runs.sessionDate, amount: taken })
    .from(sql`supply_moves m`)
    .innerJoin(runs, sql`${runs.id} = m.run_id`)
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .where(sql`m.lot_id = ${supplyLotId} and m.kind in ('used', 'unused')`)
    .groupBy(runs.id, blends.id)
    .having(sql`sum(m.amount) <> 0`)
    .orderBy(asc(runs.sessionDate), asc(runs.id));
}

/** Whom one reaches at a customer: whoever was written down first there. */
const contactOfCustomer = sql<string>`coalesce((select concat_ws(', ', nullif(c.name, ''), nullif(c.phone, ''), nullif(c.email, ''))
  from ${customerContacts} c where c.customer_id = customers.id order by c.id limit 1), '')`;

/**
 * Orders that were packed with a lot of packaging itself: how much of it went around them, how much of that is still here
 * around what has not left, and when something that it was around left last.
 */
export async function ordersPackedWith(db: Database, supplyLotId: number) {
  const rows = await db
    .select({
      ...whatOrder,
      amount: sql<number>`t.amount::double precision`,
      here: sql<number>`t.here::double precision`,
      lastLeftAt: sql<string | null>`t.last_left_at`,
    })
    .from(sql`(select l.order_id, sum(used.amount) as amount, sum(coalesce(here.amount, 0)) as here,
        max((select max(d.shipped_at) from delivery_lines dl join deliveries d on d.id = dl.delivery_id
          where dl.order_line_id = l.id))::text as last_left_at
      from (select m.order_line_id, -sum(m.amount) as amount from supply_moves m
          where m.lot_id = ${supplyLotId} and m.kind in ('used', 'unused') and m.order_line_id is not null
          group by m.order_line_id having sum(m.amount) <> 0) as used
        join order_lines l on l.id = used.order_line_id
        left join (select * from packaging_here where lot_id = ${supplyLotId}) as here
          on here.order_line_id = used.order_line_id
      group by l.order_id) as t`)
    .innerJoin(orders, sql`${orders.id} = t.order_id`)
    .leftJoin(markets, eq(markets.orderId, orders.id))
    .orderBy(asc(orders.id));
  return await withCustomers(db, rows);
}

/** The pieces made in some batches, lot by lot, and where they are: all of it adds up to what was made. */
export async function lotsOfRuns(db: Database, runIds: readonly number[]) {
  return runIds.length === 0 ? [] : await readLots(db, inArray(lots.runId, [...runIds]));
}

export async function findLot(db: Database, lotId: number) {
  const [lot] = await readLots(db, eq(lots.id, lotId));
  return lot;
}

export type TracedLot = Awaited<ReturnType<typeof readLots>>[number];

async function readLots(db: Database, which: ReturnType<typeof inArray>) {
  const found = await db
    .select({
      id: lots.id,
      code: lots.code,
      runId: lots.runId,
      productId: products.id,
      product: products.name,
      formedAt: lots.formedAt,
    })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .where(and(which, sql`${lots.formedAt} is not null`))
    .orderBy(asc(lots.id));
  const sums = await sumsOfLots(
    db,
    found.map(({ id }) => id),
  );
  return found.map((lot) => ({ ...lot, ...(sums.get(lot.id) ?? nothing) }));
}

/** Where the pieces of a lot are: made, came home and counted are together what is here, packed, shipped and lost. */
const nothing = {
  made: 0,
  here: 0,
  /** In boxes that have not left. */
  packed: 0,
  shipped: 0,
  cameHome: 0,
  lost: 0,
  /** What counts found more, or fewer. */
  counted: 0,
};

async function sumsOfLots(db: Database, lotIds: readonly number[]) {
  if (lotIds.length === 0) return new Map<number, typeof nothing>();
  const these = numbers(lotIds);
  const sum = (kinds: ReturnType<typeof sql>) =>
    sql`coalesce(sum(units) filter (where kind in (${kinds})), 0)::integer`;
  const rows = await db.execute<{ readonly lotId: number } & typeof nothing>(sql`
    select moved.lot_id as "lotId", made, here, boxed - coalesce(gone.units, 0)::integer as packed,
      coalesce(gone.units, 0)::integer as shipped, came_home as "cameHome", lost, counted
    from (select lot_id, ${sum(sql`'made'`)} as made, sum(units)::integer as here,
        -${sum(sql`'packed', 'unpacked'`)} as boxed, ${sum(sql`'returned'`)} as came_home, -${sum(sql`'lost'`)} as lost,
        ${sum(sql`'counted'`)} as counted
      from moves where lot_id = any(${these}) group by lot_id) as moved
    left join (select lot_id, sum(units) as units from delivery_lines where lot_id = any(${these}) group by lot_id) as gone
      on gone.lot_id = moved.lot_id`);
  return new Map(rows.map(({ lotId, ...sums }) => [lotId, sums]));
}

/** A parameter for any number of ids, so that a question of eight hundred lots is no longer than one of a single lot. */
function numbers(ids: readonly number[]) {
  return sql`${sql.param([...ids])}::integer[]`;
}

/** Which orders have pieces of some lots, in their boxes or gone, and whom to call there; by customer. */
export async function ordersOfLots(db: Database, lotIds: readonly number[]) {
  if (lotIds.length === 0) return [];
  const these = numbers(lotIds);
  const rows = await db
    .select({
      ...whatOrder,
      lotId: sql<number>`t.lot_id`,
      packed: sql<number>`(t.packed - t.shipped)::integer`,
      shipped: sql<number>`t.shipped::integer`,
      cameHome: sql<number>`t.came_home::integer`,
      lastLeftAt: sql<string | null>`t.last_left_at`,
    })
    .from(sql`(select order_id, lot_id, sum(packed) as packed, sum(shipped) as shipped, sum(came_home) as came_home,
        max(left_at)::text as last_left_at
      from (
        select l.order_id, m.lot_id, -m.units as packed, 0 as shipped, 0 as came_home, null::timestamptz as left_at
          from moves m join order_lines l on l.id = m.order_line_id where m.lot_id = any(${these})
        union all
        select d.order_id, dl.lot_id, 0, dl.units, 0, d.shipped_at
          from delivery_lines dl join deliveries d on d.id = dl.delivery_id where dl.lot_id = any(${these})
        union all
        select d.order_id, m.lot_id, 0, 0, m.units, null
          from moves m join deliveries d on d.id = m.delivery_id where m.lot_id = any(${these})
      ) as parts group by order_id, lot_id) as t`)
    .innerJoin(orders, sql`${orders.id} = t.order_id`)
    .leftJoin(markets, eq(markets.orderId, orders.id))
    .where(sql`t.packed <> 0`)
    .orderBy(asc(orders.id), sql`t.lot_id`);
  return await withCustomers(db, rows);
}

const whatOrder = {
  orderId: orders.id,
  reference: orders.reference,
  customerId: orders.customerId,
  /** The date of the market it is the crate list of; null: it is for a shop, or for no market that was planned. */
  heldOn: markets.heldOn,
};

/** The customers of some orders beside them, each read once; by name, the orders of each as they come. */
async function withCustomers<Row extends { readonly customerId: number }>(
  db: Database,
  rows: readonly Row[],
) {
  const found = await db
    .select({
      customerId: customers.id,
      customer: customers.name,
      address: customers.address,
      kind: customers.kind,
      contact: contactOfCustomer,
    })
    .from(customers)
    .where(sql`${customers.id} = any(${numbers([...new Set(rows.map(({ customerId }) => customerId))])})`)
    .orderBy(asc(customers.name), asc(customers.id));
  const rowsOf = groupBy(rows, ({ customerId }) => customerId);
  return found.flatMap((customer) =>
    (rowsOf.get(customer.customerId) ?? []).map((row) => ({ ...row, ...customer })),
  );
}

export type OrderPackedWith = Awaited<ReturnType<typeof ordersPackedWith>>[number];

export type OrderWithLot = Awaited<ReturnType<typeof ordersOfLots>>[number];

/** The lots of every supply that went into some batches, and how much of each; what was used beyond the ledger too. */
export async function suppliesOfRuns(db: Database, runIds: readonly number[]) {
  if (runIds.length === 0) return [];
  return await db
    .select({ runId: sql<number>`m.run_id`, ...whatSupplyLot })
    .from(sql`supply_moves m`)
    .innerJoin(supplies, sql`${supplies.id} = m.supply_id`)
    .leftJoin(supplyLots, sql`${supplyLots.id} = m.lot_id`)
    .leftJoin(suppliers, eq(suppliers.id, supplyLots.supplierId))
    .where(sql`m.run_id = any(${numbers(runIds)}) and m.kind in ('used', 'unused')`)
    .groupBy(sql`m.run_id`, supplies.id, supplyLots.id, suppliers.id)
    .having(sql`sum(m.amount) <> 0`)
    .orderBy(sql`m.run_id`, asc(supplies.name), asc(supplyLots.id));
}

const whatSupplyLot = {
  supplyLotId: supplyLots.id,
  code: supplyLots.code,
  supplierLot: supplyLots.supplierLot,
  supplier: suppliers.name,
  supply: supplies.name,
  kind: supplies.kind,
  amount: sql<number>`(-sum(m.amount))::double precision`,
};

/** The lots of packaging an order was packed with. */
export async function packagingOfOrder(db: Database, orderId: number) {
  return await db
    .select(whatSupplyLot)
    .from(sql`supply_moves m`)
    .innerJoin(sql`order_lines l`, sql`l.id = m.order_line_id`)
    .innerJoin(supplies, sql`${supplies.id} = m.supply_id`)
    .leftJoin(supplyLots, sql`${supplyLots.id} = m.lot_id`)
    .leftJoin(suppliers, eq(suppliers.id, supplyLots.supplierId))
    .where(sql`l.order_id = ${orderId} and m.kind in ('used', 'unused')`)
    .groupBy(supplies.id, supplyLots.id, suppliers.id)
    .having(sql`sum(m.amount) <> 0`)
    .orderBy(asc(supplies.name), asc(supplyLots.id));
}

/** An order, and the pieces of which lots are in its boxes or gone with it. */
export async function findTracedOrder(db: Database, orderId: number) {
  const [order] = await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customerId: customers.id,
      customer: customers.name,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(eq(orders.id, orderId));
  if (!order) return undefined;
  const pieces = await db
    .select({
      lotId: lots.id,
      code: lots.code,
      runId: lots.runId,
      product: products.name,
      units: sql<number>`(-sum(m.units))::integer`,
    })
    .from(sql`moves m`)
    .innerJoin(sql`order_lines l`, sql`l.id = m.order_line_id`)
    .innerJoin(lots, sql`${lots.id} = m.lot_id`)
    .innerJoin(products, eq(products.id, lots.productId))
    .where(sql`l.order_id = ${orderId}`)
    .groupBy(lots.id, products.id)
    .having(sql`sum(m.units) <> 0`)
    .orderBy(asc(lots.id));
  return { ...order, pieces };
}

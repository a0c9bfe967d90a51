import { eq } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { insertPerson, insertPlan, insertProduct, insertShape } from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

/*
 * Five years of a busy workshop, written by plain bulk SQL with the ledgers' own triggers asleep: nobody checks half a
 * million rows one by one twice. Every number comes from the row's own place, so that each load is the same.
 */

export const RUNS = 10_000;
export const LOTS = 20_000;
export const ORDERS = 12_000;
export const LINES = 60_000;
/** As many as the generated rows below count on. */
const PRODUCTS = 40;
/** A bag of the first ingredient lasts for so many runs, one of the others for a tenth of it. */
const RUNS_A_LARGE_BAG = 400;
const INGREDIENTS = 8;

const LEDGERS = ["moves", "delivery_lines", "supply_moves"];

/** 20,000 lots of 10,000 runs, 60,000 lines of 12,000 orders, and what was moved for them: 150,000 and 141,000 moves. */
export async function insertFiveYears({ db, sql }: TestDatabase): Promise<void> {
  await insertPlan(db, { personId: await insertPerson(db, { name: "Wren" }), state: "proposed" });
  const shapeId = await insertShape(db);
  for (let product = 0; product < PRODUCTS; product += 1)
    await insertProduct(db, { code: `blend-${product}/ball-60`, name: `Ball ${product}`, shapeId });
  await sql.begin(async (begun) => {
    for (const table of LEDGERS) await begun`alter table ${begun(table)} disable trigger user`;
    await begun.unsafe(CUSTOMERS);
    await begun.unsafe(MADE);
    await begun.unsafe(SOLD);
    await begun.unsafe(BOUGHT);
    for (const table of LEDGERS) await begun`alter table ${begun(table)} enable trigger user`;
  });
  await sql.unsafe("analyze");
}

/** The id of a lot of cartons: every tenth order line was packed with it. */
export async function lotOfCartons(db: Database): Promise<number> {
  const [lot] = await db
    .select({ id: supplyLots.id })
    .from(supplyLots)
    .where(eq(supplyLots.supplierLot, "C1"));
  return lot?.id ?? 0;
}

const CUSTOMERS = `
  insert into customers (name, kind, address) select 'Shop ' || n, 'shop', n || ' Wick Lane' from generate_series(1, 300) n;
  insert into customer_contacts (customer_id, name, phone) select id, 'Odile', '555 0101' from customers;`;

const MADE = `
  insert into runs (plan_id, blend_id, session_date, session_starts_at, session_ends_at, bowls, drying_factor, state, started_at, formed_at)
    select (select id from plans limit 1), (select min(id) from blends) + n % 40, date '2022-01-03' + n / 6,
      timestamptz '2022-01-03 09:00Z' + interval '4 hours' * n, timestamptz '2022-01-03 12:00Z' + interval '4 hours' * n, 2, 1,
      'formed', timestamptz '2022-01-03 09:00Z' + interval '4 hours' * n, timestamptz '2022-01-03 11:00Z' + interval '4 hours' * n
    from generate_series(0, ${RUNS - 1}) n;
  insert into lots (code, product_id, run_id, state, planned_units, trays, created_at, formed_at, unmold_due_at, ready_due_at,
      unmolded_at, ready_at)
    select 'L' || lpad(n::text, 5, '0'), (select min(id) from products) + (n / 2) % 40, (select min(id) from runs) + n / 2, 'ready',
      200, 1, t, t, t, t, t, t
    from generate_series(0, ${LOTS - 1}) n, lateral (select timestamptz '2022-01-04 09:00Z' + interval '2 hours' * n) as at (t);
  insert into moves (lot_id, kind, units, at) select id, 'made', 200, created_at from lots order by id;
  insert into moves (lot_id, kind, units, cause, at) select id, 'lost', -2, 'cracked', created_at from lots where id % 2 = 0 order by id;`;

/** Every line takes from two lots of its product that stand side by side in time. */
const SOLD = `
  insert into orders (reference, customer_id, terms, ship_by, weight, state, created_at, confirmed_at, packed_at, shipped_at)
    select 'Y-' || n, (select min(id) from customers) + n % 300, 'complete', date '2022-01-10' + n / 7, 1, 'shipped', t, t, t, t
    from generate_series(0, ${ORDERS - 1}) n, lateral (select timestamptz '2022-01-10 09:00Z' + interval '3 hours' * n) as at (t);
  insert into order_lines (order_id, product_id, units)
    select o.id, (select min(id) from products) + (o.id * 5 + n) % 40, 24 from orders o, generate_series(0, 4) n order by o.id, n;
  insert into deliveries (order_id, how, state, shipped_at) select id, 'parcel', 'shipped', shipped_at from orders order by id;
  create temporary table taken on commit drop as
    select l.id as line_id, l.order_id, lots.id as lot_id
    from order_lines l, generate_series(0, 1) part,
      lateral (select (select min(id) from lots) + ((l.id / 160 % 250) * 40 + (l.product_id - (select min(id) from products))) * 2 + part as id) as lots;
  insert into moves (lot_id, kind, units, order_line_id, at)
    select lot_id, 'packed', -12, line_id, '2024-01-01' from taken order by line_id, lot_id;
  insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
    select d.id, line_id, lot_id, 12 from taken join deliveries d on d.order_id = taken.order_id order by line_id, lot_id;`;

const BOUGHT = `
  insert into suppliers (name, delivery_days) values ('The Salt Cellar', 3);
  insert into supplies (name, kind) select 'Ingredient ' || n, 'soda' from generate_series(1, ${INGREDIENTS}) n;
  insert into supplies (name, kind) values ('Carton', 'box');
  create temporary table bags on commit drop as
    select s.id as supply_id, row_number() over (order by s.id) - 1 as place,
      case when s.id = (select min(id) from supplies) then ${RUNS_A_LARGE_BAG} else ${RUNS_A_LARGE_BAG / 10} end as lasts
    from supplies s where kind <> 'box';
  create function bag_code(n bigint) returns text language sql as $$
    select 'S' || upper(lpad(to_hex(n), 4, '0')) $$;
  insert into supply_lots (code, supply_id, supplier_id, supplier_lot, received_on, created_at)
    select bag_code(place * 1000 + n), supply_id, (select id from suppliers), 'X' || n, date '2022-01-01' + n::integer, now()
    from bags, lateral generate_series(0, ${RUNS} / lasts - 1) n;
  insert into supply_lots (code, supply_id, supplier_lot, received_on, created_at)
    select bag_code(9000 + n), (select id from supplies where kind = 'box'), 'C' || n, date '2022-01-01' + n, now() from generate_series(0, 9) n;
  insert into supply_moves (supply_id, lot_id, kind, amount, at) select supply_id, id, 'received', 1000000000, now() from supply_lots;
  insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at)
    select b.supply_id, sl.id, 'used', -500000, (select min(id) from runs) + n, now()
    from generate_series(0, ${RUNS - 1}) n, bags b, supply_lots sl where sl.code = bag_code(b.place * 1000 + n / b.lasts);
  insert into supply_moves (supply_id, lot_id, kind, amount, order_line_id, at)
    select (select id from supplies where kind = 'box'), sl.id, 'used', -2, l.id, now()
    from order_lines l join supply_lots sl on sl.code = bag_code(9000 + l.id % 10);
  drop function bag_code(bigint);`;

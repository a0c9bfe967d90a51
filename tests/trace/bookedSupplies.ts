import type { Sql } from "postgres";
import {
  insertCustomer,
  insertPerson,
  insertPlan,
  insertProduct,
  insertRun,
  insertWorkshop,
} from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

const AT = "2027-03-01T12:00:00Z";

type Dice = (sides: number) => number;

interface SupplyLot {
  readonly id: number;
  readonly supplyId: number;
  readonly boxes: boolean;
}

/**
 * Three ingredients and a box in three lots each, six batches of two lots, eight orders for all of it, thrown by dice:
 * used and given back, also after a count, used beyond the ledger, lost, packed, unpacked, sent, and come home.
 */
export async function insertSupplies({ db, sql }: TestDatabase): Promise<void> {
  const dice = diceFrom(20_270_301);
  await insertWorkshop(db);
  const planId = await insertPlan(db, { personId: await insertPerson(db, { name: "Wren Oddfellow" }) });
  const productId = await insertProduct(db, { code: "cedar/ball-60", name: "Cedar ball" });
  const supplyLots = await receive(sql, dice);
  const lotIds: number[] = [];
  for (let count = 0; count < 6; count += 1) {
    const { runId, lotIds: its } = await insertRun(db, {
      ...{
        planId,
        blendId: await blendOf(sql),
        sessionStartsAt: new Date(`2027-03-0${count + 1}T09:00:00Z`),
      },
      sessionEndsAt: new Date(`2027-03-0${count + 1}T13:00:00Z`),
      lots: ["A", "B"].map((letter) => ({ productId, units: 40, code: `${letter}${count}X` })),
    });
    await weighOut(sql, dice, { runId, supplyLots, beyond: count % 2 === 0 });
    lotIds.push(...its);
  }
  await press(sql, dice, lotIds);
  for (let count = 0; count < 8; count += 1) {
    const customerId = await insertCustomer(db, { name: `Shop ${count}` });
    const lineId = await sendOrder(sql, dice, { reference: `W-${count}`, customerId, productId, lotIds });
    const carton = supplyLots.filter(({ boxes }) => boxes)[dice(3)];
    await sql`insert into supply_moves (supply_id, lot_id, kind, amount, order_line_id, at)
      values (${carton?.supplyId ?? 0}, ${carton?.id ?? 0}, 'used', ${-1 - dice(5)}, ${lineId}, ${AT})`;
  }
}

/** The same throws in every run (a linear congruential generator, Numerical Recipes, second edition, 7.1). */
function diceFrom(seed: number): Dice {
  let state = seed >>> 0;
  return (sides) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * sides);
  };
}

async function blendOf(sql: Sql): Promise<number> {
  const [product] = await sql`select blend_id from products`;
  return product?.blend_id;
}

async function receive(sql: Sql, dice: Dice): Promise<readonly SupplyLot[]> {
  const lots: SupplyLot[] = [];
  const kinds = Object.entries({ Soda: "soda", Acid: "acid", "Cedar oil": "scent", Carton: "box" });
  for (const [place, [name, kind]] of kinds.entries()) {
    const [supply] = await sql`insert into supplies (name, kind) values (${name}, ${kind}) returning id`;
    const move = (lotId: number, what: string, amount: number, cause: string | null = null) =>
      sql`insert into supply_moves (supply_id, lot_id, kind, amount, cause, at)
        values (${supply?.id}, ${lotId}, ${what}, ${amount}, ${cause}, ${AT})`;
    for (let count = 0; count < 3; count += 1) {
      const [lot] = await sql`insert into supply_lots (code, supply_id, supplier_lot, received_on, created_at)
        values (${`S${place}${count}XY`}, ${supply?.id}, ${`L-${count}`}, '2027-02-01', ${AT}) returning id`;
      await move(lot?.id, "received", 1_000_000);
      if (count === 1) await move(lot?.id, "lost", -1 - dice(900), "spilled");
      if (count === 2) await move(lot?.id, "counted", dice(2000) - 1000);
      lots.push({ id: lot?.id, supplyId: supply?.id, boxes: kind === "box" });
    }
  }
  return lots;
}

/** Takes of half the lots, and gives some back at times, or all of it. */
async function weighOut(
  sql: Sql,
  dice: Dice,
  run: { readonly runId: number; readonly supplyLots: readonly SupplyLot[]; readonly beyond: boolean },
): Promise<void> {
  const move = (supplyId: number, lotId: number | null, kind: string, amount: number) =>
    sql`insert into supply_moves (supply_id, lot_id, kind, amount, run_id, at)
      values (${supplyId}, ${lotId}, ${kind}, ${amount}, ${run.runId}, ${AT})`;
  for (const { id, supplyId } of run.supplyLots.filter(({ boxes }) => !boxes && dice(2) === 0)) {
    const amount = 1000 + dice(50_000);
    await move(supplyId, id, "used", -amount);
    const back = [amount, 1 + dice(amount - 1), 0, 0][dice(4)] ?? 0;
    if (back > 0) await move(supplyId, id, "unused", back);
    // Given back after a count, which stands: what undoes the correction is no use of its own.
    if (back > 0 && run.beyond) await move(supplyId, id, "counted", -back);
  }
  if (run.beyond) await move(run.supplyLots[0]?.supplyId ?? 0, null, "used", -77);
}

async function press(sql: Sql, dice: Dice, lotIds: readonly number[]): Promise<void> {
  await sql`update lots set state = 'ready', formed_at = ${AT}, unmold_due_at = ${AT}, ready_due_at = ${AT},
    unmolded_at = ${AT}, ready_at = ${AT}`;
  const move = (lotId: number, kind: string, units: number, cause: string | null = null) =>
    sql`insert into moves (lot_id, kind, units, cause, at) values (${lotId}, ${kind}, ${units}, ${cause}, ${AT})`;
  for (const lotId of lotIds) {
    await move(lotId, "made", 150 + dice(50));
    if (dice(3) === 0) await move(lotId, "lost", -3, "cracked");
    if (dice(3) === 0) await move(lotId, "counted", dice(2) * 4 - 2);
  }
}

/** Packs of half the lots; a quarter of that is unpacked, a quarter stays, a half leaves but for a piece. */
async function sendOrder(
  sql: Sql,
  dice: Dice,
  order: {
    readonly reference: string;
    readonly customerId: number;
    readonly productId: number;
    readonly lotIds: readonly number[];
  },
): Promise<number> {
  const [row] =
    await sql`insert into orders (reference, customer_id, terms, ship_by, weight, state, created_at, confirmed_at)
    values (${order.reference}, ${order.customerId}, 'as-ready', '2027-03-05', 1, 'packing', ${AT}, ${AT}) returning id`;
  const [line] = await sql`insert into order_lines (order_id, product_id, units)
    values (${row?.id}, ${order.productId}, 500) returning id`;
  const [delivery] = await sql`insert into deliveries (order_id, how, state, shipped_at)
    values (${row?.id}, 'parcel', 'shipped', ${AT}) returning id`;
  for (const lotId of order.lotIds.filter(() => dice(2) === 0)) {
    const units = 2 + dice(8);
    const pack = (
      kind: string,
      change: number,
    ) => sql`insert into moves (lot_id, kind, units, order_line_id, at)
      values (${lotId}, ${kind}, ${change}, ${line?.id}, ${AT})`;
    await pack("packed", -units);
    const fate = dice(4);
    if (fate === 0) await pack("unpacked", units);
    if (fate < 2) continue;
    await sql`insert into delivery_lines (delivery_id, order_line_id, lot_id, units)
      values (${delivery?.id}, ${line?.id}, ${lotId}, ${units - 1})`;
    if (fate === 3)
      await sql`insert into moves (lot_id, kind, units, delivery_id, at)
        values (${lotId}, 'returned', 1, ${delivery?.id}, ${AT})`;
  }
  return line?.id;
}

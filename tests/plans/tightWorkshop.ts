import type { TestApplication } from "../build/application.ts";
import {
  insertCustomer,
  insertOrder,
  insertProduct,
  insertReadyLot,
  insertShape,
  insertWorkingWeek,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

/** The ids of a small workshop with one product, pieces on its shelf, and one order that needs more than those. */
export interface TightWorkshop {
  readonly productId: number;
  readonly customerId: number;
  readonly orderId: number;
  readonly lineId: number;
  readonly lotId: number;
}

/**
 * 12 pieces on the shelf, 36 on order by Tuesday 2 March 2027. Only what is formed on Monday morning is ready then:
 * 13:00 and 18 hours in the mold are Tuesday 07:00, unmolded at 09:00, and with 4 hours of rest packed at 14:00.
 */
export async function insertTightWorkshop({ database }: TestApplication): Promise<TightWorkshop> {
  const { db, sql } = database;
  await insertWorkshop(db);
  await insertWorkingWeek(db);
  await sql`update week_sessions set hand_minutes = 240`;
  const shapeId = await insertShape(db, { moldMinutes: 18 * 60, restMinutes: 4 * 60 });
  const productId = await insertProduct(db, { shapeId });
  const customerId = await insertCustomer(db);
  const order = { customerId, shipBy: "2027-03-02", lines: [{ productId, units: 36 }] };
  const { orderId, lineIds } = await insertOrder(db, order);
  const lotId = await insertReadyLot(db, { productId, units: 12 });
  return { productId, customerId, orderId, lineId: lineIds[0] ?? 0, lotId };
}

/** Presses the button and returns the plan's number. */
export async function planNow(owner: Visitor): Promise<number> {
  const answer = await owner.post("/plans", {}, { from: "/plan" });
  const planId = /^\/plans\/(\d+)(\?|$)/.exec(answer.headers.location ?? "")?.[1];
  if (planId === undefined) throw new Error(`no plan (status ${answer.statusCode}): ${answer.body}`);
  return Number(planId);
}

export async function accept(owner: Visitor, planId: number) {
  return await owner.post(`/plans/${planId}/acceptance`, {}, { from: `/plans/${planId}` });
}

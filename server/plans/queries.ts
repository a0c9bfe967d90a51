import { asc, desc, eq, inArray, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database, Transaction } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { people } from "../../db/schema/people.ts";
import { plans } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes } from "../../db/schema/workshop.ts";
import type { BlendLook } from "../../views/components/Swatch.tsx";

/** Names for the codes of a case. What is no longer there keeps its code. */
export interface PlanNames {
  blend(code: string): BlendLook;
  product(code: string): string;
  shape(code: string): string;
  order(reference: string): { readonly orderId: number | null; readonly customer: string };
}

export async function findPlanNames(
  db: Database | Transaction,
  references: readonly string[],
): Promise<PlanNames> {
  const looks = await db
    .select({ code: blends.code, name: blends.name, colour: blends.colour, pattern: blends.pattern })
    .from(blends)
    .orderBy(asc(blends.id));
  const productNames = await db
    .select({ code: products.code, name: products.name })
    .from(products)
    .orderBy(asc(products.id));
  const shapeNames = await db
    .select({ code: shapes.code, name: shapes.name })
    .from(shapes)
    .orderBy(asc(shapes.id));
  const known = await db
    .select({ reference: orders.reference, orderId: orders.id, customer: customers.name })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(inArray(orders.reference, [...references]))
    .orderBy(asc(orders.id));
  const byCode = new Map(looks.map(({ code, ...look }) => [code, look]));
  const byProduct = new Map(productNames.map(({ code, name }) => [code, name]));
  const byShape = new Map(shapeNames.map(({ code, name }) => [code, name]));
  const byReference = new Map(known.map(({ reference, ...order }) => [reference, order]));
  return {
    blend: (code) => byCode.get(code) ?? { name: code, colour: "#b9ad9c", pattern: "plain" },
    product: (code) => byProduct.get(code) ?? code,
    shape: (code) => byShape.get(code) ?? code,
    order: (reference) => byReference.get(reference) ?? { orderId: null, customer: "" },
  };
}

const planner = alias(people, "planner");
const accepter = alias(people, "accepter");

/** Who planned and accepted it, and the kept plan as it stands in the row. */
export type PlanRow = NonNullable<Awaited<ReturnType<typeof findPlan>>>;

export async function findPlan(db: Database | Transaction, planId: number) {
  const [row] = await db
    .select({
      planId: plans.id,
      state: plans.state,
      planCase: plans.planCase,
      answer: plans.answer,
      holdUps: plans.holdUps,
      sessionInstants: plans.sessionInstants,
      asOfChange: plans.asOfChange,
      plannedAt: plans.plannedAt,
      plannedBy: planner.name,
      acceptedAt: plans.acceptedAt,
      acceptedBy: accepter.name,
    })
    .from(plans)
    .innerJoin(planner, eq(planner.id, plans.plannedBy))
    .leftJoin(accepter, eq(accepter.id, plans.acceptedBy))
    .where(eq(plans.id, planId));
  return row;
}

export async function findAcceptedPlanId(db: Database | Transaction): Promise<number | null> {
  const [row] = await db.select({ id: plans.id }).from(plans).where(eq(plans.state, "accepted"));
  return row?.id ?? null;
}

/** The newest plan that waits to be accepted. */
export async function findProposedPlanId(db: Database | Transaction): Promise<number | null> {
  const [row] = await db
    .select({ id: plans.id })
    .from(plans)
    .where(eq(plans.state, "proposed"))
    .orderBy(desc(plans.id))
    .limit(1);
  return row?.id ?? null;
}

/** Plans listed on one page. */
export const MOST_LISTED = 100;

/** The newest plans, without the cases they answer. */
export async function listPlans(db: Database | Transaction) {
  return await db
    .select({
      planId: plans.id,
      state: plans.state,
      plannedAt: plans.plannedAt,
      plannedBy: planner.name,
      acceptedAt: plans.acceptedAt,
      cost: sql<number>`(${plans.answer} ->> 'cost')::float8`,
      orders: sql<number>`jsonb_array_length(${plans.planCase} -> 'orders')`,
    })
    .from(plans)
    .innerJoin(planner, eq(planner.id, plans.plannedBy))
    .orderBy(desc(plans.id))
    .limit(MOST_LISTED);
}

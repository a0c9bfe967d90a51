import { and, eq, inArray, isNull, or } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { products } from "../../db/schema/products.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { shapes } from "../../db/schema/workshop.ts";
import type { Advice, InTheWay } from "../../views/orders/promiseWords.ts";
import type { Seals } from "../http/seals.ts";
import type { Order } from "../planning/case.ts";
import type { Resource } from "../planning/resource.ts";
import type { PlannerRefusal } from "../plans/plannerPool.ts";
import type { PromiseDesk } from "../plans/promiseDesk.ts";
import { askForPromise } from "../plans/promiseQuestion.ts";
import { orderedInAll } from "../plans/spares.ts";
import { findOrder } from "./oneOrder.ts";
import { type CarriedAdvice, type FormBeingTyped, keyOfLines, sealAdvice } from "./promiseForm.ts";
import { readShipBy } from "./shipByFor.ts";

/** What advice takes: the rows, somebody to ask, and a seal, so that it is known again when a form carries it back. */
export interface AdviceParts {
  readonly db: Database;
  readonly desk: PromiseDesk;
  readonly seals: Seals;
}

/**
 * What can be promised for a form as it stands, with nothing already promised moving. Of an order that is being packed
 * only what is still to be packed is asked for.
 */
export async function adviseOn(
  { db, desk, seals }: AdviceParts,
  at: Date,
  typed: FormBeingTyped,
  signal: AbortSignal,
): Promise<Advice> {
  const order = typed.orderId === null ? undefined : await findOrder(db, typed.orderId);
  const lines = await linesToMake(db, typed, order?.id ?? null);
  if (lines.length === 0) return { is: "nothing-typed" };
  const wished = typed.shipBy ?? (await reckonedShipBy(db, typed));
  const question = await askForPromise(db, at, { changes: order?.reference ?? null, wished, lines });
  if (!question.ok) return { is: "none", why: question.refusal.kind };
  const answer = await desk.ask(typed.form, question.value, signal);
  if (!answer.ok) return { is: "none", why: reasonOf(answer.refusal) };
  const { earliest, proven, instead, lastDate } = answer.value;
  return {
    is: "given",
    earliest,
    isFirstPossible: proven,
    lastDate,
    wished,
    instead:
      instead === null
        ? null
        : {
            ...instead,
            piecesByWished: orderedOf(question.value.newOrder, instead.piecesByWished),
            inTheWay: await nameInTheWay(db, instead.inTheWay),
            pieces: sumOf(lines),
          },
    // Of days beyond the sessions there are nothing is known, so nothing is advised.
    carried:
      earliest === null && wished !== null && wished > lastDate
        ? null
        : carriedAs(seals, typed.orderId, { shipBy: earliest, at, forLines: keyOfLines(typed.lines) }),
  };
}

function carriedAs(seals: Seals, orderId: number | null, { shipBy, ...advice }: CarriedAdvice) {
  return { ...advice, seal: sealAdvice(seals, orderId, { shipBy, ...advice }) };
}

async function reckonedShipBy(db: Database, typed: FormBeingTyped): Promise<string | null> {
  const { customerId, neededBy } = typed;
  return customerId === null || neededBy === null ? null : await readShipBy(db, customerId, neededBy);
}

function reasonOf(refusal: PlannerRefusal): "planner-busy" | "asked-again" | "planner-failed" {
  if (refusal.kind === "planning-stopped") return "asked-again";
  return refusal.kind === "planner-busy" ? "planner-busy" : "planner-failed";
}

/** Of so many of its pieces, those for losses among them, how many will be good for the one who ordered. */
function orderedOf({ lines }: Order, units: number): number {
  return Math.floor((units * orderedInAll(lines)) / sumOf(lines));
}

function sumOf(lines: readonly { readonly units: number }[]): number {
  return lines.reduce((sum, { units }) => sum + units, 0);
}

/** By product code, less what is packed already; what is no longer made can't be promised. */
async function linesToMake(db: Database, { lines }: FormBeingTyped, orderId: number | null) {
  if (lines.length === 0) return [];
  const packed = orderId === null ? new Map<number, number>() : await packedOf(db, orderId);
  const rows = await db
    .select({ id: products.id, code: products.code })
    .from(products)
    .where(
      and(
        inArray(
          products.id,
          lines.map(({ productId }) => productId),
        ),
        or(isNull(products.retiredAt), inArray(products.id, [...packed.keys()])),
      ),
    )
    .orderBy(products.id);
  const codes = new Map(rows.map(({ id, code }) => [id, code]));
  return lines.flatMap(({ productId, units }) => {
    const product = codes.get(productId);
    const left = units - (packed.get(productId) ?? 0);
    return product === undefined || left <= 0 ? [] : [{ product, units: left }];
  });
}

async function packedOf(db: Database, orderId: number): Promise<ReadonlyMap<number, number>> {
  const rows = await db
    .select({ productId: lineProgress.productId, packed: lineProgress.packedUnits })
    .from(lineProgress)
    .where(eq(lineProgress.orderId, orderId))
    .orderBy(lineProgress.orderLineId);
  return new Map(rows.map(({ productId, packed }) => [productId, packed]));
}

async function nameInTheWay(db: Database, resource: Resource | null): Promise<InTheWay | null> {
  if (resource === null || resource.resource !== "moldSets") return resource;
  const [shape] = await db.select({ name: shapes.name }).from(shapes).where(eq(shapes.code, resource.shape));
  return { resource: "moldSets", shape: shape?.name ?? resource.shape };
}

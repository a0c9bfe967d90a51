import { and, eq } from "drizzle-orm";
import { z } from "zod";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { crateLoads } from "../../db/schema/crateLoads.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { idField, wholeNumberField } from "../http/formFields.ts";
import type { Actor } from "../http/visitor.ts";
import { readBox } from "../packing/box.ts";
import { lockOrder } from "../packing/lockOrder.ts";
import type { DeliveryRefusal } from "./refusals.ts";

const RELOAD = "Reload the page.";

/** One lot of one line, with the pieces that stood beside the button. */
export const crateForm = z.object({
  line: idField(RELOAD),
  lot: idField(RELOAD),
  units: wholeNumberField({ least: 1, most: 1_000_000 }),
});

type CratePart = z.output<typeof crateForm> & { readonly orderId: number };

/** Ticks off that these pieces stand in the car. What was packed or taken out meanwhile is looked at again first. */
export async function loadCrate(
  transaction: Transaction,
  actor: Actor,
  { orderId, line, lot, units }: CratePart,
): Promise<Result<null, DeliveryRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (order?.terms !== "market") return refuse({ why: "no-such-crate" });
  const part = (await readBox(transaction, orderId)).find(
    (one) => one.orderLineId === line && one.lotId === lot,
  );
  if (part?.packed !== units) return refuse({ why: "crate-changed", reference: order.reference });
  const tick = { units, loadedBy: actor.personId, loadedAt: actor.at };
  await transaction
    .insert(crateLoads)
    .values({ orderLineId: line, lotId: lot, ...tick })
    .onConflictDoUpdate({ target: [crateLoads.orderLineId, crateLoads.lotId], set: tick });
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: orderId, what: "loaded into the car" },
    after: { orderLineId: line, lotId: lot, units },
  });
  return ok(null);
}

/** Takes the tick back. */
export async function unloadCrate(
  transaction: Transaction,
  actor: Actor,
  { orderId, line, lot }: CratePart,
): Promise<Result<null, DeliveryRefusal>> {
  const order = await lockOrder(transaction, orderId);
  if (order?.terms !== "market") return refuse({ why: "no-such-crate" });
  const isPart = (await readBox(transaction, orderId)).some(
    (one) => one.orderLineId === line && one.lotId === lot,
  );
  const ticked = and(eq(crateLoads.orderLineId, line), eq(crateLoads.lotId, lot));
  const gone = isPart ? await transaction.delete(crateLoads).where(ticked).returning() : [];
  const [before] = gone;
  if (!before) return refuse({ why: "crate-changed", reference: order.reference });
  await recordChange(transaction, actor, {
    ...{ subject: "order", subjectId: orderId, what: "not loaded after all" },
    before: { orderLineId: line, lotId: lot, units: before.units, loadedBy: before.loadedBy },
  });
  return ok(null);
}

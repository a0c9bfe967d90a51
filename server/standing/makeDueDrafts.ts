import type { Database, Transaction } from "../../db/connect.ts";
import type { Author } from "../../db/recordChange.ts";
import { standingOrderDates } from "../../db/schema/standingOrders.ts";
import { inTransaction } from "../../db/transaction.ts";
import { enterOrder } from "../orders/enterOrder.ts";
import { readShipBy } from "../orders/shipByFor.ts";
import { holdStandingOrder } from "./changeDates.ts";
import { listPerhapsDue, listStandingLines, type StandingLine, type StandingOrder } from "./queries.ts";
import { dueDates } from "./standingDates.ts";

/**
 * Makes the drafts of all standing orders that are due today, each date once, whoever else does the same at the same
 * moment. Called when somebody looks at the orders or the week: a draft is there to be seen, and nothing has to run,
 * or can be missed, while nobody looks.
 *
 * @param today the workshop's date at the instant `at`, ISO 8601
 */
export async function makeDueDrafts(db: Database, at: Date, today: string): Promise<void> {
  for (const order of await listPerhapsDue(db, today)) {
    if (dueDates(order, today).length === 0) continue;
    await inTransaction(db, (transaction) => makeDraftsOf(transaction, at, today, order.id));
  }
}

/** Looks again once the standing order is locked: somebody else may have been faster. */
async function makeDraftsOf(transaction: Transaction, at: Date, today: string, id: number): Promise<void> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return;
  const lines = await listStandingLines(transaction, id);
  // Its page says that nothing it asks for is made any more.
  if (lines.every(({ retired }) => retired)) return;
  for (const date of dueDates(order, today)) await makeDraft(transaction, at, today, { order, lines, date });
}

async function makeDraft(
  transaction: Transaction,
  at: Date,
  today: string,
  { order, lines, date }: { order: StandingOrder; lines: readonly StandingLine[]; date: string },
): Promise<void> {
  const shipBy = (await readShipBy(transaction, order.customerId, date)) ?? date;
  const system: Author = { personId: null, at };
  const entered = await enterOrder(transaction, system, {
    reference: null,
    customerId: order.customerId,
    terms: null,
    // A draft that comes late is dated today: the owner decides what can be promised.
    shipBy: shipBy < today ? today : shipBy,
    neededBy: date,
    note: noteOf(order, lines),
    lines: lines.filter(({ retired }) => !retired),
    confirm: false,
    arrival: { source: "standing" },
  });
  // Retired since it was read; nothing of it comes up any more.
  if (!entered.ok) return;
  await transaction.insert(standingOrderDates).values({
    standingOrderId: order.id,
    onDate: date,
    outcome: "drafted",
    orderId: entered.value.orderId,
    at,
  });
}

function noteOf({ note }: StandingOrder, lines: readonly StandingLine[]): string {
  const gone = lines
    .filter(({ retired }) => retired)
    .map(({ product, units }) => `Left out, as it is no longer made: ${units} ${product}.`);
  return [note, ...gone].filter((part) => part !== "").join("\n");
}

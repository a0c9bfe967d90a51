import { and, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { type Author, recordChange } from "../../db/recordChange.ts";
import { standingOrderDates, standingOrderPauses, standingOrders } from "../../db/schema/standingOrders.ts";
import { dayBefore } from "../../views/format/dates.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import { datesOf } from "../recurrence/datesOf.ts";
import { findStandingOrder, type StandingOrder } from "./queries.ts";

/** Why dates of a standing order cannot be changed as it was asked for. */
export type DatesRefusal =
  | { readonly why: "not-found" | "stopped" | "no-such-date" | "drafted" | "no-such-pause" | "pause-over" }
  | { readonly why: "pauses-overlap"; readonly firstDate: string; readonly lastDate: string | null };

type Changed = Result<{ readonly id: number }, DatesRefusal>;

interface OneDate {
  readonly id: number;
  readonly date: string;
}

/** Leaves one date out: it will not become a draft. Asked for twice it is left out once. */
export async function leaveOutDate(
  transaction: Transaction,
  actor: Author,
  { id, date }: OneDate,
): Promise<Changed> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return refuse({ why: "not-found" });
  if (order.stoppedAt) return refuse({ why: "stopped" });
  const seen = order.seen.find(({ onDate }) => onDate === date);
  if (seen) return seen.orderId === null ? ok({ id }) : refuse({ why: "drafted" });
  if (datesOf(order, { from: date, until: date, most: 1 }).length === 0)
    return refuse({ why: "no-such-date" });
  await transaction
    .insert(standingOrderDates)
    .values({ standingOrderId: id, onDate: date, outcome: "left-out", at: actor.at });
  return written(transaction, actor, id, "one date left out", { date });
}

/** Lets a date that was left out come up after all. */
export async function takeDateBack(
  transaction: Transaction,
  actor: Author,
  { id, date }: OneDate,
): Promise<Changed> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return refuse({ why: "not-found" });
  const seen = order.seen.find(({ onDate }) => onDate === date);
  if (!seen) return ok({ id });
  if (seen.orderId !== null) return refuse({ why: "drafted" });
  await transaction
    .delete(standingOrderDates)
    .where(and(eq(standingOrderDates.standingOrderId, id), eq(standingOrderDates.onDate, date)));
  return written(transaction, actor, id, "one date taken back", { date });
}

/** Passes over every date of a stretch, both ends included; without a last date until it is taken up again. */
export async function pauseStandingOrder(
  transaction: Transaction,
  actor: Author,
  { id, ...pause }: { readonly id: number; readonly firstDate: string; readonly lastDate: string | null },
): Promise<Changed> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return refuse({ why: "not-found" });
  if (order.stoppedAt) return refuse({ why: "stopped" });
  const other = order.pauses.find((known) => overlap(known, pause));
  if (other) return refuse({ why: "pauses-overlap", ...other });
  await transaction.insert(standingOrderPauses).values({ standingOrderId: id, ...pause });
  return written(transaction, actor, id, "paused", pause);
}

/** Takes it up again from today on: what lies ahead of a pause is no longer passed over. */
export async function endPause(
  transaction: Transaction,
  actor: Author,
  { id, pauseId, today }: { readonly id: number; readonly pauseId: number; readonly today: string },
): Promise<Changed> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return refuse({ why: "not-found" });
  const pause = order.pauses.find((known) => known.id === pauseId);
  if (!pause) return refuse({ why: "no-such-pause" });
  if (pause.lastDate !== null && pause.lastDate < today) return refuse({ why: "pause-over" });
  const thisOne = eq(standingOrderPauses.id, pauseId);
  if (pause.firstDate >= today) await transaction.delete(standingOrderPauses).where(thisOne);
  else
    await transaction
      .update(standingOrderPauses)
      .set({ lastDate: dayBefore(today) })
      .where(thisOne);
  return written(transaction, actor, id, "taken up again", { ...pause, from: today });
}

/** Stops it for good; drafts that were made stay. */
export async function stopStandingOrder(
  transaction: Transaction,
  actor: Author,
  { id }: { readonly id: number },
): Promise<Changed> {
  const order = await holdStandingOrder(transaction, id);
  if (!order) return refuse({ why: "not-found" });
  if (order.stoppedAt) return ok({ id });
  await transaction.update(standingOrders).set({ stoppedAt: actor.at }).where(eq(standingOrders.id, id));
  return written(transaction, actor, id, "stopped", {});
}

/** Locks a standing order, so that its dates are decided by one at a time, and reads it. */
export async function holdStandingOrder(
  transaction: Transaction,
  id: number,
): Promise<StandingOrder | undefined> {
  await transaction
    .select({ id: standingOrders.id })
    .from(standingOrders)
    .where(eq(standingOrders.id, id))
    .for("update");
  return await findStandingOrder(transaction, id);
}

interface Stretch {
  readonly firstDate: string;
  readonly lastDate: string | null;
}

function overlap(one: Stretch, other: Stretch): boolean {
  const begins = (stretch: Stretch, last: string | null) => last === null || stretch.firstDate <= last;
  return begins(one, other.lastDate) && begins(other, one.lastDate);
}

async function written(
  transaction: Transaction,
  actor: Author,
  id: number,
  what: string,
  after: object,
): Promise<Changed> {
  await recordChange(transaction, actor, { subject: "standing order", subjectId: id, what, after });
  return ok({ id });
}

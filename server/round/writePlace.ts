import { and, eq, inArray, isNull } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { roundDriving, roundMinutes, roundPlaces } from "../../db/schema/round.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { DrivingFacts, PlaceFacts } from "./forms.ts";

/** How the shop drives; the first time it is said the row is made. */
export async function changeDriving(
  transaction: Transaction,
  actor: Actor,
  facts: DrivingFacts,
): Promise<Result<null, never>> {
  const [before] = await transaction.select().from(roundDriving).for("update");
  await transaction
    .insert(roundDriving)
    .values(facts)
    .onConflictDoUpdate({ target: roundDriving.id, set: facts });
  await recordChange(transaction, actor, {
    ...{ subject: "round", subjectId: 1, what: "changed" },
    ...{ before: before ?? null, after: facts },
  });
  return ok(null);
}

/**
 * Where a customer is, or the workshop (no customer), and how long it takes from there to other places. Of the places
 * that are named what was entered is replaced; others keep theirs.
 */
export async function writePlace(
  transaction: Transaction,
  actor: Actor,
  { customerId, drives, ...point }: PlaceFacts & { readonly customerId: number | null },
): Promise<Result<null, "no-such-customer">> {
  const named = [customerId, ...drives.map(({ toCustomerId }) => toCustomerId)];
  const ids = [...new Set(named.filter((id) => id !== null))].toSorted((one, other) => one - other);
  const known =
    ids.length === 0
      ? []
      : await transaction
          .select({ id: customers.id })
          .from(customers)
          .where(inArray(customers.id, ids))
          .for("share");
  if (known.length < ids.length) return refuse("no-such-customer");
  const placeId = await placeOf(transaction, customerId);
  const [before] = await transaction
    .select()
    .from(roundPlaces)
    .where(eq(roundPlaces.id, placeId))
    .for("update");
  await transaction.update(roundPlaces).set(point).where(eq(roundPlaces.id, placeId));
  for (const { toCustomerId, minutes } of drives)
    if (toCustomerId !== customerId)
      await writeMinutes(transaction, placeId, await placeOf(transaction, toCustomerId), minutes);
  await recordChange(transaction, actor, {
    ...{ subject: "round place", subjectId: placeId, what: "changed" },
    ...{ before, after: { customerId, ...point, drives } },
  });
  return ok(null);
}

/** The place of a customer, or of the workshop, made where there is none yet. */
async function placeOf(transaction: Transaction, customerId: number | null): Promise<number> {
  await transaction.insert(roundPlaces).values({ customerId }).onConflictDoNothing();
  const whose = customerId === null ? isNull(roundPlaces.customerId) : eq(roundPlaces.customerId, customerId);
  const [row] = await transaction.select({ id: roundPlaces.id }).from(roundPlaces).where(whose);
  if (!row) throw new Error("The place's row is not there");
  return row.id;
}

async function writeMinutes(
  transaction: Transaction,
  one: number,
  other: number,
  minutes: number | null,
): Promise<void> {
  const pair = { oneId: Math.min(one, other), otherId: Math.max(one, other) };
  const isPair = and(eq(roundMinutes.oneId, pair.oneId), eq(roundMinutes.otherId, pair.otherId));
  if (minutes === null) await transaction.delete(roundMinutes).where(isPair);
  else
    await transaction
      .insert(roundMinutes)
      .values({ ...pair, minutes })
      .onConflictDoUpdate({ target: [roundMinutes.oneId, roundMinutes.otherId], set: { minutes } });
}

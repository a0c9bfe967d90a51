import { eq } from "drizzle-orm";
import { lots, moves } from "../../db/schema/lots.ts";
import type { LossCause } from "../../server/shelf/lot.ts";
import { insertRun } from "../build/rows.ts";
import type { TestDatabase } from "../db/testDatabase.ts";

const at = (day: string, time: string) => new Date(`${day}T${time}:00Z`);

/**
 * A run of one lot in the session from 09:00 to 13:00 of a day: begun at 09:00, pressed `minutes` later, out of its molds
 * and ready on the next two days; what was lost was lost at unmolding.
 */
export async function insertBatch(
  { db }: TestDatabase,
  given: {
    readonly planId: number;
    readonly blendId: number;
    readonly productId: number;
    readonly day: string;
    readonly pressed: number;
    readonly lost?: Partial<Record<LossCause, number>>;
    readonly minutes?: number;
    readonly startedAt?: string;
    readonly bowls?: number;
    /** Still resting where not. */
    readonly isReady?: boolean;
  },
): Promise<number> {
  const { planId, blendId, productId, day, pressed, lost = {}, isReady = true } = given;
  // As the plan counts: a bowl mixed in 20 minutes, 48 seconds a piece.
  const minutes = given.minutes ?? 20 + 0.8 * pressed;
  const startedAt = at(day, given.startedAt ?? "09:00");
  const formedAt = new Date(startedAt.getTime() + minutes * 60_000);
  const unmoldedAt = new Date(formedAt.getTime() + 86_400_000);
  const readyAt = new Date(unmoldedAt.getTime() + 86_400_000);
  const { lotIds } = await insertRun(db, {
    ...{ planId, blendId, state: "formed", startedAt, formedAt, bowls: given.bowls ?? 1 },
    ...{ sessionDate: day, sessionStartsAt: at(day, "09:00"), sessionEndsAt: at(day, "13:00") },
    lots: [{ productId, units: pressed, code: codeOf(startedAt, productId) }],
  });
  const lotId = lotIds[0] ?? 0;
  await db
    .update(lots)
    .set({
      ...{ state: isReady ? "ready" : "resting", formedAt, unmoldDueAt: unmoldedAt, unmoldedAt },
      ...{ readyDueAt: readyAt, readyAt: isReady ? readyAt : null },
    })
    .where(eq(lots.id, lotId));
  await db.insert(moves).values({ lotId, kind: "made", units: pressed, at: formedAt });
  for (const [cause, units] of Object.entries(lost))
    await db
      .insert(moves)
      .values({ lotId, kind: "lost", units: -units, cause: cause as LossCause, at: unmoldedAt });
  return lotId;
}

function codeOf(startedAt: Date, productId: number): string {
  return `T${(startedAt.getTime() / 60_000).toString(36).toUpperCase().slice(-4)}${productId}`;
}

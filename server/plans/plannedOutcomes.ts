import { eq, sql } from "drizzle-orm";
import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { plans } from "../../db/schema/plans.ts";

const outcomesOfAnswer = z.array(
  z.object({
    id: z.string(),
    readyOn: z.string().nullable(),
    daysLate: z.number(),
    unitsShort: z.number(),
  }),
);

/** What the accepted plan says of each order it was made for, by the order's reference; null while no plan is accepted. */
export async function readPlannedOutcomes(db: Database) {
  const [accepted] = await db
    .select({ outcomes: sql<unknown>`coalesce(${plans.answer} -> 'orders', '[]')` })
    .from(plans)
    .where(eq(plans.state, "accepted"));
  if (!accepted) return null;
  return outcomesOfAnswer
    .parse(accepted.outcomes)
    .map(({ id, ...outcome }) => ({ reference: id, ...outcome }));
}

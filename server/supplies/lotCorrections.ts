import { and, desc, eq } from "drizzle-orm";
import { z } from "zod";
import type { Database } from "../../db/connect.ts";
import { changes } from "../../db/schema/changes.ts";
import { people } from "../../db/schema/people.ts";
import { supplies } from "../../db/schema/supplies.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";

/** A lot of a supply with what can be put right of it; undefined where there is none. */
export async function findCorrectableLot(db: Database, supplyLotId: number) {
  const [lot] = await db
    .select({
      id: supplyLots.id,
      code: supplyLots.code,
      supplyId: supplies.id,
      supply: supplies.name,
      receivedOn: supplyLots.receivedOn,
      expiresOn: supplyLots.expiresOn,
      priceMinor: supplyLots.priceMinor,
    })
    .from(supplyLots)
    .innerJoin(supplies, eq(supplies.id, supplyLots.supplyId))
    .where(eq(supplyLots.id, supplyLotId));
  return lot;
}

export type CorrectableLot = NonNullable<Awaited<ReturnType<typeof findCorrectableLot>>>;

const dayAndPrice = z.object({ expiresOn: z.string().nullable(), priceMinor: z.number().nullable() });
const whatStandsAfter = dayAndPrice.extend({ currency: z.string(), why: z.string() });

/** What was put right of a lot, the newest first: from what to what, by whom and why. */
export async function listCorrections(db: Database, supplyLotId: number) {
  const rows = await db
    .select({
      id: changes.id,
      at: changes.at,
      person: people.name,
      before: changes.before,
      after: changes.after,
    })
    .from(changes)
    .leftJoin(people, eq(people.id, changes.personId))
    .where(
      and(
        eq(changes.subject, "supply lot"),
        eq(changes.subjectId, supplyLotId),
        eq(changes.what, "corrected"),
      ),
    )
    .orderBy(desc(changes.id));
  return rows.map(({ before, after, ...row }) => {
    const { currency, why, ...stands } = whatStandsAfter.parse(after);
    return { ...row, before: dayAndPrice.parse(before), after: stands, currency, why };
  });
}

export type LotCorrection = Awaited<ReturnType<typeof listCorrections>>[number];

import { and, asc, eq, isNotNull, isNull, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { roundDriving, roundMinutes, roundPlaces } from "../../db/schema/round.ts";
import type { DrivingFacts } from "./forms.ts";

/** Before the shop has said how it drives: a small town with a van. Common practice, no source. */
const USUAL: DrivingFacts = { kilometresAnHour: 30, roadPercent: 130, doorMinutes: 5, leavesMinute: 540 };

export async function readDriving(db: Database): Promise<DrivingFacts> {
  const [row] = await db.select().from(roundDriving);
  if (!row) return USUAL;
  const { id: _, ...driving } = row;
  return driving;
}

export type PlaceRow = Awaited<ReturnType<typeof listPlaces>>[number];

/** The workshop first, then every customer that the round goes to or that has a place, by name. */
export async function listPlaces(db: Database) {
  const [workshop] = await db.select().from(roundPlaces).where(isNull(roundPlaces.customerId));
  const rows = await db
    .select({
      customerId: customers.id,
      name: customers.name,
      placeId: roundPlaces.id,
      latitudeMicro: roundPlaces.latitudeMicro,
      longitudeMicro: roundPlaces.longitudeMicro,
    })
    .from(customers)
    .leftJoin(roundPlaces, eq(roundPlaces.customerId, customers.id))
    .where(
      and(
        isNull(customers.retiredAt),
        or(eq(customers.takesBy, "local-round"), isNotNull(roundPlaces.latitudeMicro)),
      ),
    )
    .orderBy(asc(sql`lower(${customers.name})`), asc(customers.id));
  const own = {
    ...{ customerId: null, name: "The workshop", placeId: workshop?.id ?? null },
    latitudeMicro: workshop?.latitudeMicro ?? null,
    longitudeMicro: workshop?.longitudeMicro ?? null,
  };
  return [own, ...rows];
}

/** All minutes that were entered. */
export async function listMinutes(db: Database) {
  return await db.select().from(roundMinutes).orderBy(asc(roundMinutes.oneId), asc(roundMinutes.otherId));
}

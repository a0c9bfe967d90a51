import { and, desc, eq, sql } from "drizzle-orm";
import type { Database, Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { airReadings, dampLooks } from "../../db/schema/air.ts";
import { lots } from "../../db/schema/lots.ts";
import { people } from "../../db/schema/people.ts";
import { products } from "../../db/schema/products.ts";
import { calendarExceptions, shapes, workshop } from "../../db/schema/workshop.ts";
import { ok, type Result } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { addException, type ExceptionRefusal } from "../workshop/addException.ts";
import { holdCalendar } from "../workshop/calendarClashes.ts";
import { type DryingRatio, type DryingSeen, dryingRatio } from "./dryingRatio.ts";
import { type Air, suggestedFactor, vapourDeficit } from "./vapour.ts";

/** A reading as it is kept: whole tenths. */
export interface ReadAir {
  readonly celsiusTenths: number;
  readonly humidityTenths: number;
}

export interface Reading extends ReadAir {
  readonly id: number;
  readonly at: Date;
  readonly person: string;
  /** Pascals of vapour the air could still take up. */
  readonly deficit: number;
}

/** How much longer than on the reference day drying would take today, and what that comes from. */
export interface Suggestion {
  readonly factor: number;
  readonly reading: Reading;
  readonly referenceDeficit: number;
  /** What drying really took against the formula; null before a lot told. */
  readonly ratio: DryingRatio | null;
}

export interface AirFigures {
  readonly readings: readonly Reading[];
  readonly reference: ReadAir | null;
  /** Null without a reference day, or a reading of today. */
  readonly suggestion: Suggestion | null;
  /** What plans multiply today's drying by. */
  readonly plannedFactor: number;
}

/** Readings that are shown, and lots that are learned from. */
const MOST_READINGS = 12;
const MOST_LOTS = 60;

export function airOf({ celsiusTenths, humidityTenths }: ReadAir): Air {
  return { celsius: celsiusTenths / 10, humidity: humidityTenths / 1000 };
}

/** The latest readings, and what they suggest for today. */
export async function readAir(db: Database | Transaction, today: string): Promise<AirFigures> {
  const rows = await db
    .select({ reading: airReadings, person: people.name })
    .from(airReadings)
    .innerJoin(people, eq(people.id, airReadings.personId))
    .orderBy(desc(airReadings.at), desc(airReadings.id))
    .limit(MOST_READINGS);
  const readings = rows.map(({ reading, person }) => ({
    ...reading,
    person,
    deficit: vapourDeficit(airOf(reading)),
  }));
  const reference = await readReference(db);
  const reading = readings.find(({ onDate }) => onDate === today);
  const [damp] = await db
    .select({ dryingFactor: calendarExceptions.dryingFactor })
    .from(calendarExceptions)
    .where(and(eq(calendarExceptions.kind, "damp"), eq(calendarExceptions.onDate, today)));
  return {
    readings,
    reference,
    suggestion: reference && reading ? await suggest(db, reading, reference) : null,
    plannedFactor: damp?.dryingFactor ?? 1,
  };
}

async function suggest(
  db: Database | Transaction,
  reading: Reading,
  reference: ReadAir,
): Promise<Suggestion> {
  const ratio = dryingRatio(await readDrying(db, reference));
  return {
    factor: suggestedFactor(airOf(reading), airOf(reference), ratio?.ratio ?? 1),
    reading,
    referenceDeficit: vapourDeficit(airOf(reference)),
    ratio,
  };
}

async function readReference(db: Database | Transaction): Promise<ReadAir | null> {
  const [shop] = await db
    .select({
      celsiusTenths: workshop.referenceCelsiusTenths,
      humidityTenths: workshop.referenceHumidityTenths,
    })
    .from(workshop);
  if (!shop || shop.celsiusTenths === null || shop.humidityTenths === null) return null;
  return { celsiusTenths: shop.celsiusTenths, humidityTenths: shop.humidityTenths };
}

/** Of the newest lots that were pressed on a date with a reading: when they were found damp, and when dry. */
async function readDrying(db: Database | Transaction, reference: ReadAir): Promise<readonly DryingSeen[]> {
  const minutesTo = (moment: unknown) =>
    sql<number>`(extract(epoch from ${moment} - ${lots.formedAt}) / 60)::float8`;
  const rows = await db
    .select({
      moldMinutes: shapes.moldMinutes,
      dryAfter: minutesTo(lots.unmoldedAt),
      dampAfter: sql<number>`coalesce(${minutesTo(
        sql`(select max(${dampLooks.at}) from ${dampLooks} where ${dampLooks.lotId} = ${lots.id})`,
      )}, 0)::float8`,
      celsiusTenths: airReadings.celsiusTenths,
      humidityTenths: airReadings.humidityTenths,
    })
    .from(lots)
    .innerJoin(products, eq(products.id, lots.productId))
    .innerJoin(shapes, eq(shapes.id, products.shapeId))
    .innerJoin(workshop, sql`true`)
    .innerJoin(
      airReadings,
      sql`${airReadings.id} = (
        select reading.id from air_readings as reading
        where reading.on_date = (${lots.formedAt} at time zone ${workshop.timeZone})::date
        order by reading.at desc, reading.id desc limit 1)`,
    )
    .where(sql`${lots.unmoldedAt} > ${lots.formedAt} and ${lots.runId} is not null`)
    .orderBy(desc(lots.formedAt), desc(lots.id))
    .limit(MOST_LOTS);
  return rows.flatMap(({ moldMinutes, dryAfter, dampAfter, ...reading }) => {
    const deficit = vapourDeficit(airOf(reading));
    // In saturated air the formula says never.
    if (deficit <= 0 || moldMinutes === 0) return [];
    const expectedMinutes = (moldMinutes * vapourDeficit(airOf(reference))) / deficit;
    return [{ expectedMinutes, dryAfter, dampAfter: Math.min(dampAfter, dryAfter) }];
  });
}

/** Writes down what thermometer and hygrometer say now. */
export async function takeReading(
  transaction: Transaction,
  actor: Actor,
  { today, ...air }: ReadAir & { readonly today: string },
): Promise<Result<null, never>> {
  await transaction
    .insert(airReadings)
    .values({ ...air, onDate: today, at: actor.at, personId: actor.personId });
  return ok(null);
}

/** Says what the air is like on a day on which drying takes as long as the shapes say. */
export async function setReference(
  transaction: Transaction,
  actor: Actor,
  { celsiusTenths, humidityTenths }: ReadAir,
): Promise<Result<null, never>> {
  await transaction.select({ id: workshop.id }).from(workshop).for("update");
  const before = await readReference(transaction);
  if (before?.celsiusTenths === celsiusTenths && before.humidityTenths === humidityTenths) return ok(null);
  await transaction
    .update(workshop)
    .set({ referenceCelsiusTenths: celsiusTenths, referenceHumidityTenths: humidityTenths });
  await recordChange(transaction, actor, {
    subject: "workshop",
    subjectId: 1,
    what: "reference day changed",
    before,
    after: { celsiusTenths, humidityTenths },
  });
  return ok(null);
}

/** From the next plan on, what is pressed today dries so many times as long as usual. */
export async function acceptFactor(
  transaction: Transaction,
  actor: Actor,
  { dryingFactor, note }: { readonly dryingFactor: number; readonly note: string },
): Promise<Result<null, ExceptionRefusal>> {
  const today = await holdCalendar(transaction, actor.at);
  const damp = and(eq(calendarExceptions.kind, "damp"), eq(calendarExceptions.onDate, today));
  const [known] = await transaction.select().from(calendarExceptions).where(damp);
  if (!known) {
    const added = await addException(transaction, actor, {
      ...{ kind: "damp", onDate: today, dryingFactor, note },
    });
    return added.ok ? ok(null) : added;
  }
  if (known.dryingFactor === dryingFactor) return ok(null);
  await transaction.update(calendarExceptions).set({ dryingFactor, note }).where(damp);
  await recordChange(transaction, actor, {
    subject: "calendar exception",
    subjectId: known.id,
    what: "changed",
    before: { dryingFactor: known.dryingFactor, note: known.note },
    after: { dryingFactor, note },
  });
  return ok(null);
}

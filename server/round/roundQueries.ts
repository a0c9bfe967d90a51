import { and, asc, eq, gt, inArray, or, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customerContacts, customers } from "../../db/schema/customers.ts";
import { deliveries } from "../../db/schema/deliveries.ts";
import { deliveryLines } from "../../db/schema/deliveryLines.ts";
import { orders } from "../../db/schema/orders.ts";
import { parcels } from "../../db/schema/parcels.ts";
import { lineProgress } from "../../db/schema/sums.ts";
import { groupBy } from "../basics/groupBy.ts";
import { driveMinutes, placeable } from "./driveMinutes.ts";
import { listMinutes, listPlaces, readDriving } from "./placeQueries.ts";
import { shortestRound } from "./shortestRound.ts";

/** The day of a round on the workshop's calendar, and the day it is asked for. */
interface RoundDay {
  readonly on: string;
  readonly today: string;
  readonly timeZone: string;
}

export type DayRound = Awaited<ReturnType<typeof readRound>>;
export type RoundStop = DayRound["stops"][number];

/**
 * The round of a day: what stands packed for customers of the round, unless the day has gone by, and what left on it that
 * day. One stop a customer, in the order in which they are driven to, each with when one is there.
 */
export async function readRound(db: Database, day: RoundDay) {
  const waiting = day.on < day.today ? [] : await listPacked(db);
  const gone = await listLeft(db, day);
  const byCustomer = groupBy([...waiting, ...gone], ({ customerId }) => customerId);
  const known = new Map((await listPlaces(db)).map((place) => [place.customerId, place]));
  const driving = await readDriving(db);
  const table = driveMinutes(
    [null, ...byCustomer.keys()].map((customerId, place) => placeOf(known.get(customerId), place)),
    await listMinutes(db),
    driving,
  );
  const { stops, left, minutes } = placeable(table);
  const round = shortestRound(minutes);
  const way = [0, ...round.stops, 0];
  const drives = way.slice(1).map((to, step) => minutes[way[step] ?? 0]?.[to] ?? 0);
  const customerIds = [...byCustomer.keys()];
  const stopAt = (place: number, arrivesMinute: number | null, driveThere: number | null) => {
    const customerId = customerIds[place - 1] ?? 0;
    return { ...whatIsThere(byCustomer.get(customerId) ?? []), customerId, arrivesMinute, driveThere };
  };
  let clock = driving.leavesMinute;
  const inOrder = round.stops.map((stop, step) => {
    clock += drives[step] ?? 0;
    const there = stopAt(stops[stop - 1] ?? 0, clock, drives[step] ?? 0);
    clock += driving.doorMinutes;
    return there;
  });
  return {
    stops: [...inOrder, ...left.map((place) => stopAt(place, null, null))],
    unplaced: left.length,
    exact: round.exact,
    drivingMinutes: round.minutes,
    ...{ driving, homeMinute: clock + (drives.at(-1) ?? 0) },
  };
}

function placeOf(
  row: { placeId: number | null; latitudeMicro: number | null; longitudeMicro: number | null } | undefined,
  place: number,
) {
  const { latitudeMicro = null, longitudeMicro = null, placeId = null } = row ?? {};
  const point = latitudeMicro === null || longitudeMicro === null ? null : { latitudeMicro, longitudeMicro };
  // Without a row nothing was entered for it: any number will do that no row has.
  return { placeId: placeId ?? -1 - place, point };
}

type ThingToHandOver =
  | Awaited<ReturnType<typeof listPacked>>[number]
  | Awaited<ReturnType<typeof listLeft>>[number];

function whatIsThere(things: readonly ThingToHandOver[]) {
  const [first] = things;
  return { customer: first?.customer ?? "", address: first?.address ?? "", things };
}

const whose = {
  customerId: customers.id,
  customer: customers.name,
  address: customers.address,
  orderId: orders.id,
  reference: orders.reference,
};

/** What stands packed for customers of the round, and may leave. */
async function listPacked(db: Database) {
  const units = sql<number>`sum(${lineProgress.packedUnits} - ${lineProgress.shippedUnits})::integer`;
  const rows = await db
    .select({ ...whose, units })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .innerJoin(lineProgress, eq(lineProgress.orderId, orders.id))
    .where(
      and(
        eq(customers.takesBy, "local-round"),
        or(eq(orders.state, "packed"), and(eq(orders.state, "packing"), eq(orders.terms, "as-ready"))),
      ),
    )
    .groupBy(orders.id, customers.id)
    .having(gt(units, 0))
    .orderBy(asc(customers.id), asc(orders.id));
  return rows.map((row) => ({ ...row, parcels: 0, deliveryId: null, deliveredAt: null, receivedBy: "" }));
}

/** What left on the round that day. */
async function listLeft(db: Database, { on, timeZone }: RoundDay) {
  return await db
    .select({
      ...whose,
      units: sql<number>`(select sum(${deliveryLines.units}) from ${deliveryLines}
        where ${deliveryLines.deliveryId} = ${deliveries.id})::integer`,
      parcels: sql<number>`(select count(*) from ${parcels} where ${parcels.deliveryId} = ${deliveries.id})::integer`,
      deliveryId: deliveries.id,
      deliveredAt: deliveries.deliveredAt,
      receivedBy: deliveries.receivedBy,
    })
    .from(deliveries)
    .innerJoin(orders, eq(orders.id, deliveries.orderId))
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(
      and(
        eq(deliveries.how, "local-round"),
        sql`${deliveries.shippedAt} >= (${on}::date::timestamp at time zone ${timeZone})`,
        sql`${deliveries.shippedAt} < ((${on}::date + 1)::timestamp at time zone ${timeZone})`,
      ),
    )
    .orderBy(asc(customers.id), asc(deliveries.id));
}

/** The telephone number to ring first, by customer. */
export async function readPhones(
  db: Database,
  customerIds: readonly number[],
): Promise<ReadonlyMap<number, string>> {
  if (customerIds.length === 0) return new Map();
  const rows = await db
    .select({ customerId: customerContacts.customerId, phone: customerContacts.phone })
    .from(customerContacts)
    .where(and(inArray(customerContacts.customerId, [...customerIds]), sql`${customerContacts.phone} <> ''`))
    .orderBy(sql`${customerContacts.id} desc`);
  return new Map(rows.map(({ customerId, phone }) => [customerId, phone]));
}

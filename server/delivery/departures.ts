import { asc, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { deliveries } from "../../db/schema/deliveries.ts";

interface Departure {
  readonly shippedAt: Date;
  readonly deliveredAt: Date | null;
}

export async function readDepartures(
  transaction: Transaction,
  orderId: number,
): Promise<readonly Departure[]> {
  return await transaction
    .select({ shippedAt: deliveries.shippedAt, deliveredAt: deliveries.deliveredAt })
    .from(deliveries)
    .where(eq(deliveries.orderId, orderId))
    .orderBy(asc(deliveries.id));
}

/** What an order is once all its pieces have left: shipped with its last delivery, delivered when each of them is. */
export function onceAllLeft(departures: readonly Departure[]) {
  const shippedAt = latest(departures.map((departure) => departure.shippedAt));
  const arrivals = departures.flatMap(({ deliveredAt }) => deliveredAt ?? []);
  return arrivals.length < departures.length
    ? { state: "shipped" as const, shippedAt }
    : { state: "delivered" as const, shippedAt, deliveredAt: latest(arrivals) };
}

function latest(times: readonly Date[]): Date {
  return new Date(Math.max(...times.map((time) => time.getTime())));
}

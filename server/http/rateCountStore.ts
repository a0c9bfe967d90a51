import type { FastifyRateLimitOptions, FastifyRateLimitStore } from "@fastify/rate-limit";
import { sql } from "drizzle-orm";
import type { RouteOptions } from "fastify";
import type { Database } from "../../db/connect.ts";
import { rateCounts } from "../../db/schema/rateCounts.ts";
import type { Seals } from "./seals.ts";

type Told = (error: Error | null, result?: { readonly current: number; readonly ttl: number }) => void;

/** What the plugin really gives a route's store; its types say something else. */
interface ChildOptions {
  readonly routeInfo: Partial<Pick<RouteOptions, "method" | "url">>;
}

/** How often each address may ask, counted in Postgres, so that a limit holds over all servers that share it. */
export function rateCountStore(
  db: Database,
  seals: Seals,
): new (
  options: FastifyRateLimitOptions,
) => FastifyRateLimitStore {
  return class RateCountStore implements FastifyRateLimitStore {
    #route = "";

    /** The store of one route. */
    child(options: object): FastifyRateLimitStore {
      const own = new RateCountStore();
      const { method, url } = (options as ChildOptions).routeInfo;
      // A limit made by hand belongs to no route.
      own.#route = method === undefined ? "by hand" : `${String(method)} ${url}`;
      return own;
    }

    incr(key: string, told: Told, timeWindow: number): void {
      const sealed = seals.sealOf("rate count", [this.#route, key]);
      countOne(db, sealed, timeWindow).then((result) => told(null, result), told);
    }
  };
}

/**
 * Counts one more, from one again where the stretch of time is over. By the database's clock, which all servers share.
 *
 * @param timeWindow milliseconds
 */
async function countOne(db: Database, key: string, timeWindow: number) {
  const end = sql`clock_timestamp() + ${timeWindow} * interval '1 millisecond'`;
  const isOver = sql`${rateCounts.endsAt} <= clock_timestamp()`;
  const [count] = await db
    .insert(rateCounts)
    .values({ key, asked: 1, endsAt: end })
    .onConflictDoUpdate({
      target: rateCounts.key,
      set: {
        asked: sql`case when ${isOver} then 1 else least(${rateCounts.asked}, 1000000) + 1 end`,
        endsAt: sql`case when ${isOver} then excluded.ends_at else ${rateCounts.endsAt} end`,
      },
    })
    .returning({
      current: rateCounts.asked,
      ttl: sql<number>`greatest(ceil(extract(epoch from ${rateCounts.endsAt} - clock_timestamp()) * 1000), 0)::integer`,
    });
  if (!count) throw new Error("The count did not come back");
  if (count.current === 1) await sweep(db);
  return count;
}

/** Takes away what is over, a few at a time, passing over what somebody else is counting or sweeping. */
async function sweep(db: Database): Promise<void> {
  await db.execute(sql`
    delete from ${rateCounts} where ${rateCounts.key} in (
      select ${rateCounts.key} from ${rateCounts} where ${rateCounts.endsAt} <= clock_timestamp()
      order by ${rateCounts.endsAt} limit 100 for update skip locked)`);
}

import { asc, count, eq, sql } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { products } from "../../db/schema/products.ts";
import { calendarExceptions, shapes, weekSessions, workshop } from "../../db/schema/workshop.ts";
import { moldPlaces } from "./moldPlaces.ts";
import type { SetupFacts } from "./readiness.ts";

/** The numbers of the workshop; there is always one behind a setup page. */
export async function readWorkshop(db: Database) {
  const [row] = await db.select().from(workshop);
  if (!row) throw new Error("There is no workshop to read");
  return row;
}

/** Shapes in use first, by name; each with the pieces its molds hold and the products in use. */
export async function listShapes(db: Database) {
  const rows = await db
    .select({ shape: shapes, products: count(products.id) })
    .from(shapes)
    .leftJoin(products, sql`${products.shapeId} = ${shapes.id} and ${products.retiredAt} is null`)
    .groupBy(shapes.id)
    .orderBy(sql`${shapes.retiredAt} is not null`, asc(shapes.name), asc(shapes.id));
  return rows.map(({ shape, products }) => ({
    ...shape,
    products,
    places: moldPlaces(shape.driesIn, shape.moldSets),
  }));
}

export async function findShape(db: Database, shapeId: number) {
  const [shape] = await db.select().from(shapes).where(eq(shapes.id, shapeId));
  return shape && { ...shape, places: moldPlaces(shape.driesIn, shape.moldSets) };
}

/** The ordinary week in time order, and every exception by date. */
export async function readCalendar(db: Database) {
  const week = await db
    .select()
    .from(weekSessions)
    .orderBy(asc(weekSessions.weekday), asc(weekSessions.startsMinute));
  const exceptions = await db
    .select()
    .from(calendarExceptions)
    .orderBy(
      asc(calendarExceptions.onDate),
      asc(calendarExceptions.kind),
      asc(calendarExceptions.startsMinute),
      asc(calendarExceptions.id),
    );
  return { week, exceptions };
}

export async function findWeekSession(db: Database, weekSessionId: number) {
  const [session] = await db.select().from(weekSessions).where(eq(weekSessions.id, weekSessionId));
  return session;
}

/** Everything the overview of the setup says, in one statement. */
export async function readSetupFacts(db: Database, today: string): Promise<SetupFacts> {
  const [facts] = await db
    .select({
      shapes: number(sql`select count(*) from shapes where retired_at is null`),
      moldSets: number(sql`select coalesce(sum(mold_sets), 0) from shapes where retired_at is null`),
      blends: number(sql`select count(*) from blends where retired_at is null`),
      products: number(sql`select count(*) from products where retired_at is null`),
      pressableProducts: number(sql`select count(*) from products join shapes on shapes.id = products.shape_id
        where products.retired_at is null and (shapes.dries_in = 'none' or shapes.mold_sets > 0)`),
      shops: number(sql`select count(*) from customers where retired_at is null and kind = 'shop'`),
      markets: number(sql`select count(*) from customers where retired_at is null and kind = 'market'`),
      weekSessions: number(sql`select count(*) from week_sessions`),
      weekHandMinutes: number(sql`select coalesce(sum(hand_minutes), 0) from week_sessions`),
      mixingSessions: number(sql`select count(*) from week_sessions
        where mixing and ends_minute - starts_minute >= workshop.bowl_minutes and hand_minutes > 0`),
      comingExceptions: number(sql`select count(*) from calendar_exceptions where on_date >= ${today}`),
      trays: workshop.trays,
      mixers: workshop.mixers,
      bowlMilligrams: workshop.bowlMilligrams,
      timeZone: workshop.timeZone,
      currency: workshop.currency,
      ingredients: number(
        sql`select count(*) from supplies where retired_at is null and not is_packaging(kind)`,
      ),
      packaging: number(sql`select count(*) from supplies where retired_at is null and is_packaging(kind)`),
      suppliers: number(sql`select count(*) from suppliers where retired_at is null`),
      boxSizes: number(sql`select count(*) from box_sizes where retired_at is null`),
      carriers: number(sql`select count(*) from carriers where retired_at is null`),
      recipes: number(sql`select count(*) from blends where retired_at is null
        and exists (select from recipes where recipes.blend_id = blends.id)`),
      priceLists: number(sql`select count(*) from price_lists where retired_at is null`),
      taxGroups: number(sql`select count(*) from tax_groups where retired_at is null`),
      people: number(sql`select count(*) from people where left_at is null`),
    })
    .from(workshop);
  if (!facts) throw new Error("There is no workshop to tell of");
  return facts;
}

function number(select: ReturnType<typeof sql>) {
  return sql<number>`(${select})::integer`;
}

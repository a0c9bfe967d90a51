import type { Database } from "../../db/connect.ts";
import { customerContacts, customers } from "../../db/schema/customers.ts";
import { lots, moves } from "../../db/schema/lots.ts";
import { orderLines, orders } from "../../db/schema/orders.ts";
import { carriers } from "../../db/schema/parcels.ts";
import { people } from "../../db/schema/people.ts";
import { plans, runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import { shapes, weekSessions, workshop } from "../../db/schema/workshop.ts";

/*
 * Rows as tests need them, valid by default: say only what matters to the test. They write straight into the
 * tables, past the commands, so that a test of one feature needs no other feature.
 */

/** Monday 1 March 2027, where the standing clock of the tests begins. */
const EARLIER = new Date("2027-03-01T07:00:00Z");

export async function insertWorkshop(
  db: Database,
  given: Partial<typeof workshop.$inferInsert> = {},
): Promise<void> {
  await db.insert(workshop).values({
    name: "Tidepool & Thimble",
    timeZone: "UTC",
    trays: 8,
    mixers: 1,
    bowlMilligrams: 2_600_000,
    minBowlMilligrams: 900_000,
    bowlMinutes: 30,
    mixMinutes: 20,
    cleanMinutes: 12,
    horizonDays: 14,
    createdAt: EARLIER,
    ...given,
  });
}

/** Monday to Friday, 09:00 to 13:00 and 14:00 to 17:00, two hand hours each half. */
export async function insertWorkingWeek(db: Database): Promise<void> {
  const halves = [
    { startsMinute: 540, endsMinute: 780 },
    { startsMinute: 840, endsMinute: 1020 },
  ];
  await db
    .insert(weekSessions)
    .values(
      [1, 2, 3, 4, 5].flatMap((weekday) =>
        halves.map((half) => ({ weekday, ...half, handMinutes: 120, mixing: true })),
      ),
    );
}

export async function insertShape(
  db: Database,
  given: Partial<typeof shapes.$inferInsert> = {},
): Promise<number> {
  const code = given.code ?? "ball-60";
  return idOf(
    await db
      .insert(shapes)
      .values({
        code,
        name: code,
        moldSets: 24,
        driesIn: "half",
        moldMinutes: 16 * 60,
        restMinutes: 8 * 60,
        unitsPerTray: 20,
        pieceMilligrams: 118_000,
        formSeconds: 48,
        turnSeconds: 4,
        unmoldSeconds: 15,
        packSeconds: 60,
        ...given,
      })
      .returning({ id: shapes.id }),
  );
}

export async function insertBlend(
  db: Database,
  given: Partial<typeof blends.$inferInsert> = {},
): Promise<number> {
  const code = given.code ?? "cedar-amber";
  return idOf(
    await db
      .insert(blends)
      .values({ code, name: code, colour: "#c98a3d", pattern: "lines", shade: 0.7, ...given })
      .returning({ id: blends.id }),
  );
}

/** A product of one blend and one shape, both made unless they are given. */
export async function insertProduct(
  db: Database,
  given: {
    readonly blendId?: number;
    readonly shapeId?: number;
    readonly code?: string;
    readonly name?: string;
  } = {},
): Promise<number> {
  const code = given.code ?? "cedar-amber/ball-60";
  const [blendCode, shapeCode] = code.split("/");
  const blendId = given.blendId ?? (await insertBlend(db, blendCode ? { code: blendCode } : {}));
  const shapeId = given.shapeId ?? (await insertShape(db, shapeCode ? { code: shapeCode } : {}));
  return idOf(
    await db
      .insert(products)
      .values({ code, name: given.name ?? code.replace("/", " "), blendId, shapeId })
      .returning({ id: products.id }),
  );
}

/** Somebody to ask for at a customer. */
export async function insertContact(
  db: Database,
  given: typeof customerContacts.$inferInsert,
): Promise<void> {
  await db.insert(customerContacts).values(given);
}

export async function insertCustomer(
  db: Database,
  given: Partial<typeof customers.$inferInsert> = {},
): Promise<number> {
  return idOf(
    await db
      .insert(customers)
      .values({ name: "The Lamplit Otter", kind: "shop", ...given })
      .returning({ id: customers.id }),
  );
}

/** A confirmed order with its lines; returns the ids in the order of the lines. */
/** Once a file of tests: no two carriers have the same name. */
export async function insertCarrier(
  db: Database,
  given: Partial<typeof carriers.$inferInsert> = {},
): Promise<number> {
  return idOf(
    await db
      .insert(carriers)
      .values({ name: "Heron Post", services: ["overnight", "slow"], ...given })
      .returning(),
  );
}

export async function insertOrder(
  db: Database,
  given: Partial<typeof orders.$inferInsert> & {
    readonly customerId: number;
    readonly lines: readonly { readonly productId: number; readonly units: number }[];
  },
): Promise<{ readonly orderId: number; readonly lineIds: readonly number[] }> {
  const { lines, ...order } = given;
  const orderId = idOf(
    await db
      .insert(orders)
      .values({
        reference: "W-104",
        terms: "complete",
        shipBy: "2027-03-05",
        weight: 1,
        state: "confirmed",
        createdAt: EARLIER,
        confirmedAt: EARLIER,
        ...order,
      })
      .returning({ id: orders.id }),
  );
  const rows = await db
    .insert(orderLines)
    .values(lines.map((line) => ({ orderId, ...line })))
    .returning({ id: orderLines.id });
  return { orderId, lineIds: rows.map((row) => row.id) };
}

/** Pieces ready on the shelf, made before the first plan. */
export async function insertReadyLot(
  db: Database,
  given: {
    readonly productId: number;
    readonly units: number;
    readonly code?: string;
    readonly readyAt?: Date;
  },
): Promise<number> {
  const readyAt = given.readyAt ?? EARLIER;
  const lotId = idOf(
    await db
      .insert(lots)
      .values({
        code: given.code ?? "K7Q",
        productId: given.productId,
        state: "ready",
        trays: 0,
        createdAt: readyAt,
        formedAt: readyAt,
        unmoldDueAt: readyAt,
        readyDueAt: readyAt,
        unmoldedAt: readyAt,
        readyAt,
      })
      .returning({ id: lots.id }),
  );
  await db.insert(moves).values({ lotId, kind: "made", units: given.units, at: readyAt });
  return lotId;
}

/** Pieces on the trays that may be packed from `readyDueAt` on. */
export async function insertDryingLot(
  db: Database,
  given: {
    readonly productId: number;
    readonly units: number;
    readonly code?: string;
    readonly readyDueAt?: Date;
  },
): Promise<number> {
  const readyDueAt = given.readyDueAt ?? new Date("2027-03-03T09:00:00Z");
  const lotId = idOf(
    await db
      .insert(lots)
      .values({
        code: given.code ?? "D4R",
        productId: given.productId,
        state: "drying",
        trays: 1,
        createdAt: EARLIER,
        formedAt: EARLIER,
        unmoldDueAt: readyDueAt,
        readyDueAt,
      })
      .returning({ id: lots.id }),
  );
  await db.insert(moves).values({ lotId, kind: "made", units: given.units, at: EARLIER });
  return lotId;
}

/** A plan somebody made, accepted unless it says otherwise; its case and answer are left empty. */
export async function insertPlan(
  db: Database,
  given: { readonly personId: number; readonly state?: "proposed" | "accepted" | "superseded" },
): Promise<number> {
  const state = given.state ?? "accepted";
  const acceptance = state === "proposed" ? {} : { acceptedAt: EARLIER, acceptedBy: given.personId };
  return idOf(
    await db
      .insert(plans)
      .values({
        state,
        planCase: {},
        answer: {},
        holdUps: {},
        sessionInstants: [],
        seed: 1,
        engineVersion: "test",
        asOfChange: 0,
        plannedAt: EARLIER,
        plannedBy: given.personId,
        ...acceptance,
      })
      .returning({ id: plans.id }),
  );
}

/** A planned run of one blend on Monday 1 March 2027, 09:00 to 13:00, with its planned lots, two bowls. */
export async function insertRun(
  db: Database,
  given: Partial<typeof runs.$inferInsert> & {
    readonly planId: number;
    readonly blendId: number;
    readonly lots: readonly { readonly productId: number; readonly units: number; readonly code: string }[];
  },
): Promise<{ readonly runId: number; readonly lotIds: readonly number[] }> {
  const { lots: pieces, ...run } = given;
  const runId = idOf(
    await db
      .insert(runs)
      .values({
        sessionDate: "2027-03-01",
        sessionStartsAt: new Date("2027-03-01T09:00:00Z"),
        sessionEndsAt: new Date("2027-03-01T13:00:00Z"),
        bowls: 2,
        dryingFactor: 1,
        state: "planned",
        ...run,
      })
      .returning({ id: runs.id }),
  );
  const rows = await db
    .insert(lots)
    .values(
      pieces.map(({ productId, units, code }) => ({
        code,
        productId,
        runId,
        plannedUnits: units,
        state: "planned" as const,
        trays: 1,
        createdAt: EARLIER,
      })),
    )
    .returning({ id: lots.id });
  return { runId, lotIds: rows.map((row) => row.id) };
}

/** Somebody whose name stands beside what was done; without a password that would let anybody sign in. */
export async function insertPerson(
  db: Database,
  given: { readonly name: string; readonly role?: "owner" | "helper" },
): Promise<number> {
  const email = `${given.name.toLowerCase().replaceAll(/[^a-z]+/g, ".")}@halfmold.example`;
  return idOf(
    await db
      .insert(people)
      .values({ role: "helper", passwordHash: "none", createdAt: EARLIER, email, ...given })
      .returning({ id: people.id }),
  );
}

function idOf(rows: readonly { readonly id: number }[]): number {
  const [row] = rows;
  if (!row) throw new Error("The inserted row did not come back");
  return row.id;
}

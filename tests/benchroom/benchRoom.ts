import { beforeAll, beforeEach } from "vitest";
import type { Database } from "../../db/connect.ts";
import { firstOwner, newHelper, useApplication } from "../build/application.ts";
import {
  insertBlend,
  insertPlan,
  insertProduct,
  insertRun,
  insertShape,
  insertWorkshop,
} from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

/**
 * A workshop with an owner (Wren) and a helper (Fig) and one planned run on Monday 1 March 2027, 09:00 to 13:00:
 * cedar amber, two bowls, 30 balls (lot BAHH: 16 hours in the mold, 8 of rest, 20 a tray) and 24 hearts (lot HEAR: 10
 * hours in the mold, 6 of rest, 12 a tray). Made afresh for every test; the clock stands at 09:10.
 */
export function useBench() {
  const application = useApplication();
  const people: { owner?: Visitor; helper?: Visitor } = {};
  const room = { planId: 0, runId: 0, ballLot: 0, heartLot: 0, blendId: 0, ball: 0, heart: 0 };

  beforeAll(async () => {
    people.owner = await firstOwner(application);
    await insertWorkshop(application.database.db);
    people.helper = await newHelper(application, people.owner);
  });
  beforeEach(async () => {
    application.clock.set("2027-03-01T09:10:00Z");
    await application.database
      .sql`truncate plans, blends, shapes, customers, changes restart identity cascade`;
    Object.assign(room, await furnish(application.database.db));
  });
  const need = (visitor: Visitor | undefined) => {
    if (!visitor) throw new Error("People are there only from beforeAll on.");
    return visitor;
  };
  return {
    application,
    room,
    get owner() {
      return need(people.owner);
    },
    get helper() {
      return need(people.helper);
    },
    /** What the tables say of a lot. */
    async lot(lotId: number) {
      const [row] = await application.database.sql`
        select state, trays, formed_at as formed, unmold_due_at as unmold_due, unmolded_at as unmolded,
          ready_due_at as ready_due, ready_at as ready,
          (select units from lot_balances where lot_id = lots.id) as units
        from lots where id = ${lotId}`;
      if (!row) throw new Error(`There is no lot ${lotId}`);
      const clock = (time: Date | null) => time?.toISOString().slice(8, 16) ?? null;
      return {
        state: row.state as string,
        trays: row.trays as number,
        units: row.units as number,
        formed: clock(row.formed),
        unmoldDue: clock(row.unmold_due),
        unmolded: clock(row.unmolded),
        readyDue: clock(row.ready_due),
        ready: clock(row.ready),
      };
    },
    async run(runId: number) {
      const [row] = await application.database.sql`
        select state, started_at is not null as started, formed_at is not null as formed from runs where id = ${runId}`;
      return row;
    },
    /** A lot's ledger, such as "lost -2 cracked by Fig Underhill". */
    async ledger(lotId: number): Promise<readonly string[]> {
      const rows = await application.database.sql`
        select concat_ws(' ', kind, units, cause, 'by ' || people.name) as move
        from moves left join people on people.id = person_id where lot_id = ${lotId} order by moves.id`;
      return rows.map((row) => row.move as string);
    },
    /** What was written down about one thing, oldest first. */
    async changes(subject: string, subjectId: number) {
      return await application.database.sql`
        select what, before, after, people.name as by from changes left join people on people.id = person_id
        where subject = ${subject} and subject_id = ${subjectId} order by changes.id`;
    },
  };
}

/** Pieces pressed, nothing lost but what is said. */
export function pressed(units: number, losses: Partial<Record<Cause, number>> = {}) {
  return { pressed: String(units), ...lost(losses) };
}

/** Losses as a form sends them. */
export function lost(losses: Partial<Record<Cause, number>> = {}) {
  const all = { cracked: 0, stuck: 0, swollen: 0, sample: 0, ...losses };
  return Object.fromEntries(Object.entries(all).map(([cause, units]) => [cause, String(units)]));
}

type Cause = "cracked" | "stuck" | "swollen" | "sample";

export async function furnish(db: Database) {
  const ballShape = await insertShape(db, { code: "ball-60", name: "Ball" });
  const heartShape = await insertShape(db, {
    code: "heart",
    name: "Heart",
    driesIn: "whole",
    moldMinutes: 600,
    restMinutes: 360,
    unitsPerTray: 12,
    pieceMilligrams: 60_000,
  });
  const blendId = await insertBlend(db, { name: "Cedar amber" });
  const ball = await insertProduct(db, { blendId, shapeId: ballShape, name: "Cedar amber ball" });
  const heart = await insertProduct(db, {
    blendId,
    shapeId: heartShape,
    code: "cedar-amber/heart",
    name: "Cedar amber heart",
  });
  const planId = await insertPlan(db, { personId: 1 });
  const { runId, lotIds } = await insertRun(db, {
    planId,
    blendId,
    lots: [
      { productId: ball, units: 30, code: "BAHH" },
      { productId: heart, units: 24, code: "HEAR" },
    ],
  });
  const [ballLot = 0, heartLot = 0] = lotIds;
  return { planId, runId, ballLot, heartLot, blendId, ball, heart };
}

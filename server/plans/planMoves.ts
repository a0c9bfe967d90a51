import { and, asc, eq } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";
import { runs } from "../../db/schema/plans.ts";
import { blends, products } from "../../db/schema/products.ts";
import type { OrderFigures } from "../../views/plans/planFigures.ts";
import type {
  MovedOrder,
  MovedPieces,
  MovedRun,
  MovedSession,
  PlanMoves,
} from "../../views/plans/planMoves.ts";
import { worsening } from "./fate.ts";
import { type KeptPlan, parseKeptPlan, sessionAt } from "./keptPlan.ts";
import { orderFigures } from "./orderFigures.ts";
import { findAcceptedPlanId, findPlan, findPlanNames, type PlanNames } from "./queries.ts";

/**
 * What moves where a plan takes the place of the one that is followed: of its runs only those nobody has begun, since
 * work begun never moves. Null where no plan is followed, or it can't be read back.
 */
export async function findPlanMoves(db: Database, proposed: KeptPlan): Promise<PlanMoves | null> {
  const planId = await findAcceptedPlanId(db);
  const row = planId === null ? undefined : await findPlan(db, planId);
  const followed = row && parseKeptPlan(row);
  if (planId === null || !followed?.ok) return null;
  const references = [...followed.value.planCase.orders, ...proposed.planCase.orders].map(({ id }) => id);
  const names = await findPlanNames(db, [...new Set(references)]);
  return {
    planId,
    orders: movedOrders(orderFigures(followed.value, names), orderFigures(proposed, names)),
    sessions: movedSessions(await listPlannedPieces(db, planId), plannedPieces(proposed), names),
    lotsInHand: proposed.planCase.drying.length,
  };
}

/** Those that are ready on another day, or fare otherwise against their dates; the worst change first. */
export function movedOrders(
  followed: readonly OrderFigures[],
  proposed: readonly OrderFigures[],
): readonly MovedOrder[] {
  const before = new Map(followed.map((order) => [order.reference, order]));
  const worse = ({ followed: was, proposed: is }: MovedOrder) =>
    was === null ? 0 : worsening({ before: was, after: is });
  return proposed
    .map((order): MovedOrder => {
      const was = before.get(order.reference) ?? null;
      return { followed: was, proposed: order, turn: turnOf(was, order) };
    })
    .filter(({ followed: was, proposed: is, turn }) => turn !== "other-day" || was?.readyOn !== is.readyOn)
    .sort((one, other) => worse(other) - worse(one) || turns[one.turn] - turns[other.turn]);
}

const turns = { worse: 0, new: 1, "other-day": 2, better: 3 };

function turnOf(before: OrderFigures | null, after: OrderFigures): MovedOrder["turn"] {
  if (before === null) return "new";
  const change = worsening({ before, after });
  return change > 0 ? "worse" : change < 0 ? "better" : "other-day";
}

/** Pieces of a product that are to be pressed in a session from a blend's run. */
export interface PlannedPieces extends MovedPieces {
  readonly blend: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
}

/** Sessions, found again by their ends, in which a blend is not mixed into the same pieces by both. */
export function movedSessions(
  followed: readonly PlannedPieces[],
  proposed: readonly PlannedPieces[],
  names: PlanNames,
): readonly MovedSession[] {
  const all = [...followed, ...proposed];
  const ends = [...new Set(all.map(({ endsAt }) => endsAt.getTime()))].sort((one, other) => one - other);
  return ends.flatMap((end): readonly MovedSession[] => {
    const here = (side: readonly PlannedPieces[]) => side.filter(({ endsAt }) => endsAt.getTime() === end);
    const [was, is] = [here(followed), here(proposed)];
    const [any] = [...is, ...was];
    const mixed = [...new Set([...was, ...is].map(({ blend }) => blend))];
    const moved = mixed.map((blend) => movedRun(blend, was, is, names)).filter((run) => run !== null);
    if (any === undefined || moved.length === 0) return [];
    return [{ startsAt: any.startsAt, endsAt: any.endsAt, runs: moved }];
  });
}

function movedRun(
  blend: string,
  followed: readonly PlannedPieces[],
  proposed: readonly PlannedPieces[],
  names: PlanNames,
): MovedRun | null {
  const [was, is] = [followed, proposed].map((side) =>
    side
      .filter((pieces) => pieces.blend === blend)
      .map(({ product, units }) => ({ product: names.product(product), units }))
      .sort((one, other) => (one.product < other.product ? -1 : 1)),
  );
  if (JSON.stringify(was) === JSON.stringify(is)) return null;
  const side = (pieces: readonly MovedPieces[] = []) => (pieces.length === 0 ? null : pieces);
  return { look: names.blend(blend), followed: side(was), proposed: side(is) };
}

function plannedPieces(kept: KeptPlan): readonly PlannedPieces[] {
  return kept.plan.runs.flatMap(({ session, blend, pieces }) =>
    pieces.map((each) => ({ ...each, blend, ...sessionAt(kept, session) })),
  );
}

/** Of a plan that is followed what nobody has begun yet. */
async function listPlannedPieces(db: Database, planId: number): Promise<readonly PlannedPieces[]> {
  const rows = await db
    .select({
      blend: blends.code,
      product: products.code,
      units: lots.plannedUnits,
      startsAt: runs.sessionStartsAt,
      endsAt: runs.sessionEndsAt,
    })
    .from(runs)
    .innerJoin(lots, eq(lots.runId, runs.id))
    .innerJoin(blends, eq(blends.id, runs.blendId))
    .innerJoin(products, eq(products.id, lots.productId))
    .where(and(eq(runs.planId, planId), eq(runs.state, "planned")))
    .orderBy(asc(runs.sessionStartsAt), asc(runs.id), asc(lots.id));
  return rows.map(({ units, ...row }) => ({ ...row, units: units ?? 0 }));
}

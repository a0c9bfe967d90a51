import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { dateOf } from "../../views/format/dates.ts";
import { NoPlanPage } from "../../views/plans/NoPlanPage.tsx";
import { objectionWords } from "../../views/plans/objectionWords.ts";
import { PlanPage } from "../../views/plans/PlanPage.tsx";
import { PlansPage } from "../../views/plans/PlansPage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { actorOf, workshopOf } from "../http/visitor.ts";
import { readPlanSupplies } from "../supplies/planShortages.ts";
import { acceptPlan } from "./acceptPlan.ts";
import { findObstacle, type Obstacle } from "./findObstacle.ts";
import { readKeptPlan } from "./keptPlan.ts";
import { lateFigures } from "./lateFigures.ts";
import { LateReasons } from "./lateReasons.ts";
import { PlanDesk } from "./planDesk.ts";
import { planFigures } from "./planFigures.ts";
import { findPlanMoves } from "./planMoves.ts";
import { proposedRuns } from "./proposedRuns.ts";
import {
  findAcceptedPlanId,
  findPlan,
  findPlanNames,
  findProposedPlanId,
  listPlans,
  MOST_LISTED,
} from "./queries.ts";
import { searchRoutes } from "./search.routes.ts";
import { whatIfRoutes } from "./whatIf.routes.ts";
import { whatIfChoices } from "./whatIfFigures.ts";

/** What a search adds to the address of a plan that turned up while it was asked what holds the workshop up. */
const foundQuery = z.object({ found: z.literal("while-asking") });

export async function planRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const desk = new PlanDesk();
  const reasons = new LateReasons(parts.planner);
  await app.register(searchRoutes, { ...parts, desk });
  await app.register(whatIfRoutes, parts);
  app.get("/plan", async (request, reply) => {
    const planId = (await findAcceptedPlanId(db)) ?? (await findProposedPlanId(db));
    if (planId !== null) return showPlan(request, reply, planId);
    const invitation = {
      headline: "No plan yet: find out what to mix, and when.",
      obstacles: [],
      isSearching: isSearching(),
    };
    return render(request, reply, NoPlanPage, invitation, { title: "Plan", place: "Plan" });
  });

  app.get("/plans", async (request, reply) => {
    const props = { plans: await listPlans(db), mostListed: MOST_LISTED, isSearching: isSearching() };
    return render(request, reply, PlansPage, props, { title: "All plans", place: "Plan" });
  });

  app.get("/plans/:id", async (request, reply) => showPlan(request, reply, idInPath(request, "plan")));

  app.post("/plans/:id/acceptance", async (request, reply) => {
    const planId = idInPath(request, "plan");
    const at = clock.now();
    const accepted = await actOnce(
      db,
      request,
      at,
      (transaction) => acceptPlan(transaction, actorOf(request, at), { planId }),
      () => `/plans/${planId}`,
    );
    if (accepted.ok) return reply.redirect(accepted.value, 303);
    if (accepted.refusal.kind === "not-found") throw notFound("plan");
    return showPlan(request, reply, planId, accepted.refusal);
  });

  function isSearching() {
    return desk.running !== null;
  }

  /** The plan, with what speaks against accepting it: as the refusal just said, or as it stands now. */
  async function showPlan(request: FastifyRequest, reply: FastifyReply, planId: number, refusal?: Obstacle) {
    const row = await findPlan(db, planId);
    if (!row) throw notFound("plan");
    const kept = readKeptPlan(row);
    const obstacle =
      refusal ??
      (row.state === "proposed"
        ? await db.transaction((transaction) => findObstacle(transaction, row, kept, clock.now()))
        : null);
    const references = kept.planCase.orders.map(({ id }) => id);
    const names = await findPlanNames(db, references);
    const late = await reasons.of(planId, kept);
    const props = {
      moves: row.state === "proposed" ? await findPlanMoves(db, kept) : null,
      late: late === null ? null : lateFigures(kept.planCase, late, names),
      plan: planFigures(row, kept, names),
      objections: obstacle === null ? [] : objectionWords(obstacle, names),
      proposal: await findProposedPlanId(db),
      isSearching: isSearching(),
      isFoundWhileAsking: foundQuery.safeParse(request.query).success,
      choices: whatIfChoices(kept.planCase, names),
      supplies:
        row.state === "superseded"
          ? null
          : await readPlanSupplies(
              db,
              row.state === "proposed" ? proposedRuns(kept) : null,
              dateOf(clock.now(), workshopOf(request).timeZone),
            ),
    };
    const status = refusal === undefined ? 200 : 409;
    return render(request, reply, PlanPage, props, { title: `Plan ${planId}`, place: "Plan", status });
  }
}

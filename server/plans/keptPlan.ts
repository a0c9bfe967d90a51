import type { plans } from "../../db/schema/plans.ts";
import { ok, type Result } from "../basics/result.ts";
import type { CaseMistake } from "../planning/case.ts";
import { parseCase } from "../planning/parseCase.ts";
import { parsePlan } from "../planning/parsePlan.ts";
import type { Plan } from "../planning/plan.ts";
import type { HoldUps } from "../planning/questions/whatHoldsUp.ts";
import type { BuiltCase, SessionInstants } from "./buildCase.ts";

/** A plan as it was kept: question, answer, and what holds the workshop up. */
export interface KeptPlan extends BuiltCase {
  readonly plan: Plan;
  /** Where its search was ended early nobody has asked, and it knows of no resource. */
  readonly holdUps: HoldUps;
}

/** What is kept of a plan whose maker did not wait until it was asked what holds the workshop up. */
export function notAsked(plan: Plan): HoldUps {
  return { cost: plan.cost, resources: [], bottleneck: null };
}

type KeptRow = Pick<typeof plans.$inferSelect, "planCase" | "answer" | "holdUps" | "sessionInstants">;

/** Reads a kept plan back. Throws where it can't be read, which no command of ours can have written. */
export function readKeptPlan(row: KeptRow): KeptPlan {
  const kept = parseKeptPlan(row);
  if (kept.ok) return kept.value;
  const mistakes = kept.refusal.map(({ path, problem }) => `${path} ${problem}`);
  throw new Error(`A kept plan can't be read: ${mistakes.join("; ")}`);
}

/** The same for pages that can do without it: what is wrong with one that another release may have written. */
export function parseKeptPlan(row: KeptRow): Result<KeptPlan, readonly CaseMistake[]> {
  const planCase = parseCase(row.planCase);
  if (!planCase.ok) return planCase;
  const plan = parsePlan(row.answer);
  if (!plan.ok) return plan;
  const instants = row.sessionInstants as readonly { readonly startsAt: string; readonly endsAt: string }[];
  return ok({
    planCase: planCase.value,
    plan: plan.value,
    holdUps: row.holdUps as HoldUps,
    sessionInstants: instants.map(({ startsAt, endsAt }) => ({
      startsAt: new Date(startsAt),
      endsAt: new Date(endsAt),
    })),
  });
}

/** True start and end of a session of a kept plan. */
export function sessionAt({ sessionInstants }: KeptPlan, session: number): SessionInstants {
  const instants = sessionInstants[session];
  if (instants === undefined) throw new Error(`A kept plan has no session ${session}`);
  return instants;
}

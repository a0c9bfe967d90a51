import type { PlanCase } from "../planning/case.ts";
import {
  explainLateOrders,
  explainRuns,
  type LateReason,
  type PlanSummary,
  summarisePlan,
} from "../planning/explainPlan.ts";
import type { OrderOutcome, Plan } from "../planning/plan.ts";
import type { Promised } from "../planning/questions/promise.ts";
import type { HoldUps } from "../planning/questions/whatHoldsUp.ts";
import type { Resource } from "../planning/resource.ts";

/** A plan in plain English for a terminal: the answer, the runs by session, what becomes of each order. */
export function planText(planCase: PlanCase, plan: Plan): string {
  return [
    summarySentence(summarisePlan(plan)),
    "",
    ...runLines(planCase, plan),
    "",
    ...plan.orders.map(orderLine),
    ...lateLines(planCase, plan),
  ].join("\n");
}

function summarySentence(summary: PlanSummary): string {
  const parts = [
    `${counted(summary.onTime, "order")} of ${summary.orders} on time`,
    ...(summary.late > 0 ? [`${summary.late} late`] : []),
    ...(summary.short > 0 ? [`${summary.short} not served in full`] : []),
  ];
  const proof = summary.provenBest
    ? "no plan can be better on lateness"
    : `no plan can go below ${rounded(summary.bound)}`;
  return `${parts.join(", ")}. Lateness ${rounded(summary.cost)} unit-days; ${proof}.`;
}

function runLines(planCase: PlanCase, plan: Plan): readonly string[] {
  if (plan.runs.length === 0) return ["Nothing to mix."];
  const reasons = explainRuns(planCase, plan);
  let heading = -1;
  return plan.runs.flatMap((run, index) => {
    const session = planCase.sessions[run.session];
    const pieces = run.pieces.map(({ product, units }) => `${units} x ${product}`).join(", ");
    const serves = [...new Set(reasons[index]?.serves.map((served) => served.order))].join(", ");
    const spare = reasons[index]?.leftOver.map(({ product, units }) => `${units} x ${product}`) ?? [];
    const line = [
      `  ${run.blend}: ${counted(run.bowls, "bowl")}, ${pieces}`,
      ...(serves === "" ? [] : [`for ${serves}`]),
      ...(spare.length > 0 ? [`to stock ${spare.join(", ")}`] : []),
    ].join("; ");
    if (run.session === heading) return [line];
    heading = run.session;
    return [`${session?.date} ${session?.start} to ${session?.end}`, line];
  });
}

function orderLine(order: OrderOutcome): string {
  if (order.unitsShort > 0) return `${order.id}: ${counted(order.unitsShort, "piece")} not served`;
  const late = order.daysLate > 0 ? `, ${counted(order.daysLate, "day")} late` : "";
  return `${order.id}: ready on ${order.readyOn}${late}`;
}

function lateLines(planCase: PlanCase, plan: Plan): readonly string[] {
  const reasons = explainLateOrders(planCase, plan);
  return reasons.length === 0 ? [] : ["", ...reasons.map((reason) => lateSentence(planCase, reason))];
}

/** "W-104 waits for 12 x cedar/heart: molds of heart are taken on 2027-03-02 to 2027-03-04 by W-98; alone ..." */
function lateSentence(planCase: PlanCase, { outcome, waitsFor, heldBy, alone }: LateReason): string {
  const waits = `${outcome.id} waits for ${waitsFor.units} x ${waitsFor.product}`;
  const own = heldBy?.orders.filter((order) => order !== outcome.id) ?? [];
  const named = own.length > 5 ? [...own.slice(0, 4), `${own.length - 4} more orders`] : own;
  const takers = [...named, ...(heldBy?.alreadyDrying ? ["what is drying already"] : [])];
  const by = takers.length > 0 ? ` by ${takers.join(", ")}` : "";
  const held =
    heldBy === null ? "" : `: ${takenUp(heldBy.resource)} used up ${dates(planCase, heldBy.sessions)}${by}`;
  const aloneOn =
    alone.readyOn === null
      ? "even alone it can't be served in full"
      : `alone it would be ready on ${alone.readyOn}`;
  return `${waits}${held}; ${aloneOn}.`;
}

function dates(planCase: PlanCase, sessions: readonly number[]): string {
  const days = [...new Set(sessions.map((session) => planCase.sessions[session]?.date))];
  return days.length > 1 ? `from ${days[0]} to ${days[days.length - 1]}` : `on ${days[0]}`;
}

function takenUp(resource: Resource): string {
  switch (resource.resource) {
    case "moldSets":
      return `molds of ${resource.shape} are`;
    case "handMinutes":
      return "hand minutes are";
    default:
      return `${resource.resource} are`;
  }
}

/** When an order can be promised. */
export function promiseText(order: string, { earliest, proven, instead }: Promised): string {
  const first =
    earliest === null
      ? `${order} can't be promised for any date of these sessions without making others wait longer.`
      : `${order} can be promised for ${earliest}${proven ? "; no plan could be earlier" : ""}.`;
  if (instead === null) return first;
  const { wished, piecesByWished, restBy, inTheWay } = instead;
  const rest = restBy === null || piecesByWished === 0 ? "" : `, the rest by ${restBy}`;
  const way = inTheWay === null ? "" : `; ${takenUp(inTheWay)} in the way of the rest`;
  return `${first}\nBy ${wished}, ${counted(piecesByWished, "piece")} of it could be ready${rest}${way}.`;
}

/** What holds the workshop up, one line a resource. */
export function holdUpsText(holdUps: HoldUps): string {
  const lines = holdUps.resources.map((report) => {
    const enough =
      report.enough === null
        ? "more of it alone saves nothing"
        : `${report.enough.limit} would be enough, for ${rounded(report.enough.cost)}`;
    const load = `load ${percent(report.meanLoad)} on average, ${percent(report.peakLoad)} at its peak`;
    return `  ${named(report)}: ${load}; with ${report.oneMore.limit} ${rounded(report.oneMore.cost)}; ${enough}`;
  });
  const first = `Lateness ${rounded(holdUps.cost)} unit-days as things stand.`;
  const last =
    holdUps.bottleneck === null ? [] : [`What holds the workshop up: ${named(holdUps.bottleneck)}.`];
  return [first, ...lines, ...last].join("\n");
}

function named(resource: Resource): string {
  switch (resource.resource) {
    case "moldSets":
      return `mold sets of ${resource.shape}`;
    case "handMinutes":
      return "hand minutes added to every session";
    default:
      return resource.resource;
  }
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/** At most two decimals. */
export function rounded(value: number): string {
  return String(Math.round(value * 100) / 100);
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

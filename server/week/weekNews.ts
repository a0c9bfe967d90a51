import { ordersAtRisk, type Risk } from "./ordersAtRisk.ts";
import {
  canBeFilled,
  type DryingLot,
  type OpenOrder,
  type OpenRun,
  type PackingState,
  type WeekFacts,
} from "./weekFacts.ts";

/** An order that leaves soon or could, and what it still needs before it does. */
export interface Leaving {
  readonly order: OpenOrder;
  /** "early": packed before its day. */
  readonly when: "today" | "tomorrow" | "early";
  readonly needs: "shipping" | "packing" | "pieces";
}

/** What stands at the page's top when there is nothing to tell yet. */
export type Beginning = "no-products" | "no-sessions" | "no-orders" | "no-plan";

/** What the page one opens in the morning tells, each list in order of urgency. */
export interface WeekNews {
  readonly now: Date;
  /** What has to be done before a week can be told; null once a plan is followed. */
  readonly beginning: Beginning | null;
  /** Whether a plan is followed, whose promises can be held against what happens. */
  readonly followsPlan: boolean;
  /** Orders that the shelf cannot fill and that no plan has been accepted for; empty once one has. */
  readonly waiting: readonly OpenOrder[];
  readonly risks: readonly Risk[];
  readonly leaving: readonly Leaving[];
  /** Planned for an earlier session and not begun. */
  readonly missedRuns: readonly OpenRun[];
  /** Today's, from the clock on. */
  readonly runsToday: readonly OpenRun[];
  /** The first run after today, when there is none today. */
  readonly nextRun: OpenRun | null;
  /** Whose time has come. */
  readonly lotsDue: readonly DryingLot[];
  readonly lotsLater: readonly DryingLot[];
  /** What can be packed from the shelf now, but for what is among the leaving. */
  readonly toPack: readonly OrderToPack[];
}

export type OrderToPack = OpenOrder & { readonly packing: PackingState };

/** The news of one morning, from the accepted plan and the facts of the day. */
export function weekNews(facts: WeekFacts): WeekNews {
  const { orders, now, today } = facts;
  const isMissed = (run: OpenRun) => run.state === "planned" && run.endsAt <= now;
  const runs = facts.runs.filter((run) => !isMissed(run));
  const runsToday = runs.filter((run) => run.sessionDate <= today);
  const waiting = facts.outcomes ? [] : orders.filter((order) => !canBeFilled(order));
  const leaving = orders.flatMap((order) => leavingSoon(order, facts));
  const leavesPacked = new Set(leaving.filter(({ needs }) => needs === "packing").map(({ order }) => order));
  return {
    now,
    beginning: beginningOf(facts, waiting),
    followsPlan: facts.outcomes !== null,
    waiting,
    risks: ordersAtRisk(facts),
    leaving,
    missedRuns: facts.runs.filter(isMissed),
    runsToday,
    nextRun: runsToday.length > 0 ? null : (runs[0] ?? null),
    lotsDue: facts.lots.filter((lot) => lot.dueAt <= now),
    lotsLater: facts.lots.filter((lot) => lot.dueAt > now),
    toPack: orders
      .filter(isUnpacked)
      .filter((order) => isWorthPacking(order, today) && !leavesPacked.has(order)),
  };
}

function beginningOf(facts: WeekFacts, waiting: readonly OpenOrder[]): Beginning | null {
  if (!facts.hasProducts) return "no-products";
  if (!facts.hasSessions) return "no-sessions";
  if (waiting.length > 0) return "no-plan";
  return facts.outcomes || facts.orders.length > 0 ? null : "no-orders";
}

function leavingSoon(order: OpenOrder, { today, tomorrow }: WeekFacts): readonly Leaving[] {
  const needs = order.packing === null ? "shipping" : canBeFilled(order) ? "packing" : "pieces";
  if (order.shipBy === today) return [{ order, when: "today", needs }];
  if (order.shipBy === tomorrow) return [{ order, when: "tomorrow", needs }];
  return order.packing === null && order.shipBy > today ? [{ order, when: "early", needs }] : [];
}

function isUnpacked(order: OpenOrder): order is OrderToPack {
  return order.packing !== null;
}

/** Whole orders, parts for those who take parts, and on its day whatever a stall can have. */
function isWorthPacking(order: OrderToPack, today: string): boolean {
  const { terms, free } = order.packing;
  if (canBeFilled(order)) return true;
  return free > 0 && (terms === "as-ready" || (terms === "market" && order.shipBy <= today));
}

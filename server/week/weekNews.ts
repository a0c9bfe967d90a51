import { ordersAtRisk, type Risk } from "./ordersAtRisk.ts";
import { type Packable, packableNow } from "./packableNow.ts";
import type { DryingLot, OpenOrder, OpenRun, WeekFacts } from "./weekFacts.ts";

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
  /** What has to be done before a week can be told; null once a plan is followed. */
  readonly beginning: Beginning | null;
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
  readonly toPack: readonly Packable[];
}

/** The news of one morning, from the accepted plan and the facts of the day. */
export function weekNews(facts: WeekFacts): WeekNews {
  const packable = packableNow(facts.orders, facts.free);
  const isMissed = (run: OpenRun) => run.state === "planned" && run.endsAt <= facts.now;
  const runs = facts.runs.filter((run) => !isMissed(run));
  const runsToday = runs.filter((run) => run.sessionDate <= facts.today);
  const waiting = facts.outcomes ? [] : packable.filter(({ whole }) => !whole).map(({ order }) => order);
  const leaving = packable.flatMap((each) => leavingSoon(each, facts));
  const leavesPacked = new Set(leaving.filter(({ needs }) => needs === "packing").map(({ order }) => order));
  return {
    beginning: beginningOf(facts, waiting),
    waiting,
    risks: ordersAtRisk(facts, packable),
    leaving,
    missedRuns: facts.runs.filter(isMissed),
    runsToday,
    nextRun: runsToday.length > 0 ? null : (runs[0] ?? null),
    lotsDue: facts.lots.filter((lot) => lot.dueAt <= facts.now),
    lotsLater: facts.lots.filter((lot) => lot.dueAt > facts.now),
    toPack: packable.filter((each) => isWorthPacking(each, facts.today) && !leavesPacked.has(each.order)),
  };
}

function beginningOf(facts: WeekFacts, waiting: readonly OpenOrder[]): Beginning | null {
  if (!facts.hasProducts) return "no-products";
  if (!facts.hasSessions) return "no-sessions";
  if (waiting.length > 0) return "no-plan";
  return facts.outcomes || facts.orders.length > 0 ? null : "no-orders";
}

function leavingSoon({ order, whole }: Packable, facts: WeekFacts): readonly Leaving[] {
  const needs = order.state === "packed" ? "shipping" : whole ? "packing" : "pieces";
  if (order.shipBy === facts.today) return [{ order, when: "today", needs }];
  if (order.shipBy === facts.tomorrow) return [{ order, when: "tomorrow", needs }];
  return order.state === "packed" && order.shipBy > facts.today ? [{ order, when: "early", needs }] : [];
}

/** Whole orders, parts for those who take parts, and on its day whatever a stall can have. */
function isWorthPacking({ order, units, whole }: Packable, today: string): boolean {
  if (order.state === "packed") return false;
  if (whole) return true;
  return units > 0 && (order.terms === "as-ready" || (order.terms === "market" && order.shipBy <= today));
}

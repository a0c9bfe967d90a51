import type { BlendLook } from "../components/Swatch.tsx";
import { counted, spelled } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";
import type { OrderFigures } from "./planFigures.ts";

/** What moves where a plan takes the place of the one that is followed. */
export interface PlanMoves {
  /** The plan that is followed. */
  readonly planId: number;
  /** Only those that fare otherwise, worse ones first; each side null where the plan does not know the order. */
  readonly orders: readonly MovedOrder[];
  /** Only those that are mixed otherwise, in time order. */
  readonly sessions: readonly MovedSession[];
  /** Lots in hand that both plans leave as they are. */
  readonly lotsInHand: number;
}

export interface MovedOrder {
  readonly followed: OrderFigures | null;
  readonly proposed: OrderFigures;
  readonly turn: "worse" | "better" | "other-day" | "new";
}

export interface MovedSession {
  readonly startsAt: Date;
  readonly endsAt: Date;
  readonly runs: readonly MovedRun[];
}

/** A run that is added, dropped, or pressed into other pieces; pieces a side, null where it is not mixed there. */
export interface MovedRun {
  readonly look: BlendLook;
  readonly followed: readonly MovedPieces[] | null;
  readonly proposed: readonly MovedPieces[] | null;
}

export interface MovedPieces {
  readonly product: string;
  readonly units: number;
}

/** "Against plan 3, which you follow: W-104 fares worse, and two sessions are mixed otherwise." */
export function movesSentence({ planId, orders, sessions }: PlanMoves): string {
  const of = (turn: MovedOrder["turn"]) => orders.filter((order) => order.turn === turn);
  const told = [
    orderCount(of("worse"), "worse"),
    orderCount(of("better"), "better"),
    of("new").length > 0
      ? `${spelled(of("new").length, "order")} ${of("new").length === 1 ? "is" : "are"} new`
      : "",
    sessions.length > 0
      ? `${spelled(sessions.length, "session")} ${sessions.length === 1 ? "is" : "are"} mixed otherwise`
      : "",
  ].filter((words) => words !== "");
  const moves =
    told.length === 0 ? "no order fares otherwise, and every session stays as it is" : listed(told);
  return sentence(`Against plan ${planId}, which is followed now: ${moves}`);
}

function orderCount(orders: readonly MovedOrder[], how: string): string {
  const [first] = orders;
  if (first === undefined) return "";
  return orders.length === 1
    ? `${first.proposed.reference} fares ${how}`
    : `${spelled(orders.length, "order")} fare ${how}`;
}

/** What becomes of work that is begun. */
export function inHandWords({ lotsInHand }: PlanMoves): string {
  return lotsInHand === 0
    ? "Nothing is begun that could move."
    : `What is begun stays: ${counted(lotsInHand, "lot")} in bowls, molds and on trays.`;
}

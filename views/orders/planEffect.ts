import type { Moved } from "../../server/orders/planEffect.ts";
import { shortDayWords } from "../format/dates.ts";
import { counted, pieces, spelled } from "../format/quantities.ts";
import { listed, sentence } from "../format/sentence.ts";

/** What a change of an order would do to the others. */
export interface PlanEffect {
  /** none: there is nothing to plan; unknown: the planner had no time for it. */
  readonly plan: "compared" | "none" | "unknown";
  /** Other orders that fare differently, the worst first. */
  readonly moved: readonly MovedOrder[];
  /** Pieces made or begun that nobody waits for any more. */
  readonly freed: readonly { readonly product: string; readonly units: number }[];
  /** The order itself, as it would then fare; null where it is cancelled or nothing is left to pack. */
  readonly own: (Moved["after"] & { readonly readyOn: string | null }) | null;
}

type MovedOrder = Moved & { readonly orderId: number | null; readonly customer: string };

/** "Nobody becomes later, two orders become earlier." */
export function effectHeadline({ plan, moved, freed, own }: PlanEffect): string {
  if (plan === "unknown") return "The planner is busy and can't say now whom it moves.";
  if (plan === "none") return "There is nothing to plan, so whom it moves can't be said.";
  const worse = moved.filter((one) => isWorse(one)).length;
  const better = moved.length - worse;
  const turns = turnsOf(moved);
  const parts = [
    ...(own && (own.daysLate > 0 || own.unitsShort > 0) ? [`it is itself ${fateWords(own)}`] : []),
    worse === 0
      ? `nobody else becomes ${turns.worse}`
      : `${spelled(worse, "order")} ${worse === 1 ? "becomes" : "become"} ${turns.worse}`,
    ...(better > 0
      ? [`${spelled(better, "order")} ${better === 1 ? "becomes" : "become"} ${turns.better}`]
      : []),
    ...(freed.length > 0
      ? [`${pieces(freed.reduce((sum, { units }) => sum + units, 0))} go to the shelf`]
      : []),
  ];
  return sentence(listed(parts));
}

/** What becomes of the others: later or earlier, or where pieces are short as well, worse or better off. */
export function turnsOf(moved: readonly MovedOrder[]): { readonly worse: string; readonly better: string } {
  return moved.some(({ before, after }) => before.unitsShort !== after.unitsShort)
    ? { worse: "worse off", better: "better off" }
    : { worse: "later", better: "earlier" };
}

export function isWorse({ before, after }: MovedOrder): boolean {
  return (
    after.unitsShort > before.unitsShort ||
    (after.unitsShort === before.unitsShort && after.daysLate > before.daysLate)
  );
}

/** "3 days late → in time". */
export function movedWords({ before, after }: MovedOrder): string {
  return `${fateWords(before)} → ${fateWords(after)}`;
}

export function ownWords({ daysLate, unitsShort, readyOn }: NonNullable<PlanEffect["own"]>): string {
  const ready = readyOn === null ? "" : `, ready on ${shortDayWords(readyOn)}`;
  return `${fateWords({ daysLate, unitsShort })}${ready}`;
}

/** "3 days late", "12 pieces short" or "in time". */
export function fateWords({ daysLate, unitsShort }: Moved["after"]): string {
  if (unitsShort > 0) return `${pieces(unitsShort)} short`;
  return daysLate > 0 ? `${counted(daysLate, "day")} late` : "in time";
}

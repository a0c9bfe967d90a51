import { dayWords } from "../format/dates.ts";
import { spelled } from "../format/quantities.ts";
import { sentence } from "../format/sentence.ts";

export interface OrdersSummary {
  readonly all: number;
  readonly drafts: number;
  readonly open: number;
  readonly late: number;
  /** The open order that has to leave next; null when none is still ahead. */
  readonly next: { readonly reference: string; readonly customer: string; readonly shipBy: string } | null;
  /** Today in the workshop, ISO 8601. */
  readonly today: string;
}

/** "Seven orders are open, two of them late; next is W-104 for The Lamplit Otter, by Friday 5 March." */
export function ordersHeadline(summary: OrdersSummary): string {
  if (summary.all === 0) return "No orders yet: enter the first, or take a file of them.";
  const parts = [openWords(summary), nextWords(summary), draftWords(summary)];
  return sentence(parts.filter((part) => part !== "").join("; "));
}

function openWords({ open, late }: OrdersSummary): string {
  if (open === 0) return "nothing is open";
  const orders = `${spelled(open, "order")} ${open === 1 ? "is" : "are"} open`;
  if (late === 0) return `${orders}, none late`;
  if (late === open) return open === 1 ? `${orders} and late` : `${orders}, all late`;
  return `${orders}, ${spelled(late, "of them", "of them")} late`;
}

function nextWords({ next, today }: OrdersSummary): string {
  if (next === null) return "";
  const day = next.shipBy === today ? "today" : `by ${dayWords(next.shipBy)}`;
  return `next is ${next.reference} for ${next.customer}, ${day}`;
}

function draftWords({ drafts }: OrdersSummary): string {
  if (drafts === 0) return "";
  return `${spelled(drafts, "draft")} ${drafts === 1 ? "waits" : "wait"} to be confirmed`;
}

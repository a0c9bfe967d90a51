import type { Database } from "../../db/connect.ts";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import type { ShownStandingOrder } from "../../views/standing/StandingOrderPage.tsx";
import type { StandingSummary } from "../../views/standing/standingWords.ts";
import {
  findStandingOrder,
  listDrafts,
  listStandingLines,
  readStandingOrders,
  type StandingLine,
  type StandingOrder,
} from "./queries.ts";
import { nextDates } from "./standingDates.ts";
import { weeklyPattern } from "./weeklyRule.ts";

/** Dates shown of one standing order. */
const DATES_SHOWN = 8;

/** Every standing order as its list shows it, those that go on first. */
export async function showStandingOrders(db: Database, today: string): Promise<readonly StandingSummary[]> {
  const orders = await readStandingOrders(db);
  const summaries: StandingSummary[] = [];
  for (const order of orders) summaries.push(summaryOf(order, await listStandingLines(db, order.id), today));
  return [...summaries.filter(({ stopped }) => !stopped), ...summaries.filter(({ stopped }) => stopped)];
}

/** One with everything about it; undefined when there is none of that number. */
export async function showStandingOrder(
  db: Database,
  id: number,
  today: string,
): Promise<ShownStandingOrder | undefined> {
  const order = await findStandingOrder(db, id);
  if (!order) return undefined;
  const lines = await listStandingLines(db, id);
  return {
    ...order,
    ...summaryOf(order, lines, today),
    lines,
    pauses: order.pauses.filter(({ lastDate }) => lastDate === null || lastDate >= today),
    drafts: await listDrafts(db, id),
  };
}

function summaryOf(order: StandingOrder, lines: readonly StandingLine[], today: string): StandingSummary {
  const { id, customer, customerRetired, stopped, rule } = order;
  return {
    ...{ id, customer, customerRetired, stopped },
    pattern: weeklyPattern(rule),
    units: lines.reduce((sum, line) => sum + (line.retired ? 0 : line.units), 0),
    dates: nextDates(order, today, DATES_SHOWN),
  };
}

/** The form of a change, filled in with what the standing order holds. */
export function standingForm(order: ShownStandingOrder): FormAnswer {
  return freshForm({
    every_weeks: String(order.pattern.everyWeeks),
    weekday: order.pattern.weekdays.map(String),
    starts_on: order.startsOn,
    ends_on: order.endsOn ?? "",
    days_before: String(order.daysBefore),
    note: order.note,
    product: order.lines.map(({ productId }) => String(productId)),
    units: order.lines.map(({ units }) => String(units)),
  });
}

import type { Database } from "../../db/connect.ts";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import type { ShownStandingOrder } from "../../views/standing/StandingOrderPage.tsx";
import type { StandingSummary } from "../../views/standing/standingWords.ts";
import {
  findStandingOrder,
  listDrafts,
  listStandingLines,
  listStandingOrders,
  type StandingOrder,
} from "./queries.ts";
import { nextDates } from "./standingDates.ts";
import { weeklyPattern } from "./weeklyRule.ts";

/** Dates shown of one standing order. */
const DATES_SHOWN = 8;

/** Every standing order as its list shows it, those that go on first. */
export async function showStandingOrders(db: Database, today: string): Promise<readonly StandingSummary[]> {
  const summaries = (await listStandingOrders(db, today)).map((order) => summaryOf(order, today));
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
  return {
    ...order,
    ...summaryOf(order, today),
    lines: await listStandingLines(db, id),
    pauses: order.pauses.filter(({ lastDate }) => lastDate === null || lastDate >= today),
    drafts: await listDrafts(db, id),
  };
}

function summaryOf(order: StandingOrder, today: string): StandingSummary {
  const { id, customer, customerRetired, stopped, rule, units } = order;
  return {
    ...{ id, customer, customerRetired, stopped, units },
    pattern: weeklyPattern(rule),
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

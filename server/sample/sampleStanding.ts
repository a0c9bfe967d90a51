import type { Transaction } from "../../db/connect.ts";
import type { SampleDay } from "../../db/demo/orders.ts";
import { sampleStandingOrders } from "../../db/demo/standingOrders.ts";
import type { Actor } from "../http/visitor.ts";
import { weeklyRule } from "../standing/weeklyRule.ts";
import { addStandingOrder } from "../standing/writeStandingOrder.ts";
import { weekdayOf } from "../workshop/calendarClashes.ts";
import { entriesOf, known, taken } from "./known.ts";

/** What shops want again and again; the drafts that are due come when somebody looks. */
export async function addSampleStandingOrders(
  transaction: Transaction,
  actor: Actor,
  sample: {
    readonly products: ReadonlyMap<string, number>;
    readonly customers: ReadonlyMap<string, number>;
    readonly dateOfDay: (day: SampleDay) => string;
  },
): Promise<void> {
  const { products, customers, dateOfDay } = sample;
  for (const { customer, everyWeeks, daysBefore, note, ...order } of sampleStandingOrders) {
    const startsOn = dateOfDay(order.startsOn);
    const content = {
      customerId: known(customers, customer),
      rule: weeklyRule({ everyWeeks, weekdays: [weekdayOf(startsOn)] }),
      ...{ startsOn, endsOn: null, daysBefore, note },
      lines: entriesOf(order.lines).map(([code, units]) => ({ productId: known(products, code), units })),
    };
    taken(await addStandingOrder(transaction, actor, content));
  }
}

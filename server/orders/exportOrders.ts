import { stringify } from "csv-stringify/sync";
import { eq, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { customers } from "../../db/schema/customers.ts";
import { orders } from "../../db/schema/orders.ts";
import { plainMoney } from "../../views/format/money.ts";
import { readMoneyOfOrders } from "../prices/orderMoney.ts";
import type { OrderMoney } from "../prices/priceOrder.ts";
import type { OrderFilter } from "./filter.ts";
import { listOrderIds, NOTHING_ORDERED, progressOf } from "./queries.ts";

const COLUMNS = [
  ..."order,customer,their_number,state,needed_by,ship_by,pieces,packed,shipped".split(","),
  ..."currency,net,tax,total,lines_without_price,note".split(","),
];

/** By which spreadsheets know UTF-8. */
const BYTE_ORDER_MARK = "\uFEFF";

/** Orders that are read and sent on at once. */
const ORDERS_AT_ONCE = 500;

/**
 * The list a filter asks for as CSV (RFC 4180), an order a record, some hundred at a time so that years of orders are
 * never held at once: which ones was settled at the beginning, each stands as it is when its turn comes. Amounts have a
 * decimal point, dates are ISO 8601. What a spreadsheet would take for a formula is marked as text: names and notes come
 * from outside.
 */
export async function* exportOrders(
  db: Database,
  filter: OrderFilter,
  today: string,
): AsyncGenerator<string> {
  yield BYTE_ORDER_MARK + csvOf([COLUMNS]);
  const orderIds = await listOrderIds(db, filter, today);
  for (let first = 0; first < orderIds.length; first += ORDERS_AT_ONCE)
    yield csvOf(await recordsOf(db, orderIds.slice(first, first + ORDERS_AT_ONCE), today));
}

async function recordsOf(db: Database, orderIds: readonly number[], today: string) {
  const rows = new Map((await readWritten(db, orderIds)).map((row) => [row.id, row]));
  const progress = await progressOf(db, orderIds);
  const money = await readMoneyOfOrders(db, orderIds, today);
  return orderIds.flatMap((id) => {
    const row = rows.get(id);
    if (!row) return [];
    const { reference, customer, customerReference, state, neededBy, shipBy, note } = row;
    const { ordered, packed, shipped } = progress.get(id) ?? NOTHING_ORDERED;
    return [
      [
        ...[reference, customer, customerReference, state, neededBy ?? "", shipBy],
        ...[ordered, packed, shipped, ...amountsOf(money.get(id)), note],
      ],
    ];
  });
}

async function readWritten(db: Database, orderIds: readonly number[]) {
  return await db
    .select({
      id: orders.id,
      reference: orders.reference,
      customer: customers.name,
      customerReference: orders.customerReference,
      state: orders.state,
      neededBy: orders.neededBy,
      shipBy: orders.shipBy,
      note: orders.note,
    })
    .from(orders)
    .innerJoin(customers, eq(customers.id, orders.customerId))
    .where(inArray(orders.id, [...orderIds]));
}

function amountsOf(money: OrderMoney | undefined): readonly (string | number)[] {
  if (!money) return ["", "", "", "", ""];
  const { currency, totals, unpriced } = money;
  const amounts = [totals.netMinor, totals.taxMinor, totals.grossMinor];
  return [currency, ...amounts.map((minor) => plainMoney(minor, currency)), unpriced];
}

function csvOf(records: readonly (readonly (string | number)[])[]): string {
  return stringify(records as (string | number)[][], { escape_formulas: true, record_delimiter: "windows" });
}

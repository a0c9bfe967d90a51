import { stringify } from "csv-stringify/sync";
import { asc, inArray } from "drizzle-orm";
import type { Database } from "../../db/connect.ts";
import { orders } from "../../db/schema/orders.ts";
import { plainMoney } from "../../views/format/money.ts";
import { readOrderMoney } from "../prices/orderMoney.ts";
import type { OrderFilter } from "./filter.ts";
import { listOrders, ORDERS_A_PAGE } from "./queries.ts";

const COLUMNS = [
  ..."order,customer,their_number,state,needed_by,ship_by,pieces,packed,shipped".split(","),
  ..."currency,net,tax,total,lines_without_price,note".split(","),
];

/**
 * The list a filter asks for as CSV (RFC 4180), an order a record, page by page so that years of orders are never held
 * at once. Amounts have a decimal point, dates are ISO 8601. What a spreadsheet would take for a formula is marked as
 * text: names and notes come from outside.
 */
export async function* exportOrders(
  db: Database,
  filter: OrderFilter,
  today: string,
): AsyncGenerator<string> {
  yield csvOf([COLUMNS]);
  for (let page = 1; ; page += 1) {
    const { rows } = await listOrders(db, { ...filter, page }, today);
    if (rows.length > 0) yield csvOf(await recordsOf(db, rows, today));
    if (rows.length < ORDERS_A_PAGE) return;
  }
}

type ListedOrder = Awaited<ReturnType<typeof listOrders>>["rows"][number];

async function recordsOf(db: Database, rows: readonly ListedOrder[], today: string) {
  const ids = rows.map(({ id }) => id);
  const notes = await db
    .select({
      id: orders.id,
      customerReference: orders.customerReference,
      neededBy: orders.neededBy,
      note: orders.note,
    })
    .from(orders)
    .where(inArray(orders.id, ids))
    .orderBy(asc(orders.id));
  const byId = new Map(notes.map((note) => [note.id, note]));
  const records: (readonly (string | number)[])[] = [];
  for (const { id, reference, customer, state, shipBy, ordered, packed, shipped } of rows) {
    const rest = byId.get(id);
    records.push([
      ...[reference, customer, rest?.customerReference ?? "", state, rest?.neededBy ?? "", shipBy],
      ...[ordered, packed, shipped, ...(await moneyOf(db, id, today)), rest?.note ?? ""],
    ]);
  }
  return records;
}

async function moneyOf(db: Database, orderId: number, today: string): Promise<readonly (string | number)[]> {
  const money = await readOrderMoney(db, orderId, today);
  if (!money) return ["", "", "", "", ""];
  const { currency, totals, unpriced } = money;
  const amounts = [totals.netMinor, totals.taxMinor, totals.grossMinor];
  return [currency, ...amounts.map((minor) => plainMoney(minor, currency)), unpriced];
}

function csvOf(records: readonly (readonly (string | number)[])[]): string {
  return stringify(records as (string | number)[][], { escape_formulas: true, record_delimiter: "windows" });
}

import { stringify } from "csv-stringify/sync";
import { dateOf } from "../../views/format/dates.ts";
import type { OrderWithLot, TracedLot } from "./queries.ts";

const COLUMNS = [
  ..."lot,product,order,customer,contact,address,packed_here,left,came_home,last_left_on".split(","),
];

/**
 * Who has pieces of some lots as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8: an order and a
 * lot a record. Texts that a spreadsheet would take for a formula are kept as text.
 */
export function traceFile(
  orders: readonly OrderWithLot[],
  lots: readonly TracedLot[],
  timeZone: string,
): string {
  const known = new Map(lots.map((lot) => [lot.id, lot]));
  const rows = orders.map((row) => [
    ...[known.get(row.lotId)?.code ?? "", known.get(row.lotId)?.product ?? ""],
    ...[row.reference, row.customer, row.contact, row.address],
    ...[
      row.packed,
      row.shipped,
      row.cameHome,
      row.lastLeftAt === null ? "" : dateOf(new Date(row.lastLeftAt), timeZone),
    ],
  ]);
  return stringify([COLUMNS, ...rows], { bom: true, escape_formulas: true, record_delimiter: "windows" });
}

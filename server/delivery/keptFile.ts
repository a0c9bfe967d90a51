import { stringify } from "csv-stringify/sync";
import type { KeptOrder } from "./promiseQueries.ts";

const COLUMNS = [
  ..."month,customer,order,promised_for,pieces_promised,pieces_left_by_then,pieces_left_later,last_left,on_time".split(
    ",",
  ),
];

/**
 * Every order that counts in a rate, as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8. Texts that
 * a spreadsheet would take for a formula are kept as text.
 */
export function keptFile(orders: readonly KeptOrder[]): string {
  const rows = orders
    .filter(({ verdict }) => verdict !== "not-due")
    .map(({ customer, reference, shipBy, lines, verdict }) => {
      const sum = (of: (line: KeptOrder["lines"][number]) => number) =>
        lines.reduce((total, line) => total + of(line), 0);
      return [
        ...[shipBy.slice(0, 7), customer, reference, shipBy],
        ...[sum((line) => line.promised), sum((line) => line.inTime), sum((line) => line.later)],
        lines
          .map(({ lastLeftOn }) => lastLeftOn ?? "")
          .toSorted()
          .at(-1) ?? "",
        verdict === "on-time" ? "yes" : "no",
      ];
    });
  return stringify([COLUMNS, ...rows], { bom: true, escape_formulas: true, record_delimiter: "windows" });
}

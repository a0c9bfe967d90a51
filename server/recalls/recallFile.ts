import { stringify } from "csv-stringify/sync";
import { dateOf, momentWords } from "../../views/format/dates.ts";
import { noticeWayWords } from "../../views/recalls/recallWords.ts";
import type { ShownRecall } from "./queries.ts";

const COLUMNS = [
  ..."customer,contact,address,order,lot,what,pieces,left_on,sold_at_the_stall_on".split(","),
  ..."told_at,told_how,told_by,they_said,sent_back".split(","),
];

/**
 * Whom to tell and who was told, as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8: a record for
 * each order and lot, the last telling of its customer beside it. Texts that a spreadsheet would take for a formula are
 * kept as text.
 */
export function recallFile({ recipients }: ShownRecall, timeZone: string): string {
  const rows = recipients.flatMap(({ customer, contact, address, got, notices }) => {
    const last = notices.at(-1);
    const back = notices.reduce((sum, { unitsBack }) => sum + unitsBack, 0);
    const told = last
      ? [momentWords(last.at, timeZone), noticeWayWords(last.how), last.person ?? "", last.said, back]
      : ["", "", "", "", ""];
    return got.map((part) => [
      ...[customer, contact, address, part.reference, part.code, part.name, part.units],
      ...[part.leftAt === null ? "" : dateOf(part.leftAt, timeZone), part.heldOn ?? "", ...told],
    ]);
  });
  return stringify([COLUMNS, ...rows], { bom: true, escape_formulas: true, record_delimiter: "windows" });
}

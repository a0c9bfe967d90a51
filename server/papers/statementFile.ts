import { stringify } from "csv-stringify/sync";
import { plainMoney } from "../../views/format/money.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";
import { daysOverdue } from "./ageing.ts";
import type { Statement } from "./queries.ts";

const COLUMNS = [..."invoice,order,issued,due,days_overdue,currency,billed,credited,settled,open".split(",")];

/**
 * A statement as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8: an invoice a record. Texts that
 * a spreadsheet would take for a formula are kept as text.
 */
export function statementFile({ invoices }: Statement, today: string): string {
  const rows = invoices.map((invoice) => {
    const { currency, grossMinor, creditedMinor, settledMinor, openMinor } = invoice;
    return [
      ...[paperNumber(invoice), invoice.orderReference, invoice.issuedOn, invoice.dueOn],
      ...[openMinor > 0 ? daysOverdue(invoice.dueOn, today) : 0, currency],
      ...[grossMinor, creditedMinor, settledMinor, openMinor].map((minor) => plainMoney(minor, currency)),
    ];
  });
  return stringify([COLUMNS, ...rows], { bom: true, escape_formulas: true, record_delimiter: "windows" });
}

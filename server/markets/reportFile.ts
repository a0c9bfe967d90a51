import { stringify } from "csv-stringify/sync";
import { minuteOfDayWords } from "../../views/format/dates.ts";
import { plainMoney } from "../../views/format/money.ts";
import type { Report } from "./report.ts";

/**
 * The report as CSV (RFC 4180) with a byte order mark, by which spreadsheets know UTF-8: a row for each product of each
 * market. Texts that a spreadsheet would take for a formula are kept as text.
 */
export function reportFile({ markets, currency }: Report): string {
  const rows = markets.flatMap(({ heldOn, customer, kind, lines }) =>
    lines.map((line) => [
      heldOn,
      customer,
      kind,
      line.code,
      line.product,
      line.takenUnits,
      line.soldUnits,
      line.homeUnits,
      line.givenAwayUnits,
      line.soldOut ? "yes" : "no",
      line.soldOutMinute === null ? "" : minuteOfDayWords(line.soldOutMinute),
      line.grossMinor === null ? "" : plainMoney(line.grossMinor, currency),
      currency,
    ]),
  );
  return stringify([COLUMNS, ...rows], { bom: true, escape_formulas: true, record_delimiter: "windows" });
}

const COLUMNS = [
  "date",
  "market",
  "kind",
  "product code",
  "product",
  "taken",
  "sold",
  "came home",
  "given away",
  "sold out",
  "sold out at",
  "money",
  "currency",
];

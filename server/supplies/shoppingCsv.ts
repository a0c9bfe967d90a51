import { stringify } from "csv-stringify/sync";
import { plainMoney } from "../../views/format/money.ts";
import { isPackaging } from "./kinds.ts";
import type { ToBuy } from "./toBuy.ts";

const COLUMNS = [
  ..."supplier,supply,their_code,packs,pack,pack_unit,amount,unit".split(","),
  ..."needed_on,order_by,price,currency".split(","),
];

/** By which spreadsheets know UTF-8. */
const BYTE_ORDER_MARK = "\uFEFF";

/**
 * The shopping list as CSV (RFC 4180), a purchase a record: amounts in grams or pieces with a decimal point, dates as
 * ISO 8601. What a spreadsheet would take for a formula is marked as text.
 */
export function shoppingCsv({ lists }: ToBuy, currency: string): string {
  const records = lists.flatMap(({ supplier, lines }) =>
    lines.map(({ name, kind, packs, amount, neededOn, orderBy, pack, priceMinor }) => [
      ...[supplier?.supplier ?? "", name, pack?.code ?? ""],
      ...(pack === null ? ["", "", ""] : [packs, pack.thousandths / 1000, pack.unit]),
      ...(isPackaging(kind) ? [amount, "piece"] : [amount / 1000, "g"]),
      ...[neededOn, orderBy ?? "", priceMinor === null ? "" : plainMoney(priceMinor, currency), currency],
    ]),
  );
  return (
    BYTE_ORDER_MARK + stringify([COLUMNS, ...records], { escape_formulas: true, record_delimiter: "windows" })
  );
}

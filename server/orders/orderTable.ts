import { isUtf8 } from "node:buffer";
import type { FileMistake } from "./fileMistake.ts";
import { MOST_FILE_LINES } from "./orderFileLimits.ts";
import { type CsvRecord, type CsvSeparator, readCsv } from "./readCsv.ts";

/** The columns of a file of orders, in any order. */
export const orderColumns = [
  ...(["order", "customer", "terms", "ship_by", "needed_by"] as const),
  ...(["product", "units", "price", "their_number", "note"] as const),
] as const;
export type OrderColumn = (typeof orderColumns)[number];

/** Without these there is no order; and one of the two dates has to be there. */
const NEEDED: readonly OrderColumn[] = ["order", "customer", "product", "units"];

/** One line of an order as the file has it, trimmed; what has no column is blank. */
export interface OrderFileRow {
  readonly line: number;
  readonly cells: Readonly<Record<OrderColumn, string>>;
}

export interface OrderTable {
  readonly rows: readonly OrderFileRow[];
  readonly mistakes: readonly FileMistake[];
}

/**
 * Reads a file of orders into its rows: UTF-8, one header line, the fields separated as those of the header are. What
 * is wrong with the file's form is named line by line; what the fields say is for `checkOrderFile`.
 */
export function readOrderTable(bytes: Buffer): OrderTable {
  const badBytes = notUtf8(bytes);
  if (badBytes.length > 0) return { rows: [], mistakes: badBytes };
  // One record for the header, one to notice that there are too many.
  const { records, brokenAt } = readCsv(bytes, { most: MOST_FILE_LINES + 2, separator: separatorOf(bytes) });
  const broken: FileMistake[] = brokenAt === null ? [] : [{ line: brokenAt, why: "quote-open" }];
  const [header, ...body] = records;
  if (!header) return { rows: [], mistakes: broken.length > 0 ? broken : [{ line: 1, why: "empty" }] };
  const headerMistakes = checkHeader(header);
  if (headerMistakes.length > 0) return { rows: [], mistakes: headerMistakes };
  const excess = body[MOST_FILE_LINES];
  if (excess) return { rows: [], mistakes: [{ line: excess.line, why: "too-many-lines" }] };
  if (body.length === 0 && brokenAt === null)
    return { rows: [], mistakes: [{ line: header.line, why: "no-orders" }] };
  const table = readRows(header, body);
  return { rows: table.rows, mistakes: [...table.mistakes, ...broken] };
}

/** Every line with bytes that are not UTF-8; a line break is never part of a longer UTF-8 sequence. */
function notUtf8(bytes: Buffer): readonly FileMistake[] {
  const utf16 = bytes.length >= 2 && ["fffe", "feff"].includes(bytes.subarray(0, 2).toString("hex"));
  if (utf16 || bytes.includes(0)) return [{ line: 1, why: "not-utf-8", looksLike: "UTF-16" }];
  if (isUtf8(bytes)) return [];
  const mistakes: FileMistake[] = [];
  let start = 0;
  for (let line = 1; start < bytes.length; line += 1) {
    const lineBreak = bytes.indexOf(0x0a, start);
    const end = lineBreak === -1 ? bytes.length : lineBreak;
    if (!isUtf8(bytes.subarray(start, end))) mistakes.push({ line, why: "not-utf-8", looksLike: null });
    start = end + 1;
  }
  return mistakes;
}

/**
 * What stands between the fields of the first line: tabs, as spreadsheets copy their cells, semicolons, as they write
 * them where the comma is the decimal mark, or commas. No column's name has any of these marks in it.
 */
function separatorOf(bytes: Buffer): CsvSeparator {
  const header =
    bytes
      .subarray(0, MOST_HEADER_BYTES)
      .toString("utf8")
      .trimStart()
      .split(/[\r\n]/, 1)[0] ?? "";
  return (["\t", ";"] as const).find((mark) => header.includes(mark)) ?? ",";
}

/** Room for all our columns many times over. */
const MOST_HEADER_BYTES = 4096;

function checkHeader({ line, fields }: CsvRecord): readonly FileMistake[] {
  const names = fields.map(columnName);
  const known = new Set<string>(orderColumns);
  return [
    ...(names.includes("needed_by") ? NEEDED : [...NEEDED, "ship_by" as const])
      .filter((column) => !names.includes(column))
      .map((column): FileMistake => ({ line, why: "column-missing", column })),
    ...names
      .filter((name) => !known.has(name))
      .map((name): FileMistake => ({ line, why: "column-unknown", name })),
    ...orderColumns
      .filter((column) => names.indexOf(column) !== names.lastIndexOf(column))
      .map((column): FileMistake => ({ line, why: "column-twice", column })),
  ];
}

function columnName(field: string): string {
  return field.trim().toLowerCase();
}

function readRows(header: CsvRecord, body: readonly CsvRecord[]): OrderTable {
  const names = header.fields.map(columnName);
  const places = orderColumns.map((column) => [column, names.indexOf(column)] as const);
  const rows: OrderFileRow[] = [];
  const mistakes: FileMistake[] = [];
  for (const { line, fields } of body) {
    if (fields.length !== header.fields.length) {
      mistakes.push({ line, why: "field-count", found: fields.length, expected: header.fields.length });
      continue;
    }
    const cells = places.map(([column, place]) => [column, fields[place]?.trim() ?? ""]);
    rows.push({ line, cells: Object.fromEntries(cells) as Record<OrderColumn, string> });
  }
  return { rows, mistakes };
}

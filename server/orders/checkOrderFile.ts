import { groupBy } from "../basics/groupBy.ts";
import type { DateHabit } from "./fileDates.ts";
import type { FileMistake } from "./fileMistake.ts";
import { meaningKey, type NamedInFile } from "./fileNames.ts";
import { type Tell, tellNobody } from "./filesInWork.ts";
import {
  type KnownCustomer,
  type KnownForFile,
  type KnownOrder,
  type KnownProduct,
  referenceKey,
} from "./knownForFile.ts";
import { MOST_LINES, type OrderedProduct, type OrderState, type OrderTerms, usualTerms } from "./order.ts";
import type { OrderColumn, OrderTable } from "./orderTable.ts";
import { type LeftOutRow, type ReadRow, rowReader } from "./readOrderRow.ts";
import { shipByFor } from "./shipByFor.ts";

/** An order of the file, understood whole. */
export interface FileOrder {
  readonly reference: string;
  /** The first line of the file that speaks of it. */
  readonly line: number;
  readonly customer: KnownCustomer;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  /** Where only the needed-by date is stated, the ship-by date is reckoned from it. */
  readonly shipByStated: boolean;
  readonly neededBy: string | null;
  /** Blank where the file says nothing; so is the note. */
  readonly theirNumber: string;
  readonly note: string;
  readonly lines: readonly {
    readonly line: number;
    readonly product: KnownProduct;
    readonly units: number;
    /** As the file says; null: as the price lists say. */
    readonly unitPriceMinor: number | null;
  }[];
}

/** A name whose lines are passed over. */
interface LeftOutName {
  readonly what: NamedInFile;
  readonly written: string;
  readonly lines: number;
}

/** What would become of a file: it can be taken when there are no mistakes. */
export interface CheckedFile {
  readonly fresh: readonly FileOrder[];
  /** Orders that are there already with the same content: taking them again does nothing. */
  readonly takenBefore: readonly (FileOrder & { readonly orderId: number; readonly state: OrderState })[];
  readonly leftOut: readonly LeftOutName[];
  /** Lines of orders that were read. */
  readonly linesRead: number;
  /** By line. */
  readonly mistakes: readonly FileMistake[];
}

/** Lines or orders that are gone through at once, before others have their turn: some milliseconds' work. */
const AT_ONCE = 100;

/**
 * Understands a whole file: rows into orders, each held against what is known; every mistake is named. Pauses after every
 * hundred lines.
 */
export async function checkOrderFile(
  table: OrderTable,
  known: KnownForFile,
  dates: DateHabit,
  tell: Tell = tellNobody,
): Promise<CheckedFile> {
  const lines = table.rows.length;
  // Reading a line and holding it against the others of its order are about the same work.
  const tellDone = (done: number) => tell({ doing: "checking", done: Math.floor(done), of: lines });
  const readRow = rowReader(known, dates);
  const read: (ReadRow | LeftOutRow)[] = [];
  for (const row of table.rows) {
    if (read.length % AT_ONCE === 0) await tellDone(read.length / 2);
    read.push(readRow(row));
  }
  const rows = read.filter((row): row is ReadRow => !("leftOut" in row));
  const held = new HeldOrders(known);
  const named = groupBy(
    rows.filter((row) => row.reference !== null),
    (row) => referenceKey(row.reference ?? ""),
  );
  let done = 0;
  let told = 0;
  for (const orderRows of named.values()) {
    if (done >= told) {
      await tellDone((lines + done) / 2);
      told = done + AT_ONCE;
    }
    held.hold(orderRows);
    done += orderRows.length;
  }
  const mistakes = [...table.mistakes, ...rows.flatMap((row) => row.mistakes), ...held.mistakes];
  return {
    fresh: held.fresh,
    takenBefore: held.takenBefore,
    leftOut: leftOutNames(read),
    linesRead: read.length,
    mistakes: mistakes.sort((one, other) => one.line - other.line),
  };
}

/** Orders put together from their rows, one after the other, and held against what is known. */
class HeldOrders {
  readonly fresh: FileOrder[] = [];
  readonly takenBefore: CheckedFile["takenBefore"][number][] = [];
  readonly mistakes: FileMistake[] = [];
  readonly #known: KnownForFile;

  constructor(known: KnownForFile) {
    this.#known = known;
  }

  hold(rows: readonly ReadRow[]): void {
    const between = mistakesBetween(rows);
    this.mistakes.push(...between);
    const order = between.length === 0 ? orderOf(rows, this.#known) : null;
    const standing = this.#known.orders.get(referenceKey(rows[0]?.reference ?? ""));
    if (!standing) this.mistakes.push(...mistakesOfNewOrder(rows, this.#known));
    if (!order) return;
    if (!standing) this.fresh.push(order);
    else if (sameContent(order, standing))
      this.takenBefore.push({ ...order, orderId: standing.id, state: standing.state });
    else
      this.mistakes.push({
        line: order.line,
        why: "reference-taken",
        order: order.reference,
        state: standing.state,
      });
  }
}

function leftOutNames(rows: readonly (ReadRow | LeftOutRow)[]): readonly LeftOutName[] {
  const passedOver = rows.flatMap((row) => ("leftOut" in row ? [row.leftOut] : []));
  const byName = groupBy(passedOver, ({ what, written }) => meaningKey(what, written));
  return [...byName.values()].flatMap(([first, ...rest]) =>
    first ? [{ ...first, lines: 1 + rest.length }] : [],
  );
}

/** What the rows of one order say against each other. */
function mistakesBetween(rows: readonly ReadRow[]): readonly FileMistake[] {
  const order = rows[0]?.reference ?? "";
  const excess = rows[MOST_LINES];
  return [
    ...contradictions(rows, "customer", (row) => row.customer?.name ?? null),
    ...contradictions(rows, "terms", (row) => (row.terms === "usual" ? null : row.terms)),
    ...contradictions(rows, "ship_by", (row) => row.shipBy),
    ...contradictions(rows, "needed_by", (row) => row.neededBy),
    ...contradictions(rows, "their_number", (row) => row.theirNumber),
    ...contradictions(rows, "note", (row) => row.note),
    ...productsTwice(rows, order),
    ...(excess ? [{ line: excess.line, why: "too-many-order-lines", order } as const] : []),
  ];
}

/** Rows that say something else than the first row which says anything. */
function contradictions(
  rows: readonly ReadRow[],
  column: OrderColumn,
  said: (row: ReadRow) => string | null,
): readonly FileMistake[] {
  const first = rows.find((row) => said(row) !== null);
  if (!first) return [];
  return rows
    .filter((row) => said(row) !== null && said(row) !== said(first))
    .map((row) => ({
      line: row.line,
      why: "contradiction",
      order: first.reference ?? "",
      column,
      typed: said(row) ?? "",
      firstLine: first.line,
    }));
}

function productsTwice(rows: readonly ReadRow[], order: string): readonly FileMistake[] {
  const firstLines = new Map<number, number>();
  const mistakes: FileMistake[] = [];
  for (const { product, line } of rows) {
    if (!product) continue;
    const firstLine = firstLines.get(product.id);
    if (firstLine === undefined) firstLines.set(product.id, line);
    else mistakes.push({ line, why: "product-twice", order, firstLine });
  }
  return mistakes;
}

/** The order that rows without any mistake describe; null where one of them has a mistake. */
function orderOf(rows: readonly ReadRow[], known: KnownForFile): FileOrder | null {
  const [first] = rows;
  const lines = rows.flatMap(({ line, product, units, unitPriceMinor, mistakes }) =>
    product && units !== null && mistakes.length === 0 ? [{ line, product, units, unitPriceMinor }] : [],
  );
  if (!first?.reference || !first.customer || lines.length < rows.length) return null;
  const { stated, neededBy, shipBy } = datesOf(rows, known);
  if (shipBy === null) return null;
  return {
    reference: first.reference,
    line: first.line,
    customer: first.customer,
    terms: rows.map((row) => row.terms).find((terms) => terms !== "usual") ?? usualTerms(first.customer),
    shipBy,
    shipByStated: stated !== null,
    neededBy,
    theirNumber: firstSaid(rows, (row) => row.theirNumber) ?? "",
    note: firstSaid(rows, (row) => row.note) ?? "",
    lines,
  };
}

function firstSaid(rows: readonly ReadRow[], said: (row: ReadRow) => string | null): string | null {
  return rows.map(said).find((text) => text !== null) ?? null;
}

/** By when an order is to leave: as stated, or the last working day from which it is there when it is needed. */
function datesOf(rows: readonly ReadRow[], known: KnownForFile) {
  const stated = firstSaid(rows, (row) => row.shipBy);
  const neededBy = firstSaid(rows, (row) => row.neededBy);
  const customer = rows.find((row) => row.customer !== null)?.customer;
  const reckoned = neededBy && customer ? shipByFor(neededBy, customer.transitDays, known.worksOn) : null;
  return {
    stated,
    neededBy,
    shipBy: stated ?? reckoned,
    reckonable: neededBy !== null && customer !== undefined,
  };
}

/** Whether an order that is there says what the file says; what the file leaves blank, it does not speak of. */
function sameContent(order: FileOrder, standing: KnownOrder): boolean {
  const wanted = new Map(order.lines.map((line) => [line.product.id, line]));
  const lines = standing.lines.filter((line) => line.units > 0);
  return (
    order.customer.id === standing.customerId &&
    order.terms === standing.terms &&
    (!order.shipByStated || order.shipBy === standing.shipBy) &&
    (order.neededBy === null || order.neededBy === standing.neededBy) &&
    (order.theirNumber === "" || order.theirNumber === standing.customerReference) &&
    (order.note === "" || order.note === standing.note) &&
    lines.length === wanted.size &&
    lines.every((line) => sameLine(wanted.get(line.productId), line))
  );
}

function sameLine(wanted: FileOrder["lines"][number] | undefined, line: OrderedProduct): boolean {
  if (wanted?.units !== line.units) return false;
  return wanted.unitPriceMinor === null || wanted.unitPriceMinor === line.unitPriceMinor;
}

/** What speaks against entering it today: its date has gone by, its customer or a product is no longer there. */
function mistakesOfNewOrder(rows: readonly ReadRow[], known: KnownForFile): readonly FileMistake[] {
  const mistakes: FileMistake[] = [];
  const gone = rows.find(({ customer }) => customer?.retired);
  if (gone?.customer) mistakes.push({ line: gone.line, why: "customer-retired", typed: gone.customer.name });
  const dated = rows.find(({ shipBy, neededBy }) => shipBy !== null || neededBy !== null);
  if (dated) mistakes.push(...mistakesOfDates(dated.line, rows, known));
  for (const { line, product } of rows)
    if (product?.retired) mistakes.push({ line, why: "product-retired", typed: product.name });
  return mistakes;
}

function mistakesOfDates(
  line: number,
  rows: readonly ReadRow[],
  known: KnownForFile,
): readonly FileMistake[] {
  const { stated, neededBy, shipBy, reckonable } = datesOf(rows, known);
  const { today, lastDate } = known;
  if (shipBy === null) return reckonable ? [{ line, why: "no-working-day", typed: neededBy ?? "" }] : [];
  if (shipBy > lastDate) return [{ line, why: "date-too-far", typed: shipBy, last: lastDate }];
  if (shipBy >= today) return [];
  return stated === null
    ? [{ line, why: "needed-too-soon", typed: neededBy ?? "", shipBy, today }]
    : [{ line, why: "date-gone-by", typed: shipBy, today }];
}

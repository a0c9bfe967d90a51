import { groupBy } from "../basics/groupBy.ts";
import type { FileMistake } from "./fileMistake.ts";
import {
  type KnownCustomer,
  type KnownForFile,
  type KnownOrder,
  type KnownProduct,
  referenceKey,
} from "./knownForFile.ts";
import { MOST_LINES, type OrderState, type OrderTerms, usualTerms } from "./order.ts";
import type { OrderTable } from "./orderTable.ts";
import { type ReadRow, rowReader } from "./readOrderRow.ts";

/** An order of the file, understood whole. */
export interface FileOrder {
  readonly reference: string;
  /** The first line of the file that speaks of it. */
  readonly line: number;
  readonly customer: KnownCustomer;
  readonly terms: OrderTerms;
  readonly shipBy: string;
  readonly lines: readonly {
    readonly line: number;
    readonly product: KnownProduct;
    readonly units: number;
  }[];
}

/** What would become of a file: it can be taken when there are no mistakes. */
export interface CheckedFile {
  readonly fresh: readonly FileOrder[];
  /** Orders that are there already with the same content: taking them again does nothing. */
  readonly takenBefore: readonly (FileOrder & { readonly orderId: number; readonly state: OrderState })[];
  /** By line. */
  readonly mistakes: readonly FileMistake[];
}

/** Understands a whole file: rows into orders, each held against what is known; every mistake is named. */
export function checkOrderFile(table: OrderTable, known: KnownForFile): CheckedFile {
  const rows = table.rows.map(rowReader(known));
  const mistakes = [...table.mistakes, ...rows.flatMap((row) => row.mistakes)];
  const fresh: FileOrder[] = [];
  const takenBefore: CheckedFile["takenBefore"][number][] = [];
  const named = rows.filter((row) => row.reference !== null);
  for (const orderRows of groupBy(named, (row) => referenceKey(row.reference ?? "")).values()) {
    const between = mistakesBetween(orderRows);
    mistakes.push(...between);
    const order = between.length === 0 ? orderOf(orderRows) : null;
    const standing = known.orders.get(referenceKey(orderRows[0]?.reference ?? ""));
    if (!standing) mistakes.push(...mistakesOfNewOrder(orderRows, known));
    if (!order) continue;
    if (!standing) fresh.push(order);
    else if (sameContent(order, standing))
      takenBefore.push({ ...order, orderId: standing.id, state: standing.state });
    else
      mistakes.push({
        line: order.line,
        why: "reference-taken",
        order: order.reference,
        state: standing.state,
      });
  }
  return { fresh, takenBefore, mistakes: mistakes.sort((one, other) => one.line - other.line) };
}

/** What the rows of one order say against each other. */
function mistakesBetween(rows: readonly ReadRow[]): readonly FileMistake[] {
  const order = rows[0]?.reference ?? "";
  const excess = rows[MOST_LINES];
  return [
    ...contradictions(rows, "customer", (row) => row.customer?.name ?? null),
    ...contradictions(rows, "terms", (row) => (row.terms === "usual" ? null : row.terms)),
    ...contradictions(rows, "ship_by", (row) => row.shipBy),
    ...productsTwice(rows, order),
    ...(excess ? [{ line: excess.line, why: "too-many-order-lines", order } as const] : []),
  ];
}

/** Rows that say something else than the first row which says anything. */
function contradictions(
  rows: readonly ReadRow[],
  column: "customer" | "terms" | "ship_by",
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
function orderOf(rows: readonly ReadRow[]): FileOrder | null {
  const [first] = rows;
  const lines = rows.flatMap(({ line, product, units, mistakes }) =>
    product && units !== null && mistakes.length === 0 ? [{ line, product, units }] : [],
  );
  if (!first?.reference || !first.customer || !first.shipBy || lines.length < rows.length) return null;
  const stated = rows.map((row) => row.terms).find((terms) => terms !== "usual");
  return {
    reference: first.reference,
    line: first.line,
    customer: first.customer,
    terms: stated ?? usualTerms(first.customer),
    shipBy: first.shipBy,
    lines,
  };
}

function sameContent(order: FileOrder, standing: KnownOrder): boolean {
  const wanted = new Map(order.lines.map((line) => [line.product.id, line.units]));
  const lines = standing.lines.filter((line) => line.units > 0);
  return (
    order.customer.id === standing.customerId &&
    order.terms === standing.terms &&
    order.shipBy === standing.shipBy &&
    lines.length === wanted.size &&
    lines.every((line) => wanted.get(line.productId) === line.units)
  );
}

/** What speaks against entering it today: its date has gone by, its customer or a product is no longer there. */
function mistakesOfNewOrder(rows: readonly ReadRow[], known: KnownForFile): readonly FileMistake[] {
  const mistakes: FileMistake[] = [];
  const gone = rows.find(({ customer }) => customer?.retired);
  if (gone?.customer) mistakes.push({ line: gone.line, why: "customer-retired", typed: gone.customer.name });
  const dated = rows.find(({ shipBy }) => shipBy !== null);
  if (dated?.shipBy) mistakes.push(...mistakesOfDate(dated.line, dated.shipBy, known));
  for (const { line, product } of rows)
    if (product?.retired) mistakes.push({ line, why: "product-retired", typed: product.name });
  return mistakes;
}

function mistakesOfDate(line: number, typed: string, known: KnownForFile): readonly FileMistake[] {
  if (typed < known.today) return [{ line, why: "date-gone-by", typed, today: known.today }];
  return typed > known.lastDate ? [{ line, why: "date-too-far", typed, last: known.lastDate }] : [];
}

import { sql } from "drizzle-orm";
import {
  bigint,
  check,
  date,
  foreignKey,
  index,
  integer,
  pgTable,
  pgView,
  primaryKey,
  text,
  timestamp,
  unique,
  uniqueIndex,
} from "drizzle-orm/pg-core";
import { isCharge, minorUnits } from "./money.ts";
import { orderLines } from "./orders.ts";
import { people } from "./people.ts";
import { runs } from "./plans.ts";
import { products } from "./products.ts";
import { purchases, suppliers } from "./suppliers.ts";
import { supplies, supplyAmount } from "./supplies.ts";

/** One delivery of a supply from one lot of its supplier: what is looked for when something is recalled. */
export const supplyLots = pgTable(
  "supply_lots",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    /** Our own, short enough for a marker: S and four characters, so that nobody takes it for a lot of pieces. */
    code: text().notNull().unique(),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    /** Null: from before the tool, or nobody knows any more. */
    supplierId: integer().references(() => suppliers.id),
    /** As it is printed on the bag; blank: none. */
    supplierLot: text().notNull().default(""),
    receivedOn: date().notNull(),
    /** The last day on which it is good; null: it does not expire. */
    expiresOn: date(),
    /** What all of it cost, without tax; null: not known. */
    priceMinor: minorUnits(),
    purchaseId: integer().references(() => purchases.id),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    createdBy: integer().references(() => people.id),
  },
  (table) => [
    check("supply_lots_code_form", sql`${table.code} ~ '^S[A-Z0-9]{4}$'`),
    check("supply_lots_supplier_lot", sql`length(${table.supplierLot}) <= 80`),
    check("supply_lots_price", isCharge(table.priceMinor)),
    // So that a move can name both and never mix them up.
    unique("supply_lots_of_its_supply").on(table.id, table.supplyId),
    index("supply_lots_by_supply").on(table.supplyId, table.expiresOn),
  ],
);

/**
 * The ledger of what is bought: every change in the amount of a supply. A lot has the sum of its moves, never below
 * zero. Gloves are dusty and books are late: what is used beyond what the ledger has is never refused, but is booked
 * without a lot. That sum is never above zero; it is said wherever the supply is shown, and the next count settles it.
 * Rows are never changed or removed. All of it is guarded by triggers in the migrations.
 */
export const supplyMoves = pgTable(
  "supply_moves",
  {
    id: bigint({ mode: "number" }).primaryKey().generatedAlwaysAsIdentity(),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    /** Null: beyond what the ledger had. */
    lotId: integer(),
    kind: text({ enum: ["received", "used", "unused", "lost", "counted"] }).notNull(),
    /** Signed: what it adds. A count that agrees is written too, as nothing: it says since when the books are right. */
    amount: supplyAmount().notNull(),
    /** Why some was lost. */
    cause: text({ enum: ["spilled", "spoiled", "expired", "sent-back"] }),
    /**
     * The run it was weighed out for. A "counted" with a run or a line undoes what was corrected of a use that a count
     * had settled already: the count stands.
     */
    runId: integer().references(() => runs.id),
    /** The order line it was packed with. */
    orderLineId: integer().references(() => orderLines.id),
    note: text().notNull().default(""),
    at: timestamp({ withTimezone: true }).notNull(),
    personId: integer().references(() => people.id),
  },
  (table) => [
    foreignKey({
      name: "supply_moves_lot_of_its_supply",
      columns: [table.lotId, table.supplyId],
      foreignColumns: [supplyLots.id, supplyLots.supplyId],
    }),
    check("supply_moves_kind_known", sql`${table.kind} in ('received', 'used', 'unused', 'lost', 'counted')`),
    check(
      "supply_moves_sign",
      sql`case when ${table.kind} in ('received', 'unused') then ${table.amount} > 0
        when ${table.kind} in ('used', 'lost') then ${table.amount} < 0 else true end`,
    ),
    check(
      "supply_moves_lotless_only_by_use",
      sql`${table.lotId} is not null or ${table.kind} in ('used', 'unused', 'counted')`,
    ),
    check(
      "supply_moves_used_for_something",
      sql`case when ${table.kind} in ('used', 'unused') then num_nonnulls(${table.runId}, ${table.orderLineId}) = 1
        when ${table.kind} = 'counted' then num_nonnulls(${table.runId}, ${table.orderLineId}) <= 1
        else num_nonnulls(${table.runId}, ${table.orderLineId}) = 0 end`,
    ),
    check("supply_moves_lost_has_its_cause", sql`(${table.kind} = 'lost') = (${table.cause} is not null)`),
    check("supply_moves_cause_known", sql`${table.cause} in ('spilled', 'spoiled', 'expired', 'sent-back')`),
    // A lot is received once.
    uniqueIndex("supply_moves_received_once").on(table.lotId).where(sql`${table.kind} = 'received'`),
    index("supply_moves_by_lot").on(table.lotId),
    index("supply_moves_by_supply").on(table.supplyId, table.id),
    index("supply_moves_beyond").on(table.supplyId).where(sql`${table.lotId} is null`),
    index("supply_moves_by_run").on(table.runId).where(sql`${table.runId} is not null`),
    index("supply_moves_by_order_line").on(table.orderLineId).where(sql`${table.orderLineId} is not null`),
  ],
);

/** What there is of each lot now: the sum of its moves. */
export const supplyLotBalances = pgView("supply_lot_balances", {
  lotId: integer().notNull(),
  supplyId: integer().notNull(),
  amount: supplyAmount().notNull(),
}).as(sql`
  select supply_lots.id as lot_id, supply_lots.supply_id,
    coalesce((select sum(supply_moves.amount) from supply_moves where supply_moves.lot_id = supply_lots.id), 0)::bigint as amount
  from supply_lots`);

/** What a product's pieces are packed with: so much of a supply for every so many pieces. */
export const packingParts = pgTable(
  "packing_parts",
  {
    productId: integer()
      .notNull()
      .references(() => products.id),
    supplyId: integer()
      .notNull()
      .references(() => supplies.id),
    amount: integer().notNull(),
    /** 1: for each piece; 12: a box for every dozen, begun dozens too. */
    forPieces: integer().notNull().default(1),
  },
  (table) => [
    primaryKey({ columns: [table.productId, table.supplyId] }),
    check("packing_parts_amount", sql`${table.amount} between 1 and 1000`),
    check("packing_parts_for_pieces", sql`${table.forPieces} between 1 and 10000`),
  ],
);

import { type SQL, sql } from "drizzle-orm";
import { bigint, type PgColumn } from "drizzle-orm/pg-core";

/** Dearest price of one piece, in minor units: 100 000 pieces on 500 lines of it still add up to an exact number. */
export const MOST_UNIT_PRICE_MINOR = 10_000_000;
/** Largest single charge, fee or least order value, in minor units. */
export const MOST_CHARGE_MINOR = 1_000_000_000;

/** Money: whole minor units (cents, pence, fils) of the workshop's currency. */
export function minorUnits() {
  return bigint({ mode: "number" });
}

/** A share in basis points, 10 000 being the whole; null passes. */
export function isShare(column: PgColumn): SQL {
  return sql`${column} between 0 and 10000`;
}

/** A price of one piece; null passes. */
export function isUnitPrice(column: PgColumn): SQL {
  return sql`${column} between 0 and ${sql.raw(String(MOST_UNIT_PRICE_MINOR))}`;
}

/** A charge, a fee or a least value; null passes. */
export function isCharge(column: PgColumn): SQL {
  return sql`${column} between 0 and ${sql.raw(String(MOST_CHARGE_MINOR))}`;
}

/** A tax rate in parts per million: 200 000 is 20 %, 88 750 is 8.875 %; null passes. */
export function isTaxRate(column: PgColumn): SQL {
  return sql`${column} between 0 and 1000000`;
}

import { type SQL, sql } from "drizzle-orm";
import type { PgColumn } from "drizzle-orm/pg-core";

/**
 * The form of an RRULE's value (RFC 5545, 3.3.10): FREQ first, then other parts; null passes. What it means is checked
 * where it is entered. The semicolon is written as its number, since the generator of migrations cuts lines at one.
 */
export function hasRuleForm(column: PgColumn): SQL {
  return sql`${column} ~ '^FREQ=[A-Z]+(\\x3b[A-Z]+=[A-Z0-9,+-]+)*$' and length(${column}) <= 200`;
}

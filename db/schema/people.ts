import { sql } from "drizzle-orm";
import { check, index, integer, jsonb, pgTable, text, timestamp, uniqueIndex } from "drizzle-orm/pg-core";

/** Who may sign in. A helper works at bench, shelf, packing and delivery; the owner also sees prices, people and setup. */
export const people = pgTable(
  "people",
  {
    id: integer().primaryKey().generatedAlwaysAsIdentity(),
    name: text().notNull(),
    email: text().notNull(),
    role: text({ enum: ["owner", "helper"] }).notNull(),
    /** argon2id in PHC string form. */
    passwordHash: text().notNull(),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    /** When set the person can no longer sign in; what they did stays under their name. */
    leftAt: timestamp({ withTimezone: true }),
  },
  (table) => [
    // One account an address, however it is capitalised.
    uniqueIndex("people_email_unique").on(sql`lower(${table.email})`),
    check("people_role_known", sql`${table.role} in ('owner', 'helper')`),
    check("people_name_given", sql`length(trim(${table.name})) between 1 and 80`),
  ],
);

/** Browser sign-ins, so that they can be listed and ended. The cookie's secret is kept only as its SHA-256. */
export const signIns = pgTable(
  "sign_ins",
  {
    idHash: text().primaryKey(),
    /** Null while somebody is only looking at the sign-in page. */
    personId: integer().references(() => people.id, { onDelete: "cascade" }),
    data: jsonb().notNull(),
    createdAt: timestamp({ withTimezone: true }).notNull(),
    expiresAt: timestamp({ withTimezone: true }).notNull(),
  },
  (table) => [
    check("sign_ins_expire_later", sql`${table.expiresAt} > ${table.createdAt}`),
    // Those that are over are cleared away whenever one begins; those of one person end when she leaves.
    index("sign_ins_by_end").on(table.expiresAt),
    index("sign_ins_by_person").on(table.personId),
  ],
);

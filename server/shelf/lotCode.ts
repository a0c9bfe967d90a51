import { randomInt } from "node:crypto";
import { eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { lots } from "../../db/schema/lots.ts";

/**
 * Letters and digits that stay apart in marker pen on a damp tray and over the phone: without 0 and O, 1, I and L,
 * 5 and S, 2 and Z, 8 and B.
 */
export const lotCodeAlphabet = "34679ACDEFGHJKMNPQRTUVWXY";

const LENGTH = 4;

/** With 25 characters there are 390 625 codes; so many tries fail only when nearly all of them are taken. */
const MOST_TRIES = 100;

/**
 * A code that no lot has, of four characters. Random, so that two trays side by side do not differ by one character
 * only. Insert the lot before asking for the next code. Whoever else wants a code waits until this transaction ends,
 * so that no two get the same. Throws when no free code is found.
 *
 * @param draw the dice; a test may bring its own.
 */
export async function newLotCode(transaction: Transaction, draw: () => string = randomCode): Promise<string> {
  await transaction.execute(sql`select pg_advisory_xact_lock(hashtext('lots.code'))`);
  for (let tries = 0; tries < MOST_TRIES; tries += 1) {
    const code = draw();
    const [taken] = await transaction.select({ id: lots.id }).from(lots).where(eq(lots.code, code));
    if (!taken) return code;
  }
  throw new Error("Nearly every lot code is taken");
}

function randomCode(): string {
  return Array.from({ length: LENGTH }, () => lotCodeAlphabet[randomInt(lotCodeAlphabet.length)]).join("");
}

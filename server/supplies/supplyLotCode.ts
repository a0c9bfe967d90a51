import { randomInt } from "node:crypto";
import { eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { lotCodeAlphabet } from "../shelf/lotCode.ts";

/** That none of the letters of other lots' codes is: a code that begins with it is a lot of something bought. */
const FIRST = "S";
const LENGTH = 4;
const MOST_TRIES = 100;

/**
 * A code that no bought lot has: S and four characters that stay apart in marker pen. Insert the lot before asking for
 * the next code; whoever else wants one waits until this transaction ends. Throws when no free code is found.
 */
export async function newSupplyLotCode(transaction: Transaction): Promise<string> {
  await transaction.execute(sql`select pg_advisory_xact_lock(hashtext('supply_lots.code'))`);
  for (let tries = 0; tries < MOST_TRIES; tries += 1) {
    const code = FIRST + Array.from({ length: LENGTH }, drawn).join("");
    const [taken] = await transaction
      .select({ id: supplyLots.id })
      .from(supplyLots)
      .where(eq(supplyLots.code, code));
    if (!taken) return code;
  }
  throw new Error("Nearly every code of a bought lot is taken");
}

function drawn(): string {
  return lotCodeAlphabet[randomInt(lotCodeAlphabet.length)] ?? "";
}

import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { supplyLots } from "../../db/schema/supplyLots.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import type { MinorUnits } from "../money/minorUnits.ts";
import { holdCurrency } from "../prices/holdCurrency.ts";
import { lockSupply } from "./lockSupplies.ts";

interface Correction {
  readonly supplyLotId: number;
  /** The last day on which it is good, ISO 8601; null: it does not expire. */
  readonly expiresOn: string | null;
  /** What all of it cost, without tax; null: not known. */
  readonly priceMinor: MinorUnits | null;
  /** The currency the price was typed in. */
  readonly currency: string;
  /** Both as they stood on the page, so that nobody undoes unseen what somebody else put right. */
  readonly seen: { readonly expiresOn: string | null; readonly priceMinor: number | null };
  /** Why: what was misread, or what the supplier said. */
  readonly why: string;
}

export type CorrectionRefusal =
  | "not-found"
  | "changed-since"
  | "currency-changed"
  | "nothing-changed"
  | "expired-before-it-came";

/**
 * Puts right until when a lot of a supply is good and what it cost, after it came. What was taken of it stays taken: only
 * what is chosen, bought and reckoned from now on goes by it. Nothing keeps a cost reckoned earlier, so what a piece costs
 * follows at once, and what was billed does not.
 */
export async function correctLot(
  transaction: Transaction,
  actor: Actor,
  { supplyLotId, expiresOn, priceMinor, currency, seen, why }: Correction,
): Promise<Result<{ readonly supplyLotId: number }, CorrectionRefusal>> {
  const [found] = await transaction
    .select({ supplyId: supplyLots.supplyId })
    .from(supplyLots)
    .where(eq(supplyLots.id, supplyLotId));
  if (!found) return refuse("not-found");
  // Whoever takes of the lot holds its supply, and goes by the day that stands then.
  await lockSupply(transaction, found.supplyId);
  const [lot] = await transaction.select().from(supplyLots).where(eq(supplyLots.id, supplyLotId));
  if (!lot) return refuse("not-found");
  const before = { expiresOn: lot.expiresOn, priceMinor: lot.priceMinor };
  if (before.expiresOn !== seen.expiresOn || before.priceMinor !== seen.priceMinor)
    return refuse("changed-since");
  if (before.expiresOn === expiresOn && before.priceMinor === priceMinor) return refuse("nothing-changed");
  if (expiresOn !== null && expiresOn < lot.receivedOn) return refuse("expired-before-it-came");
  if ((await holdCurrency(transaction)) !== currency) return refuse("currency-changed");
  await transaction.update(supplyLots).set({ expiresOn, priceMinor }).where(eq(supplyLots.id, supplyLotId));
  await recordChange(transaction, actor, {
    subject: "supply lot",
    subjectId: supplyLotId,
    what: "corrected",
    before,
    after: { expiresOn, priceMinor, currency, why },
  });
  return ok({ supplyLotId });
}

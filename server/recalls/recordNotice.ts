import { eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { customers } from "../../db/schema/customers.ts";
import { recallNotices } from "../../db/schema/recalls.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { lockRecall } from "./lockRecall.ts";
import type { RecallRefusal } from "./refusals.ts";

/** By what means somebody was told; a notice hangs at the stall or stands where buyers nobody knows will read it. */
export const noticeWays = ["phone", "e-mail", "visit", "letter", "notice"] as const;
export type NoticeWay = (typeof noticeWays)[number];

interface Notice {
  readonly recallId: number;
  readonly customerId: number;
  readonly how: NoticeWay;
  /** What they said; blank: nothing was noted. */
  readonly said: string;
  /** Pieces they sent back since they were told last. */
  readonly unitsBack: number;
}

/** Somebody was told of a recall, or sent pieces back. */
export async function recordNotice(
  transaction: Transaction,
  actor: Actor,
  notice: Notice,
): Promise<Result<{ readonly recallId: number }, RecallRefusal>> {
  const { recallId, customerId } = notice;
  const held = await lockRecall(transaction, recallId);
  if (!held.ok) return held;
  const [customer] = await transaction
    .select({ id: customers.id })
    .from(customers)
    .where(eq(customers.id, customerId));
  if (!customer) return refuse({ why: "no-such-customer" });
  await transaction.insert(recallNotices).values({ ...notice, at: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "recall",
    subjectId: recallId,
    what: "told",
    after: notice,
  });
  return ok({ recallId });
}

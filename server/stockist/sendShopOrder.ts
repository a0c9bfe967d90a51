import { randomInt } from "node:crypto";
import { and, count, eq } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { orders } from "../../db/schema/orders.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { TypedPieces } from "../http/piecesFields.ts";
import { enterOrder } from "../orders/enterOrder.ts";
import { readShipBy } from "../orders/shipByFor.ts";
import { lotCodeAlphabet } from "../shelf/lotCode.ts";
import { holdLink, type OpenLink } from "./findLink.ts";
import { isObjected, reckonShopOrder, type ShopObjections } from "./reckonShopOrder.ts";
import { readShopRange } from "./shopRange.ts";

/** What a shop sends. */
interface SentOrder {
  /** ISO 8601 */
  readonly neededBy: string;
  readonly lines: readonly TypedPieces[];
  /** The shop's own number for it. */
  readonly customerReference: string;
  readonly note: string;
}

export type SendRefusal =
  | { readonly why: "closed" }
  | { readonly why: "too-soon" | "too-far" | "too-many-waiting" }
  | { readonly why: "objections"; readonly objections: ShopObjections };

/** Drafts of one link that may wait at once: a link in wrong hands must not bury the workshop. */
const MOST_WAITING = 20;

/**
 * Makes a draft that waits for the owner out of what a shop sent through its link, under a reference that tells
 * nothing but itself.
 *
 * @param today the workshop's date at the instant `at`
 */
export async function sendShopOrder(
  transaction: Transaction,
  { at, today }: { readonly at: Date; readonly today: string },
  { id: linkId, customerId }: OpenLink,
  sent: SentOrder,
): Promise<Result<{ readonly shopReference: string }, SendRefusal>> {
  if (!(await holdLink(transaction, linkId))) return refuse({ why: "closed" });
  // Where there is no working day in sight the owner decides when it can leave.
  const shipBy = (await readShipBy(transaction, customerId, sent.neededBy)) ?? sent.neededBy;
  if (shipBy < today) return refuse({ why: "too-soon" });
  const range = await readShopRange(transaction, customerId, today);
  const { objections } = await reckonShopOrder(
    transaction,
    { customerId, range },
    { ...sent, today, shipBy },
  );
  if (isObjected(objections)) return refuse({ why: "objections", objections });
  const shopReference = await freeReference(transaction);
  const entered = await enterOrder(
    transaction,
    { personId: null, at },
    {
      ...{ reference: null, terms: null, note: "", confirm: false },
      ...{ customerId, shipBy, neededBy: sent.neededBy, customerReference: sent.customerReference },
      lines: sent.lines.map(({ productId, units }) => ({ productId, units })),
      arrival: { source: "stockist", stockistLinkId: linkId, shopReference, customerNote: sent.note },
    },
  );
  if (!entered.ok) return refuse({ why: entered.refusal.why === "date-too-far" ? "too-far" : "closed" });
  // Counted with the references held: two sent at once do not both take the last place.
  if ((await countWaiting(transaction, linkId)) > MOST_WAITING) return refuse({ why: "too-many-waiting" });
  return ok({ shopReference });
}

async function countWaiting(transaction: Transaction, linkId: number): Promise<number> {
  const [row] = await transaction
    .select({ drafts: count() })
    .from(orders)
    .where(and(eq(orders.stockistLinkId, linkId), eq(orders.state, "draft")));
  return row?.drafts ?? 0;
}

/** Two groups of four, said over the phone like a lot's code: 25 to the eighth, 150 thousand million of them. */
async function freeReference(transaction: Transaction): Promise<string> {
  for (;;) {
    const drawn = `${fourCharacters()}-${fourCharacters()}`;
    const [taken] = await transaction
      .select({ id: orders.id })
      .from(orders)
      .where(eq(orders.shopReference, drawn));
    if (!taken) return drawn;
  }
}

function fourCharacters(): string {
  return Array.from({ length: 4 }, () => lotCodeAlphabet[randomInt(lotCodeAlphabet.length)]).join("");
}

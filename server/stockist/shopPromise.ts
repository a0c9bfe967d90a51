import type { TypedPieces } from "../http/piecesFields.ts";
import { type AdviceParts, adviseOn } from "../orders/promiseAdvice.ts";

/** All that a shop learns of when it can have what it asks for: a date or none, and nothing of what is in the way. */
export type ShopPromise =
  | { readonly is: "in-time"; readonly neededBy: string }
  /** It can leave by then, ISO 8601. */
  | { readonly is: "later"; readonly leavesBy: string }
  /** The workshop has to look at it first. */
  | { readonly is: "unknown" };

/** @param asked.form tells one open page from another: a newer question ends the one before. */
export async function promiseForShop(
  parts: AdviceParts,
  at: Date,
  asked: {
    readonly form: string;
    readonly customerId: number;
    readonly neededBy: string | null;
    readonly lines: readonly TypedPieces[];
  },
  signal: AbortSignal,
): Promise<ShopPromise> {
  const advice = await adviseOn(parts, at, { ...asked, orderId: null, shipBy: null }, signal);
  if (advice.is !== "given" || advice.earliest === null) return { is: "unknown" };
  const { earliest, wished } = advice;
  return asked.neededBy !== null && wished !== null && earliest <= wished
    ? { is: "in-time", neededBy: asked.neededBy }
    : { is: "later", leavesBy: earliest };
}

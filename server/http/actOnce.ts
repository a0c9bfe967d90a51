import { eq } from "drizzle-orm";
import type { FastifyRequest } from "fastify";
import { z } from "zod";
import type { Database, Transaction } from "../../db/connect.ts";
import { formReceipts } from "../../db/schema/changes.ts";
import { inTransaction } from "../../db/transaction.ts";
import { ok, type Result } from "../basics/result.ts";
import { fieldOf } from "./formFields.ts";

/**
 * Carries a form out exactly once. The form's own number is written in the command's transaction: a second
 * sending waits for the first, finds its number and is led to the same place without acting again. A refused
 * command leaves no trace, so the corrected form may be sent under the same number.
 *
 * @returns where to lead the browser, or the command's refusal.
 */
export async function actOnce<Value, Refusal>(
  db: Database,
  request: FastifyRequest,
  at: Date,
  command: (transaction: Transaction) => Promise<Result<Value, Refusal>>,
  whereTo: (value: Value) => string,
): Promise<Result<string, Refusal>> {
  const formToken = readFormToken(request);
  const rollback = new RolledBack<Refusal>();
  try {
    return await inTransaction(db, async (transaction) => {
      const earlier = await claim(transaction, formToken, request, at);
      if (earlier !== null) return ok(earlier);
      const outcome = await command(transaction);
      if (!outcome.ok) throw rollback.because(outcome);
      const location = whereTo(outcome.value);
      await transaction.update(formReceipts).set({ location }).where(eq(formReceipts.formToken, formToken));
      return ok(location);
    });
  } catch (error) {
    if (error === rollback && rollback.outcome) return rollback.outcome;
    throw error;
  }
}

/**
 * Where the browser was led when this very form was sent before; null for its first sending. For work that is too long
 * for one transaction and should not even be begun twice; `actOnce` writes down what comes of it.
 */
export async function ledBefore(db: Database, request: FastifyRequest): Promise<string | null> {
  const formToken = readFormToken(request);
  const [receipt] = await db.select().from(formReceipts).where(eq(formReceipts.formToken, formToken));
  if (!receipt) return null;
  return placeOf(receipt, request);
}

/** Thrown through the transaction so that everything a refused command wrote is undone. */
class RolledBack<Refusal> extends Error {
  outcome: { readonly ok: false; readonly refusal: Refusal } | null = null;

  because(outcome: { readonly ok: false; readonly refusal: Refusal }): this {
    this.outcome = outcome;
    return this;
  }
}

/** Null when this sending is the first; otherwise where the first one was led. */
async function claim(
  transaction: Transaction,
  formToken: string,
  request: FastifyRequest,
  at: Date,
): Promise<string | null> {
  const claimed = await transaction
    .insert(formReceipts)
    .values({
      formToken,
      personId: request.person?.id ?? null,
      action: actionOf(request),
      at,
    })
    .onConflictDoNothing()
    .returning({ formToken: formReceipts.formToken });
  if (claimed.length > 0) return null;
  const [receipt] = await transaction
    .select()
    .from(formReceipts)
    .where(eq(formReceipts.formToken, formToken));
  return placeOf(receipt, request);
}

/** A number belongs to the form it was made for, and to whoever sent it. */
function placeOf(receipt: typeof formReceipts.$inferSelect | undefined, request: FastifyRequest): string {
  const same = receipt?.personId === (request.person?.id ?? null) && receipt.action === actionOf(request);
  if (!receipt?.location || !same) throw formNotOurs();
  return receipt.location;
}

function actionOf(request: FastifyRequest): string {
  return `${request.method} ${request.routeOptions.url ?? request.url}`;
}

function readFormToken(request: FastifyRequest): string {
  const parsed = z.uuid().safeParse(fieldOf(request.body, "form_token"));
  if (!parsed.success) throw formNotOurs();
  return parsed.data;
}

function formNotOurs(): Error {
  return Object.assign(
    new Error("This form was not made by this page. Go back, reload the page and send it again."),
    {
      statusCode: 400,
    },
  );
}

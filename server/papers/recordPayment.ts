import { and, eq, sql } from "drizzle-orm";
import type { Transaction } from "../../db/connect.ts";
import { recordChange } from "../../db/recordChange.ts";
import { invoices } from "../../db/schema/invoices.ts";
import { invoiceBalances, payments } from "../../db/schema/payments.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";
import { ok, type Result, refuse } from "../basics/result.ts";
import type { Actor } from "../http/visitor.ts";
import { workshopDay } from "../workshop/workshopDay.ts";
import type { PaymentForm } from "./forms.ts";
import type { PaymentRefusal } from "./refusals.ts";

type Invoice = typeof invoices.$inferSelect;

/**
 * Enters what settled an invoice, or a part of it. More than is open is taken only where it is said that it is more: the
 * rest stays in the customer's favour.
 */
export async function recordPayment(
  transaction: Transaction,
  actor: Actor,
  payment: PaymentForm & { readonly invoiceId: number },
): Promise<Result<{ readonly invoiceId: number }, PaymentRefusal>> {
  const { invoiceId, kind, paidOn, words } = payment;
  const invoice = await lockInvoice(transaction, invoiceId);
  if (!invoice) return refuse({ why: "not-found" });
  if (paidOn > (await workshopDay(transaction, actor.at))) return refuse({ why: "not-paid-yet" });
  const openMinor = await readOpen(transaction, invoiceId);
  const refusal = whyNot(payment, invoice, openMinor) ?? (await pastTheOffer(transaction, payment, invoice));
  if (refusal) return refuse(refusal);
  const amountMinor = kind === "paid-back" ? -payment.amount : payment.amount;
  const { at, personId } = actor;
  const entry = { invoiceId, kind, amountMinor, paidOn, words };
  await transaction.insert(payments).values({ ...entry, at, personId });
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: invoice.orderId,
    what: "paid",
    after: { ...entry, number: paperNumber(invoice) },
  });
  return ok({ invoiceId });
}

/** Takes a mistaken entry back by a counter entry of the opposite amount, dated as the entry it answers. */
export async function takeBackPayment(
  transaction: Transaction,
  actor: Actor,
  { invoiceId, paymentId }: { readonly invoiceId: number; readonly paymentId: number },
): Promise<Result<{ readonly invoiceId: number }, PaymentRefusal>> {
  const invoice = await lockInvoice(transaction, invoiceId);
  const [entry] = await transaction
    .select()
    .from(payments)
    .where(and(eq(payments.id, paymentId), eq(payments.invoiceId, invoiceId)));
  if (!invoice || !entry) return refuse({ why: "not-found" });
  if (entry.takesBackId !== null) return refuse({ why: "is-counter-entry" });
  if ((await transaction.$count(payments, eq(payments.takesBackId, paymentId))) > 0)
    return refuse({ why: "taken-back" });
  const { kind, paidOn } = entry;
  const counter = { invoiceId, kind, paidOn, amountMinor: -entry.amountMinor, takesBackId: paymentId };
  await transaction.insert(payments).values({ ...counter, at: actor.at, personId: actor.personId });
  await recordChange(transaction, actor, {
    subject: "order",
    subjectId: invoice.orderId,
    what: "payment taken back",
    before: { kind, paidOn, amountMinor: entry.amountMinor },
    after: { ...counter, number: paperNumber(invoice) },
  });
  return ok({ invoiceId });
}

async function lockInvoice(transaction: Transaction, invoiceId: number): Promise<Invoice | undefined> {
  const [invoice] = await transaction
    .select()
    .from(invoices)
    .where(and(eq(invoices.id, invoiceId), eq(invoices.kind, "invoice")))
    .for("update");
  return invoice;
}

async function readOpen(transaction: Transaction, invoiceId: number): Promise<number> {
  const [balance] = await transaction
    .select({ openMinor: invoiceBalances.openMinor })
    .from(invoiceBalances)
    .where(eq(invoiceBalances.invoiceId, invoiceId));
  if (!balance) throw new Error(`The balance of invoice ${invoiceId} could not be read`);
  return balance.openMinor;
}

function whyNot(
  { kind, amount, beyond }: PaymentForm,
  { currency }: Invoice,
  openMinor: number,
): PaymentRefusal | null {
  if (kind === "paid-back") {
    const favourMinor = Math.max(0, -openMinor);
    return amount > favourMinor ? { why: "nothing-to-pay-back", favourMinor, currency } : null;
  }
  if (amount <= openMinor) return null;
  if (kind !== "received") return { why: "nothing-to-let-off", openMinor, currency };
  return beyond ? null : { why: "more-than-open", openMinor, currency };
}

/** The discount for paying early is had by its date, and only as far as it was offered. */
async function pastTheOffer(
  transaction: Transaction,
  { kind, amount, paidOn }: PaymentForm,
  { id, earlyUntil, earlyDiscountMinor, currency }: Invoice,
): Promise<PaymentRefusal | null> {
  if (kind !== "early-discount") return null;
  if (earlyUntil === null || earlyDiscountMinor === null) return { why: "no-early-discount" };
  if (paidOn > earlyUntil) return { why: "too-late-for-discount", until: earlyUntil };
  const [had] = await transaction
    .select({ minor: sql<string>`coalesce(sum(${payments.amountMinor}), 0)` })
    .from(payments)
    .where(and(eq(payments.invoiceId, id), eq(payments.kind, "early-discount")));
  const leftMinor = earlyDiscountMinor - Number(had?.minor ?? 0);
  return amount > leftMinor ? { why: "more-than-offered", leftMinor, currency } : null;
}

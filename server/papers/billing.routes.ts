import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { CreditPage } from "../../views/papers/CreditPage.tsx";
import { WriteInvoicePage } from "../../views/papers/WriteInvoicePage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { unitsToCredit } from "./creditContent.ts";
import { dueDates } from "./dueDates.ts";
import { creditForm, invoiceForm } from "./forms.ts";
import { type Basis, invoiceContent, sumsOfLines, unitsToBill } from "./invoiceContent.ts";
import { isBlank, readLetterhead } from "./letterhead.ts";
import { type OrderBilling, readOrderBilling } from "./orderBilling.ts";
import { findInvoice, readSettling } from "./queries.ts";
import { type CreditRefusal, creditRefusalWords, invoiceRefusalWords } from "./refusals.ts";
import { readCreditableLines, writeCredit } from "./writeCredit.ts";
import { writeInvoice } from "./writeInvoice.ts";

/** Writing invoices and the credit notes that correct them. */
export async function billingRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/invoices/of-order/:orderId", (request, reply) => showBilling(request, reply, freshForm(), 200));

  app.post("/invoices/of-order/:orderId", (request, reply) => {
    const orderId = idInPath(request, "order", "orderId");
    return takeForm(parts, request, reply, {
      schema: invoiceForm,
      command: (transaction, actor, { basis }) => writeInvoice(transaction, actor, { orderId, basis }),
      whereTo: ({ invoiceId }) => `/invoices/${invoiceId}`,
      mistakeFor: (refusal): Mistake => {
        if (refusal.why === "not-found") throw notFound("order");
        return { field: "", sentence: invoiceRefusalWords(refusal), status: 409 };
      },
      showAgain: (answer, status) => showBilling(request, reply, answer, status),
    });
  });

  app.get("/invoices/:id/credit", (request, reply) => showCredit(request, reply, null, 200));

  app.post("/invoices/:id/credit", (request, reply) => {
    const invoiceId = idInPath(request, "invoice");
    return takeForm(parts, request, reply, {
      schema: creditForm,
      command: (transaction, actor, form) => writeCredit(transaction, actor, { ...form, invoiceId }),
      whereTo: ({ invoiceId: creditId }) => `/invoices/${creditId}`,
      mistakeFor: creditMistake,
      showAgain: (answer, status) => showCredit(request, reply, answer, status),
    });
  });

  /** What there is to bill of an order; with a mistake, the newer state of it. */
  async function showBilling(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const orderId = idInPath(request, "order", "orderId");
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const billing = await readOrderBilling(db, orderId, today);
    if (!billing.ok && billing.refusal.why === "not-found") throw notFound("order");
    const props = billing.ok
      ? { ...billingProps(billing.value, today), refusal: null }
      : { ...nothingToBill(orderId, today), refusal: invoiceRefusalWords(billing.refusal) };
    const headingIsBlank = isBlank(await readLetterhead(db));
    const head = { title: "Write an invoice", place: "Orders", status } as const;
    return render(request, reply, WriteInvoicePage, { ...props, headingIsBlank, answer }, head);
  }

  /** An invoice with what can still be credited of it; to begin with, all of that is asked for. */
  async function showCredit(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const invoice = await findInvoice(db, idInPath(request, "invoice"));
    if (invoice?.kind !== "invoice") throw notFound("invoice");
    const found = await readCreditableLines(db, invoice.id);
    const lines = found.map((line) => ({
      ...{ lineId: line.lineId, kind: line.kind, what: line.what, left: unitsToCredit(line) },
      grossMinor: line.amounts.grossMinor,
    }));
    const all = freshForm({ units: lines.map(({ left }) => String(left)), billAgain: "no" });
    const props = { invoice, lines, creditedMinor: await readCredited(invoice.id), answer: answer ?? all };
    return render(request, reply, CreditPage, props, { title: "Credit note", place: "Orders", status });
  }

  async function readCredited(invoiceId: number): Promise<number> {
    const { balance } = await readSettling(db, invoiceId);
    return balance?.creditedMinor ?? 0;
  }
}

const bases: readonly Basis[] = ["left", "whole"];

function billingProps(billing: OrderBilling, today: string) {
  const { order, currency, lines } = billing;
  const offers = bases.flatMap((basis) => {
    const content = invoiceContent(billing, basis);
    if (content.length === 0) return [];
    const units = lines.reduce((sum, line) => sum + unitsToBill(line, basis), 0);
    return [{ basis, units, grossMinor: sumsOfLines(content).grossMinor }];
  });
  const [gone, whole] = offers;
  const { dueOn } = dueDates(today, order, sumsOfLines([]).grossMinor);
  return {
    order,
    currency,
    lines,
    // Where everything has left the two ways are one.
    offers: gone && whole && gone.units === whole.units ? [gone] : offers,
    netDays: order.netDays,
    dueOn,
  };
}

function nothingToBill(orderId: number, today: string) {
  const order = { id: orderId, reference: "The order", customer: "" };
  return { order, currency: "EUR", lines: [], offers: [], netDays: 0, dueOn: today };
}

function creditMistake(refusal: CreditRefusal): Mistake {
  if (refusal.why === "not-found") throw notFound("invoice");
  const sentence = creditRefusalWords(refusal);
  return { field: "place" in refusal ? `units.${refusal.place}` : "", sentence };
}

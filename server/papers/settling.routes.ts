import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { paperNumber } from "../../views/format/paperNumber.ts";
import { InvoicePage } from "../../views/papers/InvoicePage.tsx";
import { InvoicesPage } from "../../views/papers/InvoicesPage.tsx";
import { invoicePaper } from "../../views/papers/invoicePaper.ts";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { daysOverdue } from "./ageing.ts";
import { type InvoicesAsked, paymentForm, readInvoicesAsked } from "./forms.ts";
import { readLetterhead } from "./letterhead.ts";
import { findInvoice, listInvoices, readSettling, summariseInvoices } from "./queries.ts";
import { recordPayment, takeBackPayment } from "./recordPayment.ts";
import { type PaymentRefusal, paymentRefusalWords } from "./refusals.ts";
import { sendPaper } from "./sendPaper.ts";

/** The list of invoices, each of them with its paper, and what settles it. */
export async function settlingRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const todayOf = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/invoices", async (request, reply) => {
    const asked = readInvoicesAsked(request.query);
    const today = todayOf(request);
    const { rows, more } = await listInvoices(db, asked, today);
    const props = {
      summary: await summariseInvoices(db, today),
      currency: await readCurrency(db),
      rows: rows.map((row) => ({ ...row, daysOverdue: overdueOf(row, today) })),
      ...{ show: asked.show, q: asked.q },
      earlier: asked.page > 1 ? linkTo({ ...asked, page: asked.page - 1 }) : null,
      later: more ? linkTo({ ...asked, page: asked.page + 1 }) : null,
    };
    return render(request, reply, InvoicesPage, props, { title: "Invoices", place: "Orders" });
  });

  app.get("/invoices/:id", (request, reply) => showInvoice(request, reply, null, 200));

  app.get("/invoices/:id/paper.pdf", async (request, reply) => {
    const { invoice, corrects } = await invoiceOf(request);
    const { paperSize } = await readLetterhead(db);
    return sendPaper(reply, invoicePaper(invoice, corrects), paperSize);
  });

  app.post("/invoices/:id/payments", async (request, reply) => {
    const { invoice } = await invoiceOf(request);
    return takeForm(parts, request, reply, {
      schema: paymentForm(invoice.currency),
      command: (transaction, actor, form) =>
        recordPayment(transaction, actor, { ...form, invoiceId: invoice.id }),
      whereTo: ({ invoiceId }) => `/invoices/${invoiceId}`,
      mistakeFor: paymentMistake,
      showAgain: (answer, status) => showInvoice(request, reply, answer, status),
    });
  });

  app.post("/invoices/:id/payments/:paymentId/counter-entry", (request, reply) => {
    const invoiceId = idInPath(request, "invoice");
    const paymentId = idInPath(request, "payment", "paymentId");
    return takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => takeBackPayment(transaction, actor, { invoiceId, paymentId }),
      whereTo: () => `/invoices/${invoiceId}`,
      mistakeFor: paymentMistake,
      showAgain: (answer, status) => showInvoice(request, reply, answer, status),
    });
  });

  async function invoiceOf(request: FastifyRequest) {
    const invoice = await findInvoice(db, idInPath(request, "invoice"));
    if (!invoice) throw notFound("invoice");
    const corrects = invoice.creditsId === null ? null : await findInvoice(db, invoice.creditsId);
    return { invoice, corrects: corrects ?? null };
  }

  async function showInvoice(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const { invoice, corrects } = await invoiceOf(request);
    const today = todayOf(request);
    const settling = await readSettling(db, invoice.id);
    const openMinor = settling.balance?.openMinor ?? null;
    const props = {
      ...{ invoice, corrects, settling },
      daysOverdue: overdueOf({ dueOn: invoice.dueOn, openMinor }, today),
      answer: answer ?? freshForm({ kind: "received", paidOn: today }),
    };
    return render(request, reply, InvoicePage, props, {
      title: paperNumber(invoice),
      place: "Orders",
      status,
    });
  }
}

function overdueOf(
  { dueOn, openMinor }: { readonly dueOn: string | null; readonly openMinor: number | null },
  today: string,
): number {
  return dueOn === null || openMinor === null || openMinor <= 0 ? 0 : daysOverdue(dueOn, today);
}

function linkTo({ show, q, page }: InvoicesAsked): string {
  return `/invoices?${new URLSearchParams({ show, q, page: String(page) })}`;
}

function paymentMistake(refusal: PaymentRefusal): Mistake {
  if (refusal.why === "not-found") throw notFound("entry");
  const placed = paymentRefusalWords(refusal);
  return placed.field === "" ? { ...placed, status: 409 } : placed;
}

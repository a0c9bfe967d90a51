import type { FastifyInstance, FastifyRequest } from "fastify";
import { dateOf } from "../../views/format/dates.ts";
import { paperShop } from "../../views/papers/paperShop.ts";
import { StatementPage } from "../../views/papers/StatementPage.tsx";
import { statementPaper } from "../../views/papers/statementPaper.ts";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { daysOverdue, standingOn } from "./ageing.ts";
import { shownLetterhead } from "./letterhead.ts";
import { readStatement } from "./queries.ts";
import { sendPaper } from "./sendPaper.ts";
import { statementFile } from "./statementFile.ts";

/** What each customer has still to pay: as a page, on paper, and as a file. */
export async function statementRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  app.get("/invoices/statements/:customerId", async (request, reply) => {
    const statement = await statementOf(request);
    const props = { statement, shop: paperShop(await shownLetterhead(db)) };
    const title = `Statement of ${statement.customer.name}`;
    return render(request, reply, StatementPage, props, { title, place: "Orders" });
  });

  app.get("/invoices/statements/:customerId/statement.pdf", async (request, reply) => {
    const letterhead = await shownLetterhead(db);
    const paper = statementPaper(await statementOf(request), { shop: paperShop(letterhead) });
    return sendPaper(reply, paper, letterhead.paperSize);
  });

  app.get("/invoices/statements/:customerId/statement.csv", async (request, reply) => {
    const { today, ...statement } = await statementOf(request);
    return reply
      .type("text/csv; charset=utf-8; header=present")
      .header("Content-Disposition", `attachment; filename="statement-${today}.csv"`)
      .header("Cache-Control", "no-store")
      .send(statementFile(statement, today));
  });

  async function statementOf(request: FastifyRequest) {
    const found = await readStatement(db, idInPath(request, "customer", "customerId"));
    if (!found) throw notFound("customer");
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const invoices = found.invoices.map((invoice) => ({
      ...invoice,
      daysOverdue: invoice.openMinor > 0 ? daysOverdue(invoice.dueOn, today) : 0,
    }));
    const standing = standingOn(today, invoices);
    return { customer: found.customer, invoices, standing, currency: await readCurrency(db), today };
  }
}

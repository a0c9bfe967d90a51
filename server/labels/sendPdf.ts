import type { FastifyReply } from "fastify";

/** Shown by the browser, from where it is printed; kept nowhere, as the next one may differ. */
export function sendPdf(reply: FastifyReply, pdf: Buffer, name: string): FastifyReply {
  return reply
    .header("Cache-Control", "no-store")
    .header("Content-Disposition", `inline; filename="${name}.pdf"`)
    .type("application/pdf")
    .send(pdf);
}

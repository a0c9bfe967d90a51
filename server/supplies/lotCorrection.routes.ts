import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { plainMoney } from "../../views/format/money.ts";
import { CorrectLotPage } from "../../views/supplies/CorrectLotPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { correctLot } from "./correctLot.ts";
import { correctionForm } from "./ledgerForms.ts";
import { findCorrectableLot, listCorrections } from "./lotCorrections.ts";
import { correctionMistake } from "./sentences.ts";

/** Putting a received lot's last good day and price right: the owner's, who sees prices. */
export async function lotCorrectionRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db } = parts;

  app.get("/supplies/lots/:lotId/correction", (request, reply) => showForm(request, reply, null, 200));

  app.post("/supplies/lots/:lotId/correction", async (request, reply) => {
    const supplyLotId = idInPath(request, "lot", "lotId");
    return takeForm(parts, request, reply, {
      schema: correctionForm(await readCurrency(db)),
      command: (transaction, actor, correction) =>
        correctLot(transaction, actor, { ...correction, supplyLotId }),
      whereTo: () => `/supplies/lots/${supplyLotId}/correction`,
      mistakeFor: (refusal) => {
        if (refusal === "not-found") throw notFound("lot");
        return correctionMistake(refusal);
      },
      showAgain: (answer, status) => showForm(request, reply, answer, status),
    });
  });

  async function showForm(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const lot = await findCorrectableLot(db, idInPath(request, "lot", "lotId"));
    if (!lot) throw notFound("lot");
    const currency = await readCurrency(db);
    const expiresOn = lot.expiresOn ?? "";
    const price = lot.priceMinor === null ? "" : plainMoney(lot.priceMinor, currency);
    const props = {
      ...{ lot, currency, seen: { expiresOn, price }, answer: answer ?? freshForm({ expiresOn, price }) },
      corrections: await listCorrections(db, lot.id),
      timeZone: workshopOf(request).timeZone,
    };
    return render(request, reply, CorrectLotPage, props, {
      ...{ title: `Put ${lot.code} right`, place: "Supplies", status },
    });
  }
}

import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { LabelsPage } from "../../views/labels/LabelsPage.tsx";
import { NoSheetPage } from "../../views/labels/NoSheetPage.tsx";
import { PrintLabelsPage } from "../../views/labels/PrintLabelsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { workshopOf } from "../http/visitor.ts";
import { listShelf } from "../shelf/queries.ts";
import { drawLabels } from "./drawLabels.ts";
import { printForm } from "./forms.ts";
import type { LabelledPieces } from "./labelContent.ts";
import { type AskedSheet, facesToPrint, type LabelsToPrint, labelsToPrint } from "./labelSheet.ts";
import type { Faces } from "./layout.ts";
import {
  findLabelledLot,
  findLabelledProduct,
  listLabelledProducts,
  readLabelMaker,
  sheetsInUse,
} from "./queries.ts";
import { sendPdf } from "./sendPdf.ts";
import { askedMistake } from "./sentences.ts";

const everyone = { config: { access: "everyone" } } as const;

/** What a page of labels is about. */
interface Labelled extends LabelledPieces {
  readonly lotId: number | null;
  readonly productId: number;
  readonly units: number;
  readonly recipeVersion: number | null;
}

/** Labels of a lot, or of a product without one: looked over on a page, printed as a PDF. */
export async function labelPrintRoutes(
  app: FastifyInstance,
  { db, clock, faces }: FeatureParts & { readonly faces: Faces },
): Promise<void> {
  app.get("/labels", everyone, async (request, reply) => {
    const props = { lots: await listShelf(db), products: await listLabelledProducts(db) };
    return render(request, reply, LabelsPage, props, { title: "Labels", place: "Packing" });
  });

  app.get("/labels/lots/:lotId", everyone, async (request, reply) =>
    showLabels(request, reply, await lotIn(request)),
  );

  app.get("/labels/lots/:lotId/labels.pdf", everyone, async (request, reply) =>
    printLabels(request, reply, await lotIn(request)),
  );

  app.get("/labels/products/:productId", everyone, async (request, reply) =>
    showLabels(request, reply, await productIn(request)),
  );

  app.get("/labels/products/:productId/labels.pdf", everyone, async (request, reply) =>
    printLabels(request, reply, await productIn(request)),
  );

  async function lotIn(request: FastifyRequest): Promise<Labelled> {
    const { timeZone } = workshopOf(request);
    const lotId = idInPath(request, "lot", "lotId");
    const lot = await findLabelledLot(db, lotId, timeZone, dateOf(clock.now(), timeZone));
    if (!lot) throw notFound("lot");
    return lot;
  }

  async function productIn(request: FastifyRequest): Promise<Labelled> {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const product = await findLabelledProduct(db, idInPath(request, "product", "productId"), today);
    if (!product) throw notFound("product");
    return { ...product, lotId: null, lotCode: null, madeOn: null, units: 1 };
  }

  async function showLabels(request: FastifyRequest, reply: FastifyReply, labelled: Labelled) {
    const read = readForm(printForm, request.query);
    if (!read.ok) return showAsked(request, reply, labelled, nothingAsked, read.refusal, 422);
    return showAsked(request, reply, labelled, read.value, freshForm(asTyped(request.query)), 200);
  }

  async function printLabels(request: FastifyRequest, reply: FastifyReply, labelled: Labelled) {
    const read = readForm(printForm, request.query);
    if (!read.ok) return showAsked(request, reply, labelled, nothingAsked, read.refusal, 422);
    const sheets = await sheetsInUse(db);
    const maker = await readLabelMaker(db);
    const labels = labelsToPrint(labelled, maker, sheets, read.value, faces);
    // What cannot be printed is answered by the page, which says why.
    if ("kind" in labels || !labels.laid.fits)
      return showAsked(request, reply, labelled, read.value, freshForm(asTyped(request.query)), 409);
    const title = `Labels ${labelled.lotCode ?? labelled.product}`;
    const { sheet, first } = labels;
    const pdf = await drawLabels({ title, sheet, first, faces: facesToPrint(labels) });
    return sendPdf(reply, pdf, `labels-${labelled.lotCode ?? labelled.productId}`);
  }

  async function showAsked(
    request: FastifyRequest,
    reply: FastifyReply,
    labelled: Labelled,
    asked: AskedSheet,
    answer: FormAnswer,
    status: number,
  ) {
    const title = `Labels of ${labelled.lotCode ?? labelled.product}`;
    const sheets = await sheetsInUse(db);
    if (sheets.length === 0)
      return render(request, reply, NoSheetPage, {}, { title, place: "Packing", status: 200 });
    const maker = await readLabelMaker(db);
    const labels = labelsToPrint(labelled, maker, sheets, asked, faces);
    const mistake = "kind" in labels ? askedMistake(labels) : null;
    const shown = "kind" in labels ? labelsToPrint(labelled, maker, sheets, nothingAsked, faces) : labels;
    if ("kind" in shown) throw new Error("The first sheet holds the first label");
    const props = {
      ...{ labelled, sheets, labels: shown },
      answer: mistake
        ? withMistake(answer, mistake.field, mistake.sentence)
        : { typed: { ...typedLabels(shown), ...answer.typed }, mistakes: answer.mistakes },
    };
    return render(request, reply, PrintLabelsPage, props, {
      ...{ title, place: "Packing" },
      status: mistake && status === 200 ? (mistake.status ?? 422) : status,
    });
  }
}

const nothingAsked: AskedSheet = { sheet: null, side: null, first: null, count: null, madeOn: null };

/** What was chosen where nothing was asked for. */
function typedLabels({ sheet, side, first, count }: LabelsToPrint): FormAnswer["typed"] {
  return { sheet: String(sheet.id), side, first: String(first), count: String(count) };
}

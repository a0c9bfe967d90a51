import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { LabelSheetPage } from "../../views/labels/LabelSheetPage.tsx";
import { LabelsSetupPage } from "../../views/labels/LabelsSetupPage.tsx";
import { ProductLabelPage } from "../../views/labels/ProductLabelPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { changeLabelMaker } from "./changeLabelMaker.ts";
import { changeProductLabel } from "./changeProductLabel.ts";
import { labelMakerForm, productLabelForm, sheetForm } from "./forms.ts";
import { labelContent } from "./labelContent.ts";
import { findLabelledProduct, findSheet, listSheets, readLabelMaker } from "./queries.ts";
import { productLabelMistake } from "./sentences.ts";
import { sheetOffers } from "./sheetOffers.ts";
import { typedMaker, typedSheet } from "./typed.ts";
import { addSheet, bringBackSheet, changeSheet, retireSheet, type SheetRefusal } from "./writeSheet.ts";

/** Who stands on labels and by whose rules, the sheets the shop has, and what one product declares. */
export async function labelSetupRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/setup/labels", (request, reply) => showSetup(request, reply, null, 200));

  app.post("/setup/labels", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: labelMakerForm,
      command: changeLabelMaker,
      whereTo: () => "/setup/labels",
      mistakeFor: ({ product, gs1Number }): Mistake => ({
        field: "gs1Prefix",
        sentence: `${product} has the number ${gs1Number} under the prefix you had: take it away first.`,
      }),
      showAgain: (answer, status) => showSetup(request, reply, answer, status),
    }),
  );

  app.get("/setup/labels/sheets/new", (request, reply) => {
    const offer = sheetOffers[Number((request.query as Readonly<Record<string, unknown>>).size)];
    const typed = offer ? typedSheet({ ...offer, name: "" }) : { unit: "mm" };
    return showNewSheet(request, reply, freshForm(typed), 200);
  });

  app.post("/setup/labels/sheets", (request, reply) =>
    takeForm(parts, request, reply, {
      schema: sheetForm,
      command: addSheet,
      whereTo: () => "/setup/labels",
      mistakeFor: sheetMistake,
      showAgain: (answer, status) => showNewSheet(request, reply, answer, status),
    }),
  );

  app.get("/setup/labels/sheets/:id", (request, reply) => showSheet(request, reply, null, 200));

  app.post("/setup/labels/sheets/:id", (request, reply) => {
    const sheetId = idInPath(request, "sheet");
    return takeForm(parts, request, reply, {
      schema: sheetForm,
      command: (transaction, actor, facts) => changeSheet(transaction, actor, { ...facts, sheetId }),
      whereTo: () => "/setup/labels",
      mistakeFor: sheetMistake,
      showAgain: (answer, status) => showSheet(request, reply, answer, status),
    });
  });

  for (const { path, command } of [
    { path: "/setup/labels/sheets/:id/retirement", command: retireSheet },
    { path: "/setup/labels/sheets/:id/return", command: bringBackSheet },
  ]) {
    app.post(path, (request, reply) => {
      const sheetId = idInPath(request, "sheet");
      return takeForm(parts, request, reply, {
        schema: z.object({}),
        command: (transaction, actor) => command(transaction, actor, { sheetId }),
        whereTo: () => "/setup/labels",
        mistakeFor: sheetMistake,
        showAgain: (_answer, status) => showSheet(request, reply, null, status),
      });
    });
  }

  app.get("/setup/products/:id/label", (request, reply) => showProductLabel(request, reply, null, 200));

  app.post("/setup/products/:id/label", (request, reply) => {
    const productId = idInPath(request, "product");
    const today = todayOf(request);
    return takeForm(parts, request, reply, {
      schema: productLabelForm,
      command: (transaction, actor, { declaredGrams, gs1Number, durabilityMonths }) =>
        changeProductLabel(transaction, actor, {
          ...{ productId, today, gs1Number, durabilityMonths },
          declaredMilligrams: declaredGrams,
        }),
      whereTo: () => `/setup/products/${productId}`,
      mistakeFor: (refusal) => {
        if (refusal.kind === "not-found") throw notFound("product");
        return productLabelMistake(refusal);
      },
      showAgain: (answer, status) => showProductLabel(request, reply, answer, status),
    });
  });

  function todayOf(request: FastifyRequest): string {
    return dateOf(clock.now(), workshopOf(request).timeZone);
  }

  async function showSetup(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const maker = await readLabelMaker(db);
    const props = {
      maker,
      sheets: await listSheets(db),
      offers: sheetOffers,
      answer: answer ?? freshForm(typedMaker(maker)),
    };
    return render(request, reply, LabelsSetupPage, props, { title: "Labels", place: "Setup", status });
  }

  async function showSheet(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const sheet = await findSheet(db, idInPath(request, "sheet"));
    if (!sheet) throw notFound("sheet");
    const props = { sheet, answer: answer ?? freshForm(typedSheet(sheet)) };
    return render(request, reply, LabelSheetPage, props, { title: sheet.name, place: "Setup", status });
  }

  async function showProductLabel(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const product = await findLabelledProduct(db, idInPath(request, "product"), todayOf(request));
    if (!product) throw notFound("product");
    const maker = await readLabelMaker(db);
    const content = labelContent(
      { ...product, declaredMilligrams: null, lotCode: null, madeOn: null },
      maker,
    );
    const { declaredMilligrams, gs1Number, durabilityMonths } = product;
    const typed = {
      declaredGrams: declaredMilligrams === null ? "" : String(declaredMilligrams / 1000),
      gs1Number: gs1Number === null ? "" : String(gs1Number),
      durabilityMonths: durabilityMonths === null ? "" : String(durabilityMonths),
    };
    const props = { product, content, gs1Prefix: maker.gs1Prefix, answer: answer ?? freshForm(typed) };
    const title = `Label of ${product.product}`;
    return render(request, reply, ProductLabelPage, props, { title, place: "Setup", status });
  }
}

function showNewSheet(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  const props = { sheet: null, answer };
  return render(request, reply, LabelSheetPage, props, { title: "New sheet", place: "Setup", status });
}

function sheetMistake(refusal: SheetRefusal): Mistake {
  if (refusal === "not-found") throw notFound("sheet");
  return { field: "name", sentence: "Another sheet has this name: tell the two apart." };
}

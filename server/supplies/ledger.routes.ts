import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, typedList } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { plainMoney } from "../../views/format/money.ts";
import { SuppliesPage } from "../../views/supplies/SuppliesPage.tsx";
import { SupplyPage } from "../../views/supplies/SupplyPage.tsx";
import { WeighedRunPage } from "../../views/supplies/WeighedRunPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf, idField } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { chooseLot } from "./chooseLot.ts";
import { countSupply } from "./countSupply.ts";
import { isPackaging } from "./kinds.ts";
import { inThousandths, lotChoiceForm, receiptForm, supplyCountForm, supplyLossForm } from "./ledgerForms.ts";
import {
  findSupply,
  findWeighedRun,
  ledgerOfSupply,
  listLots,
  listOnHand,
  listPacks,
  listPurchases,
  listSupplierChoices,
  listWeighedRuns,
  lotChoices,
  type Purchase,
  usesOfRun,
} from "./ledgerQueries.ts";
import { loseSupply } from "./loseSupply.ts";
import { receiveSupply } from "./receiveSupply.ts";
import { choiceMistake, countMistake, lossMistake, receiptMistake } from "./sentences.ts";

const forEveryone = { config: { access: "everyone" } } as const;

interface Answers {
  readonly receipt?: FormAnswer;
  readonly count?: FormAnswer;
  readonly loss?: FormAnswer;
}

/** What there is of everything that is bought. Everybody works on it; prices are for the owner. */
export async function supplyLedgerRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;
  const isOwner = (request: FastifyRequest) => request.person?.role === "owner";
  const todayFor = (request: FastifyRequest) => dateOf(clock.now(), workshopOf(request).timeZone);

  app.get("/supplies", forEveryone, async (request, reply) => {
    const today = todayFor(request);
    const props = {
      supplies: await listOnHand(db, today),
      purchases: await listPurchases(db),
      runs: await listWeighedRuns(db),
      timeZone: workshopOf(request).timeZone,
      ...{ today, owner: isOwner(request) },
    };
    return render(request, reply, SuppliesPage, props, { title: "Supplies", place: "Supplies" });
  });

  app.get("/supplies/:id", forEveryone, (request, reply) => showSupply(request, reply, {}, 200));

  app.post("/supplies/:id/receipts", forEveryone, async (request, reply) => {
    const supplyId = idInPath(request, "supply");
    return takeForm(parts, request, reply, {
      schema: receiptForm(await readCurrency(db)),
      command: (transaction, actor, { priceMinor, ...receipt }) =>
        // A helper is shown no price, so one that is sent all the same is not hers to say.
        receiveSupply(transaction, actor, {
          ...receipt,
          supplyId,
          priceMinor: isOwner(request) ? priceMinor : null,
        }),
      whereTo: () => `/supplies/${supplyId}`,
      mistakeFor: (refusal) => {
        if (refusal === "not-found") throw notFound("supply");
        return receiptMistake(refusal);
      },
      showAgain: (receipt, status) => showSupply(request, reply, { receipt }, status),
    });
  });

  app.post("/supplies/:id/count", forEveryone, (request, reply) => {
    const supplyId = idInPath(request, "supply");
    return takeForm(parts, request, reply, {
      schema: supplyCountForm,
      command: (transaction, actor, { lastMove, counts, countNote }) =>
        countSupply(transaction, actor, { supplyId, lastMove, counted: counts, note: countNote }),
      whereTo: () => `/supplies/${supplyId}`,
      mistakeFor: (refusal) => {
        if (refusal.kind === "not-found") throw notFound("supply");
        return countMistake(refusal, typedList(freshForm(asTyped(request.body)), "countedLot"));
      },
      showAgain: (count, status) => showSupply(request, reply, { count }, status),
    });
  });

  app.post("/supplies/:id/loss", forEveryone, async (request, reply) => {
    const supplyId = idInPath(request, "supply");
    const supply = await findSupply(db, supplyId);
    if (!supply) throw notFound("supply");
    return takeForm(parts, request, reply, {
      schema: supplyLossForm,
      command: (transaction, actor, { lostLot, lostAmount, cause, lossNote }) =>
        loseSupply(transaction, actor, {
          ...{ supplyId, lotId: lostLot, cause, note: lossNote },
          thousandths: inThousandths(lostAmount),
        }),
      whereTo: () => `/supplies/${supplyId}`,
      mistakeFor: (refusal) => {
        if (refusal.kind === "not-found") throw notFound("supply");
        return lossMistake(refusal, supply.kind);
      },
      showAgain: (loss, status) => showSupply(request, reply, { loss }, status),
    });
  });

  app.get("/supplies/runs/:runId", forEveryone, (request, reply) =>
    showRun(request, reply, freshForm(), 200),
  );

  app.post("/supplies/runs/:runId/lots", forEveryone, (request, reply) => {
    const runId = idInPath(request, "run", "runId");
    return takeForm(parts, request, reply, {
      schema: lotChoiceForm,
      command: (transaction, actor, choice) => chooseLot(transaction, actor, { ...choice, runId }),
      whereTo: () => `/supplies/runs/${runId}`,
      mistakeFor: (refusal) => {
        if (refusal === "no-such-run") throw notFound("run");
        return choiceMistake(refusal);
      },
      showAgain: (answer, status) => showRun(request, reply, answer, status),
    });
  });

  async function showSupply(request: FastifyRequest, reply: FastifyReply, answers: Answers, status: number) {
    const supplyId = idInPath(request, "supply");
    const supply = await findSupply(db, supplyId);
    if (!supply) throw notFound("supply");
    const currency = await readCurrency(db);
    const today = todayFor(request);
    const purchases = await listPurchases(db, supplyId);
    const props = {
      supply,
      lots: await listLots(db, supplyId),
      ledger: await ledgerOfSupply(db, supplyId),
      packs: await listPacks(db, supplyId),
      suppliers: await listSupplierChoices(db),
      purchases,
      receipt: answers.receipt ?? freshForm(startOfReceipt(request, purchases, today, currency)),
      count: answers.count ?? freshForm(),
      loss: answers.loss ?? freshForm(),
      currency: isOwner(request) ? currency : null,
      ...{ today, timeZone: workshopOf(request).timeZone },
    };
    return render(request, reply, SupplyPage, props, { title: supply.name, place: "Supplies", status });
  }

  async function showRun(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const run = await findWeighedRun(db, idInPath(request, "run", "runId"));
    if (!run) throw notFound("run");
    const uses = await usesOfRun(db, run.id);
    const choices = await lotChoices(
      db,
      uses.map(({ supplyId }) => supplyId),
    );
    const props = { run, uses, choices, answer, today: todayFor(request) };
    const title = `What went into ${run.look.name}`;
    return render(request, reply, WeighedRunPage, props, { title, place: "Supplies", status });
  }

  /** Today, or what the purchase said that has come. */
  function startOfReceipt(
    request: FastifyRequest,
    purchases: readonly Purchase[],
    today: string,
    currency: string,
  ): FormAnswer["typed"] {
    const asked = idField().safeParse(fieldOf(request.query, "purchase")).data;
    const purchase = purchases.find(({ id }) => id === asked);
    if (!purchase) return { receivedOn: today };
    const { amount } = purchase;
    const [unit, inUnit] = isPackaging(purchase.kind)
      ? ["piece", amount]
      : amount % 1000 === 0
        ? ["kg", amount / 1_000_000]
        : ["g", amount / 1000];
    return {
      receivedOn: today,
      purchase: String(purchase.id),
      supplier: String(purchase.supplierId),
      ...{ quantity: String(inUnit), unit },
      price:
        purchase.priceMinor === null || !isOwner(request) ? "" : plainMoney(purchase.priceMinor, currency),
    };
  }
}

import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf } from "../../views/format/dates.ts";
import { CrateSheetPage } from "../../views/markets/CrateSheetPage.tsx";
import { HabitPage } from "../../views/markets/HabitPage.tsx";
import { MarketFormPage } from "../../views/markets/MarketFormPage.tsx";
import { MarketPage } from "../../views/markets/MarketPage.tsx";
import { MarketsPage } from "../../views/markets/MarketsPage.tsx";
import { ReportPage } from "../../views/markets/ReportPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { readCurrency } from "../prices/readCurrency.ts";
import { callOffMarket, holdAfterAll } from "./callOffMarket.ts";
import { changeMarket } from "./changeMarket.ts";
import { chooseList } from "./chooseList.ts";
import { marketCountRoutes } from "./count.routes.ts";
import { readCrateSheet } from "./crateSheet.ts";
import { fillCrate } from "./fillCrate.ts";
import { changedMarketForm, crateForm, habitForm, listForm, newMarketForm, nothingForm } from "./forms.ts";
import { readHabitRule } from "./habitRule.ts";
import { planMarket } from "./planMarket.ts";
import {
  findMarket,
  listDatesAhead,
  listKinds,
  listOpenMarkets,
  listPastMarkets,
  listStalls,
  type MarketRow,
} from "./queries.ts";
import { crateMistake, type MarketRefusal, marketMistake } from "./refusals.ts";
import { readReport } from "./report.ts";
import { reportFile } from "./reportFile.ts";
import { setHabit } from "./setHabit.ts";
import { showMarket } from "./shown.ts";
import { typedHabit, typedMarket, typedUsual } from "./typedMarket.ts";

/** Markets: when they are, what to take, and what came of them. */
export async function marketRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(listRoutes, parts);
  await app.register(oneMarketRoutes, parts);
  await app.register(habitRoutes, parts);
  await app.register(reportRoutes, parts);
  await app.register(marketCountRoutes, parts);
}

async function listRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/markets", async (request, reply) => {
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const stalls = await listStalls(db);
    const props = {
      today,
      stalls: stalls.map(({ habit, ...stall }) => ({
        ...stall,
        comes: habit?.rule ? readHabitRule(habit.rule) : null,
      })),
      open: await listOpenMarkets(db),
      ahead: await listDatesAhead(db, stalls, today),
      past: await listPastMarkets(db),
    };
    return render(request, reply, MarketsPage, props, { title: "Markets", place: "Orders" });
  });

  app.get("/markets/new", async (request, reply) => {
    const stalls = await listStalls(db);
    const typed = typedMarket(asTyped(request.query), stalls, await readCurrency(db));
    return showNew(request, reply, freshForm(typed), 200);
  });

  app.post("/markets", async (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newMarketForm(await readCurrency(db)),
      command: planMarket,
      whereTo: ({ marketId }) => `/markets/${marketId}`,
      mistakeFor: marketMistake,
      showAgain: (answer, status) => showNew(request, reply, answer, status),
    }),
  );

  async function showNew(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
    const currency = await readCurrency(db);
    const props = {
      market: null,
      stalls: await listStalls(db),
      kinds: await listKinds(db),
      answer,
      currency,
    };
    const head = { title: "Plan a market", place: "Orders", status } as const;
    return render(request, reply, MarketFormPage, props, head);
  }
}

async function oneMarketRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/markets/:id", async (request, reply) => showOne(request, reply, {}, 200));

  app.post("/markets/:id/crate-list", async (request, reply) => {
    const marketId = idInPath(request, "market");
    return takeForm(parts, request, reply, {
      schema: crateForm,
      command: (transaction, actor, form) => fillCrate(transaction, actor, { ...form, marketId }),
      whereTo: () => `/markets/${marketId}`,
      mistakeFor: orMissing(crateMistake),
      // Of numbers that no longer fit the crate list, the list as it is now is shown and not what was typed.
      showAgain: (answer, status) =>
        showOne(
          request,
          reply,
          status === 409 ? { trouble: answer.mistakes[""] } : { crate: answer },
          status,
        ),
    });
  });

  app.get("/markets/:id/crate-list", async (request, reply) => {
    const market = await marketOf(request);
    const sheet = await readCrateSheet(db, market);
    if (!sheet) throw notFound("crate list");
    const title = `Crate list for ${market.customer}`;
    return render(request, reply, CrateSheetPage, { market, ...sheet }, { title, place: "Orders" });
  });

  for (const { path, command } of [
    { path: "calling-off", command: callOffMarket },
    { path: "taking-up", command: holdAfterAll },
  ])
    app.post(`/markets/:id/${path}`, async (request, reply) => {
      const marketId = idInPath(request, "market");
      return takeForm(parts, request, reply, {
        schema: nothingForm,
        command: (transaction, actor) => command(transaction, actor, { marketId }),
        whereTo: () => `/markets/${marketId}`,
        mistakeFor: orMissing(marketMistake),
        showAgain: (answer, status) => showOne(request, reply, { trouble: answer.mistakes[""] }, status),
      });
    });

  app.post("/markets/:id/order", async (request, reply) => {
    const marketId = idInPath(request, "market");
    return takeForm(parts, request, reply, {
      schema: listForm,
      command: (transaction, actor, { order: orderId }) =>
        chooseList(transaction, actor, { marketId, orderId }),
      whereTo: () => `/markets/${marketId}`,
      mistakeFor: orMissing(marketMistake),
      showAgain: ({ mistakes }, status) =>
        showOne(request, reply, { trouble: mistakes[""] ?? mistakes.order }, status),
    });
  });

  app.get("/markets/:id/edit", async (request, reply) => {
    const market = await marketOf(request);
    const typed = { ...typedUsual(market, await readCurrency(db)), note: market.note };
    return showEdit(request, reply, market, freshForm(typed), 200);
  });

  app.post("/markets/:id/edit", async (request, reply) => {
    const market = await marketOf(request);
    return takeForm(parts, request, reply, {
      schema: changedMarketForm(await readCurrency(db)),
      command: (transaction, actor, form) =>
        changeMarket(transaction, actor, { ...form, marketId: market.id }),
      whereTo: ({ marketId }) => `/markets/${marketId}`,
      mistakeFor: orMissing(marketMistake),
      showAgain: (answer, status) => showEdit(request, reply, market, answer, status),
    });
  });

  async function marketOf(request: FastifyRequest): Promise<MarketRow> {
    const market = await findMarket(db, idInPath(request, "market"));
    if (!market) throw notFound("market");
    return market;
  }

  async function showEdit(
    request: FastifyRequest,
    reply: FastifyReply,
    market: MarketRow,
    answer: FormAnswer,
    status: number,
  ) {
    const currency = await readCurrency(db);
    const props = { market, stalls: [], kinds: await listKinds(db), answer, currency };
    const head = { title: "Change a market", place: "Orders", status } as const;
    return render(request, reply, MarketFormPage, props, head);
  }

  async function showOne(
    request: FastifyRequest,
    reply: FastifyReply,
    tried: { readonly crate?: FormAnswer; readonly trouble?: string | undefined },
    status: number,
  ) {
    const market = await marketOf(request);
    const { timeZone } = workshopOf(request);
    const today = dateOf(clock.now(), timeZone);
    const props = { ...(await showMarket(db, market, { today, tried })), timeZone };
    const head = { title: market.customer, place: "Orders", status } as const;
    return render(request, reply, MarketPage, props, head);
  }
}

async function habitRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  const { db, clock } = parts;

  app.get("/markets/habits/:customerId", (request, reply) => showHabit(request, reply, null, 200));

  app.post("/markets/habits/:customerId", async (request, reply) => {
    const customerId = idInPath(request, "market", "customerId");
    return takeForm(parts, request, reply, {
      schema: habitForm(await readCurrency(db)),
      command: (transaction, actor, form) => setHabit(transaction, actor, { ...form, customerId }),
      whereTo: () => "/markets",
      mistakeFor: orMissing(marketMistake),
      showAgain: (answer, status) => showHabit(request, reply, answer, status),
    });
  });

  async function showHabit(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer | null,
    status: number,
  ) {
    const customerId = idInPath(request, "market", "customerId");
    const stall = (await listStalls(db)).find((one) => one.customerId === customerId);
    if (!stall) throw notFound("market");
    const currency = await readCurrency(db);
    const today = dateOf(clock.now(), workshopOf(request).timeZone);
    const props = {
      stall,
      currency,
      kinds: await listKinds(db),
      ahead: await listDatesAhead(db, [stall], today),
      answer: answer ?? freshForm(typedHabit(stall, currency)),
    };
    return render(request, reply, HabitPage, props, { title: stall.customer, place: "Orders", status });
  }
}

async function reportRoutes(app: FastifyInstance, { db }: FeatureParts): Promise<void> {
  app.get("/markets/report", async (request, reply) => {
    const kind = kindIn(request.query);
    const props = { report: await readReport(db, { kind }), kinds: await listKinds(db), kind };
    return render(request, reply, ReportPage, props, { title: "What markets sold", place: "Orders" });
  });

  app.get("/markets/report.csv", async (request, reply) => {
    const file = reportFile(await readReport(db, { kind: kindIn(request.query) }));
    return reply
      .type("text/csv; charset=utf-8")
      .header("Content-Disposition", 'attachment; filename="markets.csv"')
      .header("Cache-Control", "no-store")
      .send(file);
  });
}

/** The kind a report is asked for; "" for all, also where it is no kind at all. */
function kindIn(query: unknown): string {
  const kind = asTyped(query).kind;
  return typeof kind === "string" && kind.length <= 60 && !kind.includes("\u0000") ? kind : "";
}

/** A market or customer that is not there answers as a page that is not there. */
function orMissing(mistakeFor: (refusal: MarketRefusal) => Mistake): (refusal: MarketRefusal) => Mistake {
  return (refusal) => {
    if (refusal.why === "no-such-market" || refusal.why === "no-such-customer") throw notFound("market");
    return mistakeFor(refusal);
  };
}

import { Readable } from "node:stream";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import type { Transaction } from "../../db/connect.ts";
import { NoPlanPage } from "../../views/plans/NoPlanPage.tsx";
import { objectionWords, obstacleToPlanning } from "../../views/plans/objectionWords.ts";
import { SearchNews } from "../../views/plans/SearchNews.tsx";
import { SearchPage } from "../../views/plans/SearchPage.tsx";
import type { FeatureParts } from "../app.ts";
import { ok, type Result } from "../basics/result.ts";
import { actOnce, ledBefore } from "../http/actOnce.ts";
import { idField } from "../http/formFields.ts";
import { readForm } from "../http/readForm.ts";
import { drawFragment, render } from "../http/render.ts";
import { type Actor, actorOf } from "../http/visitor.ts";
import { askQuestion, type Question } from "./askQuestion.ts";
import type { NoCase } from "./buildCase.ts";
import { type Obstacle, questionStands } from "./findObstacle.ts";
import type { PlanDesk } from "./planDesk.ts";
import type { PlannerRefusal } from "./plannerPool.ts";
import { type KeptAt, PlanSearch, type SearchEnd, type ShownPlan } from "./planSearch.ts";
import { type MadePlan, proposePlan } from "./proposePlan.ts";
import { findPlanNames } from "./queries.ts";
import { searchFigures } from "./searchFigures.ts";
import { takePlan } from "./takePlan.ts";

const PLACE = { title: "Planning", place: "Plan" } as const;

/** The page of the running search. */
export const SEARCH_ADDRESS = "/plan/search";

/** Lets the plan's page say that it is better than what was shown last. */
const FOUND_WHILE_ASKING = "?found=while-asking";

/** How often a page that watches is told how far the search is, and at most how often of better plans. */
const TELL_EVERY_MS = 1_000;
const TELL_AT_MOST_EVERY_MS = 250;

/** Which search a form speaks of, and which of its plans. */
const endingForm = z.object({ search: z.uuid() });
const takingForm = endingForm.extend({ plan: idField() });

/** Searching for a plan: asked for once, watched by as many as like, ended or taken from at any time. */
export async function searchRoutes(
  app: FastifyInstance,
  { db, clock, planner, desk }: FeatureParts & { readonly desk: PlanDesk },
): Promise<void> {
  app.addHook("preClose", () => desk.close());

  app.post("/plans", async (request, reply) => {
    const before = await ledBefore(db, request);
    if (before !== null) return leadTo(request, reply, before);
    const asked = await askOrJoin(request);
    if (!asked.ok) return showNoPlan(request, reply, asked.refusal);
    const led = leadWhenKept(request, asked.value);
    // The page that asked goes on to watch; where it can't, it waits.
    if (isHtmx(request)) {
      led.catch((error: unknown) => request.log.error({ err: error }, "what became of a search was lost"));
      return leadTo(request, reply, SEARCH_ADDRESS);
    }
    const end = await led;
    return showEnd(request, reply, end);
  });

  app.get(SEARCH_ADDRESS, async (request, reply) => {
    const { running, latest } = desk;
    if (running !== null) return showSearch(request, reply, running);
    return latest === null ? leadTo(request, reply, "/plan") : showEnd(request, reply, await latest.ended);
  });

  app.get(`${SEARCH_ADDRESS}/news`, async (request, reply) => {
    const stream = Readable.from(news(request, reply), { objectMode: true });
    return reply.type("text/event-stream").header("Cache-Control", "no-store").send(stream);
  });

  app.post(`${SEARCH_ADDRESS}/end`, async (request, reply) => {
    const form = readForm(endingForm, request.body);
    const { latest } = desk;
    if (!form.ok || latest === null || form.value.search !== latest.id)
      return leadTo(request, reply, "/plan");
    return showEnd(request, reply, await latest.endWithBest());
  });

  app.post(`${SEARCH_ADDRESS}/acceptance`, async (request, reply) => {
    const before = await ledBefore(db, request);
    if (before !== null) return reply.redirect(before, 303);
    const form = readForm(takingForm, request.body);
    const search = desk.latest;
    const shown = form.ok && form.value.search === search?.id ? search.plan(form.value.plan) : null;
    if (search === null || shown === null) return showGone(request, reply);
    const taken = await search.take(shown, () => accept(request, search, shown));
    if (taken.ok) return reply.redirect(taken.value.address, 303);
    return await showRefused(request, reply, search, taken.refusal);
  });

  /** The running search where it answers the question as it stands; otherwise a new one takes its place. */
  async function askOrJoin(request: FastifyRequest) {
    const at = clock.now();
    const question = await askQuestion(db, at);
    if (!question.ok) return question;
    const { running } = desk;
    const joins =
      running !== null &&
      (await db.transaction((transaction) => questionStands(transaction, running.question, at)));
    if (joins && running.phase !== "over") return ok(running);
    // Whoever asked at the same moment was first: hers is the newest question too.
    if (desk.running !== null && desk.running !== running) return ok(desk.running);
    const search = begin(request, question.value, at);
    await desk.put(search);
    return ok(search);
  }

  function begin(request: FastifyRequest, question: Question, askedAt: Date): PlanSearch {
    const actor = actorOf(request, askedAt);
    const keep = (made: MadePlan) => keepFor(request, actor, made);
    const proofFailed = (cause: unknown) => request.log.warn({ err: cause }, "a plan could not be proven");
    const askedBy = request.person?.name ?? "";
    return new PlanSearch({ planner, question, askedAt, askedBy, keep, proofFailed });
  }

  async function keepFor(request: FastifyRequest, { personId }: Actor, made: MadePlan): Promise<KeptAt> {
    const at = clock.now();
    const kept = await keepOnce(
      request,
      at,
      (transaction) => proposePlan(transaction, { personId, at }, made),
      made.whileAsking ? FOUND_WHILE_ASKING : "",
    );
    if (!kept.ok) throw new Error("A proposed plan is never refused");
    return kept.value;
  }

  async function accept(request: FastifyRequest, search: PlanSearch, shown: ShownPlan) {
    const at = clock.now();
    return await keepOnce(request, at, (transaction) =>
      takePlan(transaction, actorOf(request, at), search, shown),
    );
  }

  async function keepOnce<Refusal>(
    request: FastifyRequest,
    at: Date,
    keep: (transaction: Transaction) => Promise<Result<{ readonly planId: number }, Refusal>>,
    remark = "",
  ): Promise<Result<KeptAt, Refusal>> {
    let kept: number | null = null;
    const address = await actOnce(db, request, at, keep, ({ planId }) => {
      kept = planId;
      return `/plans/${planId}${remark}`;
    });
    return address.ok ? ok({ address: address.value, planId: kept }) : address;
  }

  /** What becomes of the search; where its plan is kept, this form is led there if it is ever sent again. */
  async function leadWhenKept(request: FastifyRequest, search: PlanSearch): Promise<SearchEnd> {
    const end = await search.ended;
    if (end.kind !== "kept") return end;
    await actOnce(
      db,
      request,
      clock.now(),
      async () => ok(end.address),
      (address) => address,
    );
    return end;
  }

  function showEnd(request: FastifyRequest, reply: FastifyReply, end: SearchEnd) {
    switch (end.kind) {
      case "kept":
        return leadTo(request, reply, end.address);
      case "failed":
        return showNoPlan(request, reply, end.refusal);
      case "not-kept":
        throw end.cause;
      case "given-up":
        if (desk.isClosed) return showNoPlan(request, reply, { kind: "planning-stopped" });
        return leadTo(request, reply, desk.running === null ? "/plan" : SEARCH_ADDRESS);
    }
  }

  async function showSearch(request: FastifyRequest, reply: FastifyReply, search: PlanSearch) {
    const names = await namesFor(search);
    if (search.best === null) await search.news(AbortSignal.timeout(TELL_EVERY_MS));
    return render(
      request,
      reply,
      SearchPage,
      { search: searchFigures(search, names), now: clock.now() },
      PLACE,
    );
  }

  function namesFor({ question }: PlanSearch) {
    return findPlanNames(
      db,
      question.planCase.orders.map(({ id }) => id),
    );
  }

  /**
   * Server-sent events: the page's news whenever there are any, of the search that takes another's place too, and `over`
   * when there is nothing more to wait for. A server that stops says nothing: the page then asks again.
   */
  async function* news(request: FastifyRequest, reply: FastifyReply): AsyncGenerator<string> {
    for (let search = desk.running; search !== null; search = desk.running) {
      const names = await namesFor(search);
      for (let told = ""; search.phase !== "over"; ) {
        const figures = searchFigures(search, names);
        const answer = `plan ${figures.best?.number}, bound ${figures.best?.bound}`;
        const draws = { search: figures, isNew: answer !== told };
        told = answer;
        yield event(drawFragment(request, reply, SearchNews, draws, PLACE));
        await pause(TELL_AT_MOST_EVERY_MS);
        await search.news(AbortSignal.timeout(TELL_EVERY_MS - TELL_AT_MOST_EVERY_MS));
      }
      await search.ended;
    }
    if (!desk.isClosed) yield "event: over\ndata: over\n\n";
  }

  async function showRefused(
    request: FastifyRequest,
    reply: FastifyReply,
    search: PlanSearch,
    refusal: Obstacle,
  ) {
    const names = await namesFor(search);
    const obstacles = objectionWords(refusal, names).map((words) => ({ words }));
    const headline = "Plan again: the plan you saw no longer fits.";
    return render(request, reply, NoPlanPage, { headline, obstacles }, { ...PLACE, status: 409 });
  }

  /** Another server's search, one of before a restart, or a plan too long ago. */
  function showGone(request: FastifyRequest, reply: FastifyReply) {
    const headline = "Plan again: the plan you saw is not at hand any more.";
    const words =
      "It was found by a search that is over or was asked of another server. Nothing was changed.";
    const obstacles = [{ words, href: "/plans", link: "To the plans that are kept" }];
    return render(request, reply, NoPlanPage, { headline, obstacles }, { ...PLACE, status: 409 });
  }

  function showNoPlan(request: FastifyRequest, reply: FastifyReply, refusal: NoCase | PlannerRefusal) {
    if (refusal.kind === "planner-failed") request.log.error({ err: refusal.cause }, "the planner failed");
    const { headline, ...obstacle } = obstacleToPlanning(refusal);
    const ours = refusal.kind.startsWith("planne") || refusal.kind === "planning-stopped";
    const head = { title: "No plan", place: "Plan", status: ours ? 503 : 422 } as const;
    return render(request, reply, NoPlanPage, { headline, obstacles: [obstacle] }, head);
  }
}

function isHtmx(request: FastifyRequest): boolean {
  return request.headers["hx-request"] === "true";
}

/** A plan or search is a page with an address of its own: htmx goes there instead of swapping it in. */
function leadTo(request: FastifyRequest, reply: FastifyReply, address: string): FastifyReply {
  return isHtmx(request) ? reply.header("HX-Redirect", address).send("") : reply.redirect(address, 303);
}

/** One message of a stream of events, as the HTML standard has them: each line of its data marked. */
function event(data: string): string {
  return `${data
    .split(/\r\n|\r|\n/)
    .map((line) => `data: ${line}\n`)
    .join("")}\n`;
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}

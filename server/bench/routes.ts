import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Transaction } from "../../db/connect.ts";
import { BenchPage } from "../../views/bench/BenchPage.tsx";
import { LotStepPage, type StepName } from "../../views/bench/LotStepPage.tsx";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import type { FeatureParts } from "../app.ts";
import { ok, type Result } from "../basics/result.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { registerNews } from "../http/news.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { type Actor, actorOf, workshopOf } from "../http/visitor.ts";
import { findLot } from "../shelf/queries.ts";
import { timetable } from "../timetable/timetable.ts";
import { benchDay } from "./benchDay.ts";
import { readBenchFacts } from "./benchFacts.ts";
import { takeBowlStep, takeBowlStepBack } from "./bowlSteps.ts";
import { clockDay, inTimetableOrder } from "./clockDay.ts";
import { bowlStepForm, pressingForm, putBackForm, stepForm, turningForm } from "./forms.ts";
import { putRunBack } from "./putRunBack.ts";
import { listReadySince } from "./queries.ts";
import { recordPressing } from "./recordPressing.ts";
import { recordReady } from "./recordReady.ts";
import { recordUnmolding } from "./recordUnmolding.ts";
import { type BenchRefusal, benchRefusalWords } from "./refusals.ts";
import { startRun } from "./startRun.ts";
import { takeBackStep } from "./takeBackStep.ts";
import { takeTurningBack, turnLot } from "./turnLot.ts";

type Command = (transaction: Transaction, actor: Actor) => Promise<Result<unknown, BenchRefusal>>;
const everyone = { config: { access: "everyone" } } as const;

/** The three records of a lot's way: what the form says becomes the command that writes it. */
const steps: readonly {
  readonly name: StepName;
  /** The state a lot is in before this step. */
  readonly state: string;
  readonly read: (lotId: number, body: unknown) => Result<Command, FormAnswer>;
}[] = [
  {
    name: "pressing",
    state: "mixing",
    read(lotId, body) {
      const form = readForm(pressingForm, body);
      if (!form.ok) return form;
      return ok((transaction, actor) => recordPressing(transaction, actor, { lotId, ...form.value }));
    },
  },
  { name: "unmolding", state: "drying", read: readStep(recordUnmolding) },
  { name: "readiness", state: "resting", read: readStep(recordReady) },
];

export async function benchRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  registerNews(app, db, "bench");
  app.get("/bench", everyone, (request, reply) => showBench(request, reply));

  app.post("/bench/runs/:id/start", everyone, (request, reply) => {
    const runId = idInPath(request, "run");
    return actAtBench(request, reply, (transaction, actor) => startRun(transaction, actor, { runId }));
  });

  app.post("/bench/runs/:id/put-back", everyone, (request, reply) => {
    const runId = idInPath(request, "run");
    return actAtBench(request, reply, (transaction, actor) => putRunBack(transaction, actor, { runId }));
  });

  app.post("/bench/lots/:id/put-back", everyone, (request, reply) => {
    const lotId = idInPath(request, "lot");
    const form = readForm(putBackForm, request.body);
    if (!form.ok) return showBench(request, reply, form.refusal.mistakes.state, 422);
    return actAtBench(request, reply, (transaction, actor) =>
      takeBackStep(transaction, actor, { lotId, state: form.value.state }),
    );
  });

  app.post("/bench/runs/:id/bowls", everyone, (request, reply) => stepBowl(request, reply, takeBowlStep));
  app.post("/bench/runs/:id/bowls/put-back", everyone, (request, reply) =>
    stepBowl(request, reply, takeBowlStepBack),
  );
  app.post("/bench/lots/:id/turning", everyone, (request, reply) => turn(request, reply, turnLot));
  app.post("/bench/lots/:id/turning/put-back", everyone, (request, reply) =>
    turn(request, reply, takeTurningBack),
  );

  for (const step of steps) {
    const address = `/bench/lots/:id/${step.name}`;

    app.get(address, everyone, async (request, reply) => {
      const lot = await lotOf(idInPath(request, "lot"));
      if (lot.state !== step.state) return reply.redirect(`/shelf/${lot.id}`, 303);
      return showStep(request, reply, step.name, freshStep(lot.plannedUnits), 200);
    });

    app.post(address, everyone, async (request, reply) => {
      const command = step.read(idInPath(request, "lot"), request.body);
      if (!command.ok) return showStep(request, reply, step.name, command.refusal, 422);
      return actAtBench(request, reply, command.value, step.name);
    });
  }

  function stepBowl(request: FastifyRequest, reply: FastifyReply, command: typeof takeBowlStep) {
    const runId = idInPath(request, "run");
    const form = readForm(bowlStepForm, request.body);
    if (!form.ok) return showBench(request, reply, mistakeOf(form.refusal), 422);
    return actAtBench(request, reply, (transaction, actor) =>
      command(transaction, actor, { runId, ...form.value }),
    );
  }

  function turn(request: FastifyRequest, reply: FastifyReply, command: typeof turnLot) {
    const lotId = idInPath(request, "lot");
    const form = readForm(turningForm, request.body);
    if (!form.ok) return showBench(request, reply, mistakeOf(form.refusal), 422);
    return actAtBench(request, reply, (transaction, actor) =>
      command(transaction, actor, { lotId, ...form.value }),
    );
  }

  async function actAtBench(
    request: FastifyRequest,
    reply: FastifyReply,
    command: Command,
    step?: StepName,
  ): Promise<FastifyReply> {
    const at = clock.now();
    const acted = await actOnce(
      db,
      request,
      at,
      (transaction) => command(transaction, actorOf(request, at)),
      () => "/bench",
    );
    return acted.ok ? reply.redirect(acted.value, 303) : showRefusal(request, reply, acted.refusal, step);
  }

  /** What can be put right on the form is shown there; everything else means that the work has moved on. */
  async function showRefusal(
    request: FastifyRequest,
    reply: FastifyReply,
    refusal: BenchRefusal,
    step: StepName | undefined,
  ) {
    const sentence = benchRefusalWords(refusal, workshopOf(request).timeZone);
    if (refusal.kind === "no-such-run") throw notFound("run");
    if (refusal.kind === "no-such-lot") throw notFound("lot");
    const field =
      refusal.kind === "not-due-yet" ? "feltDry" : refusal.kind === "more-lost-than-there" ? "" : null;
    if (step === undefined || field === null) return showBench(request, reply, sentence, 409);
    const answer = withMistake({ typed: asTyped(request.body), mistakes: {} }, field, sentence);
    return showStep(request, reply, step, answer, step === "pressing" ? 422 : 409);
  }

  async function showBench(request: FastifyRequest, reply: FastifyReply, notice?: string, status = 200) {
    const { timeZone } = workshopOf(request);
    const now = clock.now();
    const [facts, ready] = await Promise.all([readBenchFacts(db), listReadySince(db, now, timeZone)]);
    const byTheClock = clockDay(facts.sessions, timetable(facts.timetable, now), now);
    const props = {
      ...{ ready, now, timeZone, notice, clock: byTheClock, mixers: facts.timetable.workshop.mixers },
      day: benchDay(inTimetableOrder(facts.runs, byTheClock), facts.lots, now),
    };
    return render(request, reply, BenchPage, props, {
      title: "Bench",
      place: "Bench",
      news: "bench",
      status,
    });
  }

  async function showStep(
    request: FastifyRequest,
    reply: FastifyReply,
    step: StepName,
    answer: FormAnswer,
    status: number,
  ) {
    const lot = await lotOf(idInPath(request, "lot"));
    const props = { lot, step, answer, now: clock.now(), timeZone: workshopOf(request).timeZone };
    return render(request, reply, LotStepPage, props, {
      title: `Lot ${lot.code}`,
      place: "Bench",
      status,
    });
  }

  async function lotOf(lotId: number) {
    const lot = await findLot(db, lotId);
    if (!lot) throw notFound("lot");
    return lot;
  }
}

function readStep(record: typeof recordUnmolding | typeof recordReady) {
  return (lotId: number, body: unknown): Result<Command, FormAnswer> => {
    const form = readForm(stepForm, body);
    if (!form.ok) return form;
    return ok((transaction, actor) => record(transaction, actor, { lotId, ...form.value }));
  };
}

/** The first of what is wrong with a tap, whose fields nobody typed. */
function mistakeOf({ mistakes }: FormAnswer): string {
  return Object.values(mistakes)[0] ?? "That was no tap of this page.";
}

/** As planned and nothing lost, so that the usual day takes one tap. */
function freshStep(plannedUnits: number | null): FormAnswer {
  return freshForm({
    pressed: plannedUnits === null ? "" : String(plannedUnits),
    cracked: "0",
    stuck: "0",
    swollen: "0",
    sample: "0",
  });
}

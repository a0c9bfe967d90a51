import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { z } from "zod";
import { type FormAnswer, freshForm } from "../../views/components/formAnswer.ts";
import { dateOf, dayWords, minuteOfDayWords } from "../../views/format/dates.ts";
import { type ExceptionKind, ExceptionPage } from "../../views/setup/ExceptionPage.tsx";
import { overlapWords } from "../../views/setup/overlapWords.ts";
import { NewSessionsPage, SessionPage } from "../../views/setup/SessionPage.tsx";
import { SessionsPage } from "../../views/setup/SessionsPage.tsx";
import type { FeatureParts } from "../app.ts";
import { notFound } from "../http/errors.ts";
import { idInPath } from "../http/idInPath.ts";
import { render } from "../http/render.ts";
import { type Mistake, takeForm } from "../http/takeForm.ts";
import { workshopOf } from "../http/visitor.ts";
import { addException, addSpell, type ExceptionRefusal } from "./addException.ts";
import { addWeekSessions } from "./addWeekSession.ts";
import type { FullDay, Overlap } from "./calendarClashes.ts";
import { changeWeekSession } from "./changeWeekSession.ts";
import { dampForm, dayOffForm, extraSessionForm, newWeekSessionsForm, weekSessionForm } from "./forms.ts";
import { findWeekSession, readCalendar } from "./queries.ts";
import { removeException } from "./removeException.ts";
import { removeWeekSession } from "./removeWeekSession.ts";
import { typedSession, usualSession } from "./typed.ts";

const LIST = "/setup/sessions";

/** The ordinary week, and the dates that differ from it. */
export async function sessionRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(weekRoutes, parts);
  await app.register(exceptionRoutes, parts);

  app.get(LIST, (request, reply) => showCalendar(parts, request, reply, freshForm(), 200));
}

async function weekRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  app.get(`${LIST}/new`, (request, reply) =>
    showNewSessions(request, reply, freshForm(typedSession(usualSession)), 200),
  );

  app.post(LIST, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: newWeekSessionsForm,
      command: addWeekSessions,
      whereTo: () => LIST,
      mistakeFor: besideStart,
      showAgain: (answer, status) => showNewSessions(request, reply, answer, status),
    }),
  );

  app.get(`${LIST}/:id`, (request, reply) => showSession(parts, request, reply, null, 200));

  app.post(`${LIST}/:id`, (request, reply) => {
    const weekSessionId = idInPath(request, "session");
    return takeForm(parts, request, reply, {
      schema: weekSessionForm,
      command: (transaction, actor, times) =>
        changeWeekSession(transaction, actor, { ...times, weekSessionId }),
      whereTo: () => LIST,
      mistakeFor: (refusal) => (refusal === "not-found" ? missing() : besideStart(refusal)),
      showAgain: (answer, status) => showSession(parts, request, reply, answer, status),
    });
  });

  app.post(`${LIST}/:id/removal`, (request, reply) => {
    const weekSessionId = idInPath(request, "session");
    return takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => removeWeekSession(transaction, actor, { weekSessionId }),
      whereTo: () => LIST,
      mistakeFor: missing,
      showAgain: (answer, status) => showCalendar(parts, request, reply, answer, status),
    });
  });
}

async function exceptionRoutes(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  for (const kind of ["day-off", "extra", "damp"] as const) {
    app.get(`${LIST}/${kind}`, (request, reply) =>
      showException(request, reply, kind, freshForm(usualException(kind)), 200),
    );
  }

  app.post(`${LIST}/day-off`, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: dayOffForm,
      command: (transaction, actor, spell) => addSpell(transaction, actor, { kind: "day-off", ...spell }),
      ...aroundException(request, reply, "day-off"),
    }),
  );

  app.post(`${LIST}/damp`, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: dampForm,
      command: (transaction, actor, spell) => addSpell(transaction, actor, { kind: "damp", ...spell }),
      ...aroundException(request, reply, "damp"),
    }),
  );

  app.post(`${LIST}/extra`, (request, reply) =>
    takeForm(parts, request, reply, {
      schema: extraSessionForm,
      command: (transaction, actor, extra) => addException(transaction, actor, { kind: "extra", ...extra }),
      ...aroundException(request, reply, "extra"),
    }),
  );

  app.post(`${LIST}/exceptions/:id/removal`, (request, reply) => {
    const exceptionId = idInPath(request, "exception");
    return takeForm(parts, request, reply, {
      schema: z.object({}),
      command: (transaction, actor) => removeException(transaction, actor, { exceptionId }),
      whereTo: () => LIST,
      mistakeFor: (refusal) => (refusal === "not-found" ? missing() : staysOff(refusal)),
      showAgain: (answer, status) => showCalendar(parts, request, reply, answer, status),
    });
  });
}

function aroundException(request: FastifyRequest, reply: FastifyReply, kind: ExceptionKind) {
  return {
    whereTo: () => LIST,
    mistakeFor: (refusal: ExceptionRefusal) => exceptionMistake(refusal, kind),
    showAgain: (answer: FormAnswer, status: number) => showException(request, reply, kind, answer, status),
  };
}

function usualException(kind: ExceptionKind): FormAnswer["typed"] {
  if (kind === "extra") return typedSession(usualSession);
  return kind === "damp" ? { dryingFactor: "1.5" } : {};
}

function missing(): never {
  throw notFound("session");
}

function besideStart(overlap: Overlap | FullDay): Mistake {
  if (overlap.reason === "full") {
    return {
      field: "starts",
      sentence: `A day has at most ${overlap.most} such sessions: join some of them.`,
    };
  }
  return { field: "starts", sentence: `This overlaps ${overlapWords(overlap)}.` };
}

function staysOff({ startsMinute, endsMinute }: Overlap): Mistake {
  const hours = `${minuteOfDayWords(startsMinute)} to ${minuteOfDayWords(endsMinute)}`;
  return {
    field: "",
    sentence: `The date stays a day off: its extra session would overlap the ordinary one from ${hours}. Take the extra session away first.`,
    status: 409,
  };
}

function exceptionMistake(refusal: ExceptionRefusal, kind: ExceptionKind): Mistake {
  switch (refusal.reason) {
    case "overlaps":
    case "full":
      return besideStart(refusal);
    case "past":
      return {
        field: "onDate",
        sentence: `Choose today, ${dayWords(refusal.today)}, or a later date: what has been worked stays as it was.`,
      };
    case "said-already":
      return {
        field: "onDate",
        sentence: `${dayWords(refusal.onDate)} is ${kind === "damp" ? "called damp" : "a day off"} already.`,
      };
  }
}

function showNewSessions(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  return render(
    request,
    reply,
    NewSessionsPage,
    { answer },
    { title: "New sessions", place: "Setup", status },
  );
}

/** The session as it is, or with what was typed. */
async function showSession(
  { db }: FeatureParts,
  request: FastifyRequest,
  reply: FastifyReply,
  answer: FormAnswer | null,
  status: number,
) {
  const session = await findWeekSession(db, idInPath(request, "session"));
  if (!session) throw notFound("session");
  const props = { session, answer: answer ?? freshForm(typedSession(session)) };
  return render(request, reply, SessionPage, props, { title: "Session", place: "Setup", status });
}

function showException(
  request: FastifyRequest,
  reply: FastifyReply,
  kind: ExceptionKind,
  answer: FormAnswer,
  status: number,
) {
  const props = { kind, answer };
  return render(request, reply, ExceptionPage, props, {
    title: "A date that differs",
    place: "Setup",
    status,
  });
}

async function showCalendar(
  { db, clock }: FeatureParts,
  request: FastifyRequest,
  reply: FastifyReply,
  answer: FormAnswer,
  status: number,
) {
  const today = dateOf(clock.now(), workshopOf(request).timeZone);
  const props = { ...(await readCalendar(db)), today, answer };
  return render(request, reply, SessionsPage, props, { title: "Sessions", place: "Setup", status });
}

import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { type FormAnswer, freshForm, withMistake } from "../../views/components/formAnswer.ts";
import { PeoplePage } from "../../views/people/PeoplePage.tsx";
import { SignInPage } from "../../views/people/SignInPage.tsx";
import { WelcomePage } from "../../views/people/WelcomePage.tsx";
import type { FeatureParts } from "../app.ts";
import { actOnce } from "../http/actOnce.ts";
import { notFound } from "../http/errors.ts";
import { asTyped, fieldOf } from "../http/formFields.ts";
import { idInPath } from "../http/idInPath.ts";
import { readForm } from "../http/readForm.ts";
import { render } from "../http/render.ts";
import { takeForm } from "../http/takeForm.ts";
import { addHelper } from "./addPerson.ts";
import { goodbyeForm, newPersonForm, signInForm } from "./forms.ts";
import { makeFirstAccount } from "./makeFirstAccount.ts";
import { passwordMatches } from "./passwords.ts";
import { placeOfOurs } from "./placeOfOurs.ts";
import { anybodyHere, findAccount, listPeople } from "./queries.ts";
import { sayGoodbye } from "./sayGoodbye.ts";

/** Ten tries in five minutes from one address: enough for fumbling fingers, too slow for guessing. */
const SLOW_SIGN_IN = { max: 10, timeWindow: "5 minutes" };
/** For one account from wherever they come: guessing from many addresses at once is slow as well. */
const SLOW_ACCOUNT = { max: 50, timeWindow: "15 minutes" };

export async function peopleRoutes(app: FastifyInstance, { db, clock }: FeatureParts): Promise<void> {
  const countTry = app.createRateLimit({
    ...SLOW_ACCOUNT,
    keyGenerator: (request) => String(fieldOf(request.body, "email")).trim().toLowerCase(),
  });

  app.get("/welcome", { config: { access: "public" } }, async (request, reply) => {
    if (await anybodyHere(db)) return reply.redirect("/sign-in", 303);
    return showWelcome(request, reply, freshForm(), 200);
  });

  app.post("/welcome", { config: { access: "public", rateLimit: SLOW_SIGN_IN } }, async (request, reply) => {
    const form = readForm(newPersonForm, request.body);
    if (!form.ok) return showWelcome(request, reply, form.refusal, 422);
    const at = clock.now();
    const newcomer = { personId: 0 };
    const made = await actOnce(
      db,
      request,
      at,
      async (transaction) => {
        const outcome = await makeFirstAccount(transaction, at, form.value);
        if (outcome.ok) newcomer.personId = outcome.value.personId;
        return outcome;
      },
      () => "/welcome/workshop",
    );
    if (!made.ok) return reply.redirect("/sign-in", 303);
    if (newcomer.personId > 0) await startSignIn(request, reply, newcomer.personId);
    return reply.redirect(made.value, 303);
  });

  app.get("/sign-in", { config: { access: "public" } }, async (request, reply) => {
    if (!(await anybodyHere(db))) return reply.redirect("/welcome", 303);
    const { next } = request.query as { next?: unknown };
    return showSignIn(request, reply, freshForm({ next: typeof next === "string" ? next : "" }), 200);
  });

  app.post("/sign-in", { config: { access: "public", rateLimit: SLOW_SIGN_IN } }, async (request, reply) => {
    const form = readForm(signInForm, request.body);
    if (!form.ok) return showSignIn(request, reply, form.refusal, 422);
    const refused = (sentence: string, status: number) =>
      showSignIn(request, reply, withMistake(freshForm(asTyped(request.body)), "", sentence), status);
    // Counted before the password is looked at, and for addresses nobody has too: it tells nothing about either.
    const tries = await countTry(request);
    if (!tries.isAllowed && tries.isExceeded)
      return refused("Too many tries with this address. Wait a quarter of an hour, then try again.", 429);
    const account = await findAccount(db, form.value.email);
    if (!(await passwordMatches(account?.passwordHash, form.value.password)) || !account)
      return refused("Address and password do not match.", 422);
    await startSignIn(request, reply, account.id);
    return reply.redirect(placeOfOurs(form.value.next), 303);
  });

  app.post("/sign-out", { config: { access: "public" } }, async (request, reply) => {
    await request.session.destroy();
    return reply.redirect("/sign-in", 303);
  });

  app.get("/setup/people", async (request, reply) => showPeople(request, reply, freshForm(), 200));

  app.post("/setup/people", (request, reply) =>
    takeForm({ db, clock }, request, reply, {
      schema: newPersonForm,
      command: addHelper,
      whereTo: () => "/setup/people",
      mistakeFor: () => ({ field: "email", sentence: "Somebody here has this address already." }),
      showAgain: (answer, status) => showPeople(request, reply, answer, status),
    }),
  );

  app.post("/setup/people/:id/goodbye", (request, reply) =>
    takeForm({ db, clock }, request, reply, {
      schema: goodbyeForm,
      command: (transaction, actor) => sayGoodbye(transaction, actor, idInPath(request, "person")),
      whereTo: () => "/setup/people",
      mistakeFor: (refusal) => {
        if (refusal === "not-found") throw notFound("person");
        return { field: "", sentence: "The owner cannot leave the workshop." };
      },
      showAgain: (answer, status) => showPeople(request, reply, answer, status),
    }),
  );

  async function showPeople(
    request: FastifyRequest,
    reply: FastifyReply,
    answer: FormAnswer,
    status: number,
  ) {
    const people = await listPeople(db);
    return render(
      request,
      reply,
      PeoplePage,
      { people, answer },
      { title: "People", place: "Setup", status },
    );
  }
}

/**
 * A new cookie at every sign-in, so that one planted before is worth nothing. The secret behind the form tokens is
 * made now: two first pages loaded at once would otherwise each make their own, and one page's forms would fail.
 */
async function startSignIn(request: FastifyRequest, reply: FastifyReply, personId: number): Promise<void> {
  await request.session.regenerate();
  request.session.set("personId", personId);
  reply.generateCsrf();
}

function showWelcome(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  return render(request, reply, WelcomePage, { answer }, { title: "Welcome", status });
}

function showSignIn(request: FastifyRequest, reply: FastifyReply, answer: FormAnswer, status: number) {
  return render(request, reply, SignInPage, { answer }, { title: "Sign in", status });
}

import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll } from "vitest";
import { buildApp } from "../../server/app.ts";
import type { Clock } from "../../server/basics/clock.ts";
import { createPlanner, type Planner } from "../../server/plans/plannerPool.ts";
import { type TestDatabase, useDatabase } from "../db/testDatabase.ts";
import { Visitor } from "./visitor.ts";

/** A clock that stands where a test puts it: Monday 1 March 2027, 08:00 in the test workshop's time zone (UTC). */
export class StandingClock implements Clock {
  #now = new Date("2027-03-01T08:00:00Z");

  now(): Date {
    return new Date(this.#now);
  }

  set(instant: string): void {
    this.#now = new Date(instant);
  }
}

export interface TestApplication {
  readonly app: FastifyInstance;
  readonly database: TestDatabase;
  readonly clock: StandingClock;
  /** A visitor nobody knows yet. */
  stranger(): Visitor;
}

/** The whole server on a database of its own, for all tests of a file. */
export function useApplication(
  // Long enough for the small workshops of the tests; its one thread starts only when a test plans.
  planner: Planner = createPlanner({ searchSeconds: 0.3, holdUpSeconds: 0.3, threads: 1 }),
): TestApplication {
  const database = useDatabase();
  const clock = new StandingClock();
  let app: FastifyInstance | undefined;
  beforeAll(async () => {
    app = await buildApp({
      db: database.db,
      clock,
      planner,
      log: false,
      sessionSecret: "a secret for tests only, long enough",
      secureCookies: false,
      trustProxy: false,
    });
    await app.ready();
  });
  afterAll(async () => {
    await app?.close();
    await planner.close();
  });
  const need = () => {
    if (!app) throw new Error("The application exists only from beforeAll on.");
    return app;
  };
  return {
    get app() {
      return need();
    },
    database,
    clock,
    stranger: () => new Visitor(need()),
  };
}

export const ownerAccount = {
  name: "Wren Oddfellow",
  email: "wren@halfmold.example",
  password: "sea fennel and salt",
};

/** Makes the owner's account on an empty server and returns her browser, signed in. */
export async function firstOwner(application: TestApplication): Promise<Visitor> {
  const owner = application.stranger();
  await owner.post("/welcome", ownerAccount, { from: "/welcome" });
  return owner;
}

/** Lets a helper, Fig Underhill, into a workshop that is set up and returns her browser, signed in. */
export async function newHelper(application: TestApplication, owner: Visitor): Promise<Visitor> {
  const account = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
  await owner.post("/setup/people", account, { from: "/setup/people" });
  return await signedIn(application, account);
}

/** A browser that signs in with an account. */
export async function signedIn(
  application: TestApplication,
  account: { readonly email: string; readonly password: string },
): Promise<Visitor> {
  const visitor = application.stranger();
  await visitor.post("/sign-in", { email: account.email, password: account.password, next: "" });
  return visitor;
}

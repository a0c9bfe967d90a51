import { and, asc, eq, isNull } from "drizzle-orm";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Database } from "../../db/connect.ts";
import { people } from "../../db/schema/people.ts";
import { workshop } from "../../db/schema/workshop.ts";

/**
 * Who a route is for. A route that says nothing is for the owner. "asset" is for anybody and the same for all, so
 * nobody asks who it is.
 */
type Access = "asset" | "public" | "everyone" | "owner";

/** The person behind a request, as the pages and commands need them. */
interface SignedInPerson {
  readonly id: number;
  readonly name: string;
  readonly role: "owner" | "helper";
}

/** What every page needs to know of the workshop. */
interface WorkshopFacts {
  readonly name: string;
  readonly timeZone: string;
}

/** Who does something and when: what every command is given beside its input. */
export interface Actor {
  readonly personId: number;
  readonly at: Date;
}

declare module "fastify" {
  interface Session {
    personId?: number;
  }
  interface FastifyContextConfig {
    access?: Access;
    /** "bare": the page of somebody who is no part of the house, without its places. */
    frame?: "bare";
  }
  interface FastifyRequest {
    person: SignedInPerson | null;
    workshop: WorkshopFacts | null;
  }
}

/**
 * Finds out who is asking before any route runs, and turns away whoever may not pass: strangers to the
 * sign-in page (or to the first account when there is none yet), helpers from the owner's pages.
 */
export function registerVisitors(app: FastifyInstance, db: Database): void {
  app.decorateRequest("person", null);
  app.decorateRequest("workshop", null);
  // Before the body is read: a stranger cannot make the server take in a file.
  app.addHook("onRequest", async (request, reply) => {
    // A page that does not exist is missing for everybody who is signed in.
    const access = request.is404 ? "everyone" : (request.routeOptions.config.access ?? "owner");
    if (access === "asset") return;
    request.person = await findPerson(db, request.session.get("personId"));
    request.workshop = await findWorkshop(db);
    if (access === "public") return;
    if (!request.person) return turnAwayStranger(db, request, reply);
    if (access === "owner" && request.person.role !== "owner") return reply.code(403).send(notAllowed());
    if (!request.workshop && !request.url.startsWith("/welcome"))
      return reply.redirect("/welcome/workshop", 303);
  });
}

/** The person a command acts for. Routes that are not public always have one. */
export function actorOf(request: FastifyRequest, at: Date): Actor {
  if (!request.person) throw new Error("A command needs somebody who is signed in");
  return { personId: request.person.id, at };
}

/** The workshop a page is about. Routes that are not public, outside the welcome pages, always have one. */
export function workshopOf(request: FastifyRequest): WorkshopFacts {
  if (!request.workshop) throw new Error("This page needs a workshop that is set up");
  return request.workshop;
}

/** An error the error handler shows as "not for you" with status 403. */
function notAllowed(): Error {
  return Object.assign(new Error("This page is for the owner of the workshop."), { statusCode: 403 });
}

async function turnAwayStranger(
  db: Database,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<FastifyReply> {
  const [anybody] = await db.select({ id: people.id }).from(people).orderBy(asc(people.id)).limit(1);
  if (!anybody) return reply.redirect("/welcome", 303);
  const wanted =
    request.method === "GET" && request.url !== "/" ? `?next=${encodeURIComponent(request.url)}` : "";
  return reply.redirect(`/sign-in${wanted}`, 303);
}

async function findPerson(db: Database, personId: number | undefined): Promise<SignedInPerson | null> {
  if (personId === undefined) return null;
  const [person] = await db
    .select({ id: people.id, name: people.name, role: people.role })
    .from(people)
    .where(and(eq(people.id, personId), isNull(people.leftAt)));
  return person ?? null;
}

async function findWorkshop(db: Database): Promise<WorkshopFacts | null> {
  const [facts] = await db.select({ name: workshop.name, timeZone: workshop.timeZone }).from(workshop);
  return facts ?? null;
}

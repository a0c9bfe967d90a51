import fastifyCookie from "@fastify/cookie";
import fastifyCsrf from "@fastify/csrf-protection";
import fastifyFormbody from "@fastify/formbody";
import fastifyHelmet from "@fastify/helmet";
import fastifyRateLimit from "@fastify/rate-limit";
import fastifySession from "@fastify/session";
import { sql } from "drizzle-orm";
import { type FastifyInstance, type FastifyServerOptions, fastify } from "fastify";
import type { Database } from "../db/connect.ts";
import type { Clock } from "./basics/clock.ts";
import { batchRoutes } from "./batches/routes.ts";
import { benchRoutes } from "./bench/routes.ts";
import { stillDampRoutes } from "./bench/stillDamp.routes.ts";
import { calendarRoutes } from "./calendar/routes.ts";
import { costRoutes } from "./costs/routes.ts";
import { customerRoutes } from "./customers/routes.ts";
import { deliveryRoutes } from "./delivery/routes.ts";
import { holdRoutes } from "./holds/routes.ts";
import { registerAssets } from "./http/assets.ts";
import { registerErrors } from "./http/errors.ts";
import { fieldOf } from "./http/formFields.ts";
import { rateCountStore } from "./http/rateCountStore.ts";
import { Seals } from "./http/seals.ts";
import { SignInStore } from "./http/signInStore.ts";
import { registerVisitors } from "./http/visitor.ts";
import { labelRoutes } from "./labels/routes.ts";
import { airRoutes } from "./learning/air.routes.ts";
import { learningRoutes } from "./learning/routes.ts";
import { marketRoutes } from "./markets/routes.ts";
import { orderRoutes } from "./orders/routes.ts";
import { boxSizeRoutes } from "./packing/boxSizes.routes.ts";
import { packingRoutes } from "./packing/routes.ts";
import { paperRoutes } from "./papers/routes.ts";
import { peopleRoutes } from "./people/routes.ts";
import type { Planner } from "./plans/plannerPool.ts";
import { planRoutes } from "./plans/routes.ts";
import { priceRoutes } from "./prices/routes.ts";
import { productRoutes } from "./products/routes.ts";
import { recallRoutes } from "./recalls/routes.ts";
import { recipeRoutes } from "./recipes/routes.ts";
import { rollUpRoutes } from "./rollup/routes.ts";
import { roundRoutes } from "./round/routes.ts";
import { sampleRoutes } from "./sample/routes.ts";
import { shelfPlaceRoutes } from "./shelf/places.routes.ts";
import { shelfRoutes } from "./shelf/routes.ts";
import { standingOrderRoutes } from "./standing/routes.ts";
import { stockistLinkRoutes } from "./stockist/link.routes.ts";
import { stockistRoutes } from "./stockist/routes.ts";
import { supplyRoutes } from "./supplies/routes.ts";
import { traceRoutes } from "./trace/routes.ts";
import { weekRoutes } from "./week/routes.ts";
import { workshopRoutes } from "./workshop/routes.ts";

/** What the application is given; it opens nothing and listens to nothing itself. */
interface AppParts {
  readonly db: Database;
  readonly clock: Clock;
  /** Plans in threads of its own; closed by whoever opened it. */
  readonly planner: Planner;
  /** Fastify's logger options; false for silence. */
  readonly log: NonNullable<FastifyServerOptions["logger"]>;
  /** At least 32 characters; signs the sign-in cookie. */
  readonly sessionSecret: string;
  /** True behind TLS: the cookie is then sent over TLS only. */
  readonly secureCookies: boolean;
  /** Whether the address of the visitor is taken from a proxy in front. */
  readonly trustProxy: boolean;
}

/** What a feature's routes are given. */
export interface FeatureParts extends Pick<AppParts, "db" | "clock" | "planner"> {
  readonly seals: Seals;
}

/** A sign-in ends by itself after two weeks. */
const SIGN_IN_LIFETIME_MS = 14 * 24 * 60 * 60 * 1000;

/** Node reads no more of a request's head than this. */
const MOST_ADDRESS_LENGTH = 16 * 1024;

/** The whole server without its socket: what the tests inject requests into and `main.ts` listens with. */
export async function buildApp(parts: AppParts): Promise<FastifyInstance> {
  const app = fastify({
    logger: parts.log,
    // The proxy in front and no further: what stands before the address it tells is the visitor's own claim.
    trustProxy: (_address, hop) => parts.trustProxy && hop < 1,
    // An address that cannot be read is a page that does not exist, with all that every answer carries.
    rewriteUrl: ({ url = "/" }) => (isReadable(url) ? url : "/unreadable"),
    // The largest form is an order with some hundred lines; files have a limit of their own.
    bodyLimit: 1024 * 1024,
    // Time enough for a file over a bad line; who sends more slowly only holds a connection open.
    requestTimeout: 120_000,
    // As long as an address can be at all: what is no number of a row is then answered by its route, as a missing page.
    routerOptions: { ignoreTrailingSlash: true, maxParamLength: MOST_ADDRESS_LENGTH },
  });
  // Forms only: other sites can make a browser send text without asking us first.
  app.removeContentTypeParser(["application/json", "text/plain"]);
  await registerAssets(app);
  const seals = new Seals(parts.sessionSecret);
  await registerSafety(app, { ...parts, seals });
  registerErrors(app);
  // For whoever watches the server: says only whether it can work, and asks nobody who it is.
  app.get("/health", { config: { access: "asset" } }, async (request, reply) => {
    try {
      await parts.db.execute(sql`select 1`);
      return { status: "ok" };
    } catch (error) {
      request.log.error({ err: error }, "the database does not answer");
      return reply.code(503).send({ status: "no database" });
    }
  });
  app.get("/", { config: { access: "everyone" } }, (_request, reply) => reply.redirect("/week", 303));
  await registerFeatures(app, { ...parts, seals });
  return app;
}

/** Every feature by name, in the order of the navigation. */
async function registerFeatures(app: FastifyInstance, parts: FeatureParts): Promise<void> {
  await app.register(weekRoutes, parts);
  await app.register(orderRoutes, parts);
  await app.register(marketRoutes, parts);
  await app.register(standingOrderRoutes, parts);
  await app.register(rollUpRoutes, parts);
  await app.register(planRoutes, parts);
  await app.register(benchRoutes, parts);
  await app.register(stillDampRoutes, parts);
  await app.register(airRoutes, parts);
  await app.register(batchRoutes, parts);
  await app.register(recipeRoutes, parts);
  await app.register(shelfRoutes, parts);
  await app.register(holdRoutes, parts);
  await app.register(shelfPlaceRoutes, parts);
  await app.register(packingRoutes, parts);
  await app.register(boxSizeRoutes, parts);
  await app.register(labelRoutes, parts);
  await app.register(deliveryRoutes, parts);
  await app.register(roundRoutes, parts);
  await app.register(paperRoutes, parts);
  await app.register(workshopRoutes, parts);
  await app.register(calendarRoutes, parts);
  await app.register(productRoutes, parts);
  await app.register(learningRoutes, parts);
  await app.register(supplyRoutes, parts);
  await app.register(traceRoutes, parts);
  await app.register(recallRoutes, parts);
  await app.register(priceRoutes, parts);
  await app.register(costRoutes, parts);
  await app.register(customerRoutes, parts);
  await app.register(stockistLinkRoutes, parts);
  await app.register(stockistRoutes, parts);
  await app.register(peopleRoutes, parts);
  await app.register(sampleRoutes, parts);
}

/** Strict headers, forms, sign-ins and their tokens: before every feature, so that none can forget them. */
async function registerSafety(
  app: FastifyInstance,
  parts: AppParts & { readonly seals: Seals },
): Promise<void> {
  await app.register(fastifyHelmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        fontSrc: ["'self'"],
        imgSrc: ["'self'", "data:"],
        connectSrc: ["'self'"],
        formAction: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    strictTransportSecurity: parts.secureCookies,
  });
  await app.register(fastifyRateLimit, { global: false, store: rateCountStore(parts.db, parts.seals) });
  await app.register(fastifyFormbody);
  await app.register(fastifyCookie);
  await app.register(fastifySession, {
    secret: parts.sessionSecret,
    cookieName: "halfmold",
    cookie: {
      httpOnly: true,
      sameSite: "lax",
      secure: parts.secureCookies,
      path: "/",
      maxAge: SIGN_IN_LIFETIME_MS,
    },
    rolling: false,
    saveUninitialized: false,
    store: new SignInStore(parts.db, parts.clock, SIGN_IN_LIFETIME_MS),
  });
  await app.register(fastifyCsrf, {
    sessionPlugin: "@fastify/session",
    getToken: (request) => {
      const token = fieldOf(request.body, "_csrf");
      return typeof token === "string" ? token : undefined;
    },
  });
  registerVisitors(app, parts.db);
  app.addHook("preHandler", (request, reply, done) => {
    if (request.method === "GET" || request.method === "HEAD" || request.is404) done();
    else app.csrfProtection(request, reply, done);
  });
}

/** Whether the path of an address is UTF-8, percent-encoded. */
function isReadable(url: string): boolean {
  try {
    decodeURI(url.split("?", 1)[0] ?? "");
    return true;
  } catch (error) {
    if (error instanceof URIError) return false;
    throw error;
  }
}

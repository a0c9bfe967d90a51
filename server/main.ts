import path from "node:path";
import type { FastifyInstance } from "fastify";
import { connect } from "../db/connect.ts";
import { newSecret, readOrMake } from "../db/embedded/ownerFile.ts";
import { startEmbedded } from "../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../db/migrate.ts";
import { requirePostgres } from "../db/requirePostgres.ts";
import { buildApp } from "./app.ts";
import { systemClock } from "./basics/clock.ts";
import { PlainFailure } from "./basics/plainFailure.ts";
import type { BuiltInDatabase, ServerConfig } from "./config.ts";
import { createPlanner } from "./plans/plannerPool.ts";

/** A server that takes requests. */
export interface RunningServer {
  /** Where to point a browser, such as "http://127.0.0.1:8480". */
  readonly address: string;
  /** Finishes the requests at hand, then stops everything that was started, the built-in database last. */
  stop(): Promise<void>;
}

interface ServerHooks {
  /** Told in whole sentences what a person at the terminal should know. */
  say(line: string): void;
  /** Called, with the reason in words, when the server can't go on; `stop` it then. */
  lost(reason: string): void;
}

/** Requests that take longer than this after the order to stop are cut off. */
const GRACE_MS = 10_000;

/** Starts database and application and listens. Throws PlainFailure, with everything stopped again, if that can't be. */
export async function startServer(config: ServerConfig, hooks: ServerHooks): Promise<RunningServer> {
  const opened: (() => Promise<void>)[] = [];
  const stop = async () => {
    for (let close = opened.pop(); close !== undefined; close = opened.pop()) await close();
  };
  try {
    return { address: await start(config, hooks, (close) => opened.push(close)), stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** Hands to `onStop` how to close each thing it opens; they are closed in reverse. */
async function start(
  config: ServerConfig,
  hooks: ServerHooks,
  onStop: (close: () => Promise<void>) => void,
): Promise<string> {
  const database = await openDatabase(config, hooks, onStop);
  await requirePostgres(database.url);
  await migrateDatabase(database.url);
  const connection = connect(database.url, { connections: 10 });
  onStop(() => connection.close());

  const planner = createPlanner({ warm: true });
  onStop(() => planner.close());
  const app = await buildApp({
    db: connection.db,
    clock: systemClock,
    planner,
    log: config.logLevel === "silent" ? false : { level: config.logLevel },
    sessionSecret: database.sessionSecret,
    secureCookies: config.secureCookies,
    trustProxy: config.trustProxy,
  });
  onStop(() => closeApp(app));
  return listen(app, config);
}

interface OpenDatabase {
  readonly url: string;
  readonly sessionSecret: string;
}

async function openDatabase(
  config: ServerConfig,
  hooks: ServerHooks,
  onStop: (close: () => Promise<void>) => void,
): Promise<OpenDatabase> {
  if (config.database.kind === "built-in") {
    const embedded = await startEmbedded({ ...config.database, ...hooks });
    onStop(() => embedded.stop());
    return { url: embedded.url, sessionSecret: config.sessionSecret ?? (await keptSecret(config.database)) };
  }
  if (config.sessionSecret === undefined)
    throw new Error("readConfig lets no DATABASE_URL pass without a secret");
  return { url: config.database.url, sessionSecret: config.sessionSecret };
}

function keptSecret(database: BuiltInDatabase): Promise<string> {
  return readOrMake(path.join(database.folder, "session-secret"), newSecret);
}

async function listen(app: FastifyInstance, config: ServerConfig): Promise<string> {
  try {
    return await app.listen({ host: config.host, port: config.port });
  } catch (error) {
    const reason =
      error instanceof Error && "code" in error ? LISTEN_PROBLEMS[String(error.code)] : undefined;
    if (reason === undefined) throw error;
    throw new PlainFailure(`Halfmold can't listen on ${config.host}, port ${config.port}: ${reason}`);
  }
}

const LISTEN_PROBLEMS: Readonly<Record<string, string>> = {
  EADDRINUSE: "another program does already. Stop it, or choose another port with PORT.",
  EACCES: "that needs more rights. Choose a port above 1023 with PORT.",
  EADDRNOTAVAIL: "this machine has no such address. Set HOST to one it has, or leave it out.",
  ENOTFOUND: "there is no such host. Set HOST to an address of this machine, or leave it out.",
};

async function closeApp(app: FastifyInstance): Promise<void> {
  const cutOff = setTimeout(() => app.server.closeAllConnections(), GRACE_MS);
  await app.close();
  clearTimeout(cutOff);
}

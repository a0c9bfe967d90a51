import { randomBytes } from "node:crypto";
import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import postgres from "postgres";
import type { TestProject } from "vitest/node";
import { startEmbedded } from "../../db/embedded/startEmbedded.ts";
import { migrateDatabase } from "../../db/migrate.ts";
import { databaseNamed } from "./databaseNamed.ts";

declare module "vitest" {
  export interface ProvidedContext {
    /** Address of the Postgres that the test databases are made in. */
    postgresUrl: string;
    /** The migrated, otherwise empty database they are cloned from. */
    templateDatabase: string;
  }
}

interface TestServer {
  readonly url: string;
  readonly origin: string;
  stop(): Promise<void>;
}

/** Runs once for all test files: finds or starts a Postgres and migrates the template in it. */
export async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = givenServer() ?? (await containerServer()) ?? (await embeddedServer());
  const template = `halfmold_template_${randomBytes(4).toString("hex")}`;
  const admin = postgres(server.url, { max: 1, onnotice: () => {} });
  await admin`create database ${admin(template)}`;
  await migrateDatabase(databaseNamed(server.url, template));
  project.provide("postgresUrl", server.url);
  project.provide("templateDatabase", template);
  const [row] = await admin`show server_version`;
  console.info(`Tests run on Postgres ${row?.server_version}: ${server.origin}.`);
  return async () => {
    await admin`drop database ${admin(template)} with (force)`;
    await admin.end();
    await server.stop();
  };
}

function givenServer(): TestServer | undefined {
  const url = process.env.TEST_DATABASE_URL;
  return url === undefined
    ? undefined
    : { url, origin: "the one in TEST_DATABASE_URL", stop: async () => {} };
}

/** A container engine that does not answer within half a second, or can't run the image, is as good as none. */
async function containerServer(): Promise<TestServer | undefined> {
  try {
    const { getContainerRuntimeClient } = await import("testcontainers");
    const engine = await Promise.race([
      getContainerRuntimeClient(),
      new Promise<undefined>((resolve) => setTimeout(resolve, 500, undefined)),
    ]);
    if (engine === undefined) return undefined;
    const { PostgreSqlContainer } = await import("@testcontainers/postgresql");
    const container = await new PostgreSqlContainer("postgres:18-alpine")
      .withCommand([
        "postgres",
        ...Object.entries(FAST).flatMap(([name, value]) => ["-c", `${name}=${value}`]),
      ])
      .start();
    return {
      url: container.getConnectionUri(),
      origin: "in a container",
      stop: async () => {
        await container.stop();
      },
    };
  } catch {
    return undefined;
  }
}

/** What a test database writes need not outlive the machine. */
const FAST = {
  fsync: "off",
  synchronous_commit: "off",
  full_page_writes: "off",
  max_connections: "200",
  deadlock_timeout: "100ms",
};

async function embeddedServer(): Promise<TestServer> {
  const folder = await mkdtemp(path.join(tmpdir(), "halfmold-tests-"));
  await chmod(folder, 0o711);
  const database = await startEmbedded({
    folder,
    chosen: true,
    say: console.info,
    lost: console.error,
    settings: FAST,
  });
  return {
    url: database.url,
    origin: "the built-in one",
    stop: async () => {
      await database.stop();
      await rm(folder, { recursive: true });
    },
  };
}

import { createHash } from "node:crypto";
import type { FastifySessionObject } from "@fastify/session";
import { and, eq, gt, lt } from "drizzle-orm";
import type { Session } from "fastify";
import type { Database } from "../../db/connect.ts";
import { signIns } from "../../db/schema/people.ts";
import type { Clock } from "../basics/clock.ts";

type Done = (error?: unknown) => void;
type DoneWith = (error: unknown, session?: FastifySessionObject | null) => void;

/** A stranger's visit is kept only for the token of the form she looks at; visits of robots do not pile up for weeks. */
const VISIT_LIFETIME_MS = 24 * 60 * 60 * 1000;

/**
 * Keeps browser sign-ins in Postgres, so that any server of several knows them and each can be ended.
 * The database holds only the SHA-256 of the cookie's secret: reading the table signs nobody in.
 */
export class SignInStore {
  readonly #db: Database;
  readonly #clock: Clock;
  readonly #lifetimeMs: number;

  constructor(db: Database, clock: Clock, lifetimeMs: number) {
    this.#db = db;
    this.#clock = clock;
    this.#lifetimeMs = lifetimeMs;
  }

  set(id: string, session: Session, done: Done): void {
    this.#save(hashOf(id), session).then(() => done(), done);
  }

  get(id: string, done: DoneWith): void {
    this.#find(hashOf(id)).then((session) => done(null, session), done);
  }

  destroy(id: string, done: Done): void {
    this.#db
      .delete(signIns)
      .where(eq(signIns.idHash, hashOf(id)))
      .then(() => done(), done);
  }

  async #save(idHash: string, session: Session): Promise<void> {
    const now = this.#clock.now();
    const personId = session.personId ?? null;
    const expiresAt = new Date(now.getTime() + (personId === null ? VISIT_LIFETIME_MS : this.#lifetimeMs));
    const values = {
      personId,
      data: JSON.parse(JSON.stringify(session)),
      expiresAt,
    };
    await this.#db
      .insert(signIns)
      .values({ idHash, createdAt: now, ...values })
      .onConflictDoUpdate({ target: signIns.idHash, set: values });
    await this.#db.delete(signIns).where(lt(signIns.expiresAt, now));
  }

  async #find(idHash: string): Promise<FastifySessionObject | null> {
    const [row] = await this.#db
      .select({ data: signIns.data })
      .from(signIns)
      .where(and(eq(signIns.idHash, idHash), gt(signIns.expiresAt, this.#clock.now())));
    return row ? (row.data as FastifySessionObject) : null;
  }
}

function hashOf(id: string): string {
  return createHash("sha256").update(id).digest("hex");
}

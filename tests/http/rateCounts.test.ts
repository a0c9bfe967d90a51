import { beforeEach, describe, expect, it } from "vitest";
import { buildApp } from "../../server/app.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { useApplication } from "../build/application.ts";
import { Visitor } from "../build/visitor.ts";

const application = useApplication();
beforeEach(async () => {
  await application.database.sql`truncate rate_counts`;
});

/** Another server on the same database, with the same secret. */
async function anotherServer() {
  const { db } = application.database;
  const planner = createPlanner({ searchSeconds: 0.3, holdUpSeconds: 0.3, threads: 1 });
  const app = await buildApp({
    ...{ db, planner, clock: application.clock, log: false, secureCookies: false, trustProxy: false },
    sessionSecret: "a secret for tests only, long enough",
  });
  const close = async () => {
    await app.close();
    await planner.close();
  };
  return { visitor: new Visitor(app), close };
}

const ask = (visitor: Visitor, times: number, of = "/stockist/nobody") =>
  Promise.all(Array.from({ length: times }, async () => (await visitor.get(of)).statusCode));

describe("how often a stranger may ask", () => {
  it("is counted for two servers together: 120 times in five minutes, whoever answers", async () => {
    const other = await anotherServer();
    try {
      const here = await ask(application.stranger(), 70);
      const there = await ask(other.visitor, 70);
      expect([...here, ...there].filter((status) => status === 404)).toHaveLength(120);
      expect([...here, ...there].filter((status) => status === 429)).toHaveLength(20);
    } finally {
      await other.close();
    }
  });

  it("is counted for each kind of page by itself", async () => {
    expect(await ask(application.stranger(), 121)).toContain(429);
    expect(await ask(application.stranger(), 1, "/stockist/nobody/orders/none")).toEqual([404]);
  });

  it("begins anew when its time is over, and what is over does not pile up", async () => {
    const { sql } = application.database;
    expect(await ask(application.stranger(), 121)).toContain(429);
    await sql`insert into rate_counts values ('somebody long gone', 3, now() - interval '1 day')`;
    await sql`update rate_counts set ends_at = now() - interval '1 second'`;
    expect(await ask(application.stranger(), 1)).toEqual([404]);
    const rows = await sql`select asked, ends_at > now() as going_on from rate_counts`;
    expect([...rows]).toEqual([{ asked: 1, going_on: true }]);
  });

  it("is written down without saying who it was, or which page", async () => {
    await ask(application.stranger(), 1, "/stockist/a-secret-of-a-shop");
    const [row] = await application.database.sql`select key from rate_counts`;
    expect(row?.key).toMatch(/^[\w-]{43}$/);
  });
});

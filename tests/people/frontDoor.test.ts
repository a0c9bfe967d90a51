import type { FastifyInstance } from "fastify";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildApp } from "../../server/app.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { firstOwner, ownerAccount, useApplication } from "../build/application.ts";
import { Visitor } from "../build/visitor.ts";

const application = useApplication();
const planner = createPlanner();
let behindProxy: FastifyInstance;

beforeAll(async () => {
  await firstOwner(application);
  behindProxy = await buildApp({
    db: application.database.db,
    clock: application.clock,
    planner,
    log: false,
    sessionSecret: "a secret for tests only, long enough",
    secureCookies: true,
    trustProxy: true,
  });
});
afterAll(async () => {
  await behindProxy.close();
  await planner.close();
});

let addresses = 0;

/** Signs in from an address nobody else has. */
async function signIn(next: string, visitor = application.stranger()) {
  addresses += 1;
  return visitor.send({
    method: "POST",
    url: "/sign-in",
    remoteAddress: `192.0.2.${addresses}`,
    headers: { "content-type": "application/x-www-form-urlencoded" },
    payload: new URLSearchParams({
      ...{ _csrf: await visitor.csrfToken("/sign-in"), next },
      ...{ email: ownerAccount.email, password: ownerAccount.password },
    }).toString(),
  });
}

describe("signing in", () => {
  it.each([
    ["/orders?state=draft", "/orders?state=draft"],
    ["/\t/elsewhere.example", "/week"],
    ["/\n/elsewhere.example", "/week"],
    ["/.//elsewhere.example", "/week"],
    ["/orders/..//elsewhere.example", "/week"],
    ["/\\elsewhere.example", "/week"],
    ["javascript:alert(1)", "/week"],
    ["/orders\r\nset-cookie: halfmold=x", "/ordersset-cookie:%20halfmold=x"],
    ["/ünnamed→", "/%C3%BCnnamed%E2%86%92"],
    [`/orders?q=${"a".repeat(800)}`, `/orders?q=${"a".repeat(800)}`],
  ])("on the way to %j leads to %j", async (next, place) => {
    const answer = await signIn(next);
    expect([answer.statusCode, answer.headers.location]).toEqual([303, place]);
  });

  it("gives a new cookie, so that one planted before signs nobody in", async () => {
    const visitor = application.stranger();
    await visitor.csrfToken("/sign-in");
    const [before] = (await visitor.get("/sign-in")).cookies;
    const planted = visitor.cookie;
    const [given] = (await signIn("/week", visitor)).cookies;
    expect(before).toBeUndefined();
    expect(`halfmold=${given?.value}`).not.toBe(planted);
    const thief = await application.app.inject({ url: "/welcome/workshop", headers: { cookie: planted } });
    expect(thief.headers.location).toBe("/sign-in?next=%2Fwelcome%2Fworkshop");
  });

  it("keeps the cookie from scripts and from other sites, and for two weeks", async () => {
    expect((await signIn("/week")).cookies).toMatchObject([
      { name: "halfmold", httpOnly: true, sameSite: "Lax", path: "/" },
    ]);
  });

  it("sends the cookie over TLS only when told that there is TLS, and then asks for TLS always", async () => {
    const plain = await behindProxy.inject({ url: "/sign-in", headers: { "x-forwarded-proto": "http" } });
    const safe = await behindProxy.inject({ url: "/sign-in", headers: { "x-forwarded-proto": "https" } });
    expect(plain.cookies).toEqual([]);
    expect(safe.cookies).toMatchObject([{ name: "halfmold", secure: true }]);
    expect(safe.headers["strict-transport-security"]).toMatch(/^max-age=31536000/);
  });
});

describe("how long the server knows a browser", () => {
  it("is a day for a visit, two weeks for a sign-in, and what is over is cleared away", async () => {
    const { sql } = application.database;
    const kept = () => sql`select person_id is not null as signed_in, (expires_at - created_at)::text as time
      from sign_ins group by 1, 2 order by 1`;
    await sql`delete from sign_ins`;
    await signIn("/week");
    await application.stranger().get("/sign-in");
    expect(await kept()).toEqual([
      { signed_in: false, time: "1 day" },
      { signed_in: true, time: "14 days" },
    ]);
    application.clock.set("2027-03-02T08:00:01Z");
    await signIn("/week");
    expect(await sql`select 1 from sign_ins where person_id is null`).toHaveLength(0);
    application.clock.set("2027-03-01T08:00:00Z");
  });

  it("does not begin with a page that asks for nothing, nor with the watcher of the server", async () => {
    const { sql } = application.database;
    await sql`delete from sign_ins`;
    for (const url of ["/health", "/orders", "/nowhere"]) await application.stranger().get(url);
    expect(await sql`select 1 from sign_ins`).toHaveLength(0);
  });
});

describe("guessing passwords", () => {
  const guess = async (visitor: Visitor, from: Record<string, string>, email: string) =>
    visitor.send({
      method: "POST",
      url: "/sign-in",
      remoteAddress: from.address ?? "203.0.113.1",
      headers: { "content-type": "application/x-www-form-urlencoded", ...from },
      payload: new URLSearchParams({
        ...{ _csrf: await visitor.csrfToken("/sign-in"), email, password: "a guess", next: "" },
      }).toString(),
    });

  it("is slowed for one address, in words and with the time to wait", async () => {
    const visitor = application.stranger();
    for (let tries = 0; tries < 10; tries += 1)
      expect((await guess(visitor, {}, `somebody${tries}@halfmold.example`)).statusCode).toBe(422);
    const answer = await guess(visitor, {}, "somebody@halfmold.example");
    expect(answer.statusCode).toBe(429);
    expect(answer.body).toContain("Too many tries from here. Wait five minutes, then try again.");
    expect(Number(answer.headers["retry-after"])).toBeGreaterThan(0);
  });

  it("is slowed for one account, from however many addresses it is tried", async () => {
    const visitor = application.stranger();
    const answers: number[] = [];
    for (let tries = 0; tries < 52; tries += 1) {
      const email = tries % 2 ? "moss@halfmold.example" : " Moss@Halfmold.example ";
      answers.push((await guess(visitor, { address: `198.51.100.${tries}` }, email)).statusCode);
    }
    expect(answers.slice(48)).toEqual([422, 422, 429, 429]);
    const other = await guess(visitor, { address: "198.51.100.99" }, "tansy@halfmold.example");
    expect(other.statusCode).toBe(422);
  });

  it("is slowed behind a proxy by the address the proxy tells, not by what the visitor claims", async () => {
    const visitor = new Visitor(behindProxy);
    const answers: number[] = [];
    for (let tries = 0; tries < 11; tries += 1) {
      const claim = { "x-forwarded-for": `10.1.1.${tries}, 203.0.113.77`, "x-forwarded-proto": "https" };
      const page = await visitor.get("/sign-in", { "x-forwarded-proto": "https" });
      expect(page.statusCode).toBe(200);
      const sent = await visitor.send({
        method: "POST",
        url: "/sign-in",
        headers: { "content-type": "application/x-www-form-urlencoded", ...claim },
        payload: `email=claim${tries}%40halfmold.example&password=guess`,
      });
      answers.push(sent.statusCode);
    }
    // Without a page's token every try is refused, and counts all the same.
    expect(answers).toEqual([...Array.from({ length: 10 }, () => 403), 429]);
  });
});

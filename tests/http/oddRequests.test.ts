import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Connection, connect } from "../../db/connect.ts";
import { buildApp } from "../../server/app.ts";
import { createPlanner } from "../../server/plans/plannerPool.ts";
import { firstOwner, useApplication } from "../build/application.ts";
import { insertProduct, insertWorkshop } from "../build/rows.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication();
let owner: Visitor;
let _csrf: string;

beforeAll(async () => {
  owner = await firstOwner(application);
  await insertWorkshop(application.database.db);
  await insertProduct(application.database.db);
  _csrf = await owner.csrfToken("/week");
});

const sendBody = (url: string, type: string, payload: string) =>
  owner.send({ method: "POST", url, headers: { "content-type": type }, payload });
const headline = ({ body }: { readonly body: string }) => /<h1>(.*?)<\/h1>/s.exec(body)?.[1];

describe("addresses that lead nowhere", () => {
  it.each(["/nowhere", "/orders/%E0%A4%A", "/%", "//elsewhere.example", "/orders/1/nothing", "/week/%00"])(
    "%s is a page that does not exist, under the same protection as every page",
    async (url) => {
      const answer = await owner.get(url);
      expect([answer.statusCode, headline(answer)]).toEqual([404, "There is no such page."]);
      expect(answer.headers["content-security-policy"]).toContain("default-src 'none'");
      expect(answer.headers["cache-control"]).toBe("no-store");
      const stranger = await application.stranger().get(url);
      expect([stranger.statusCode, stranger.headers.location]).toEqual([
        303,
        expect.stringMatching(/^\/sign-in\?next=/),
      ]);
    },
  );

  it.each([101, 5000])("a number of %i digits names nothing", async (digits) => {
    for (const [place, thing] of [
      ["orders", "order"],
      ["markets", "market"],
      ["plans", "plan"],
      ["setup/customers", "customer"],
    ]) {
      const answer = await owner.get(`/${place}/${"9".repeat(digits)}`);
      expect([answer.statusCode, headline(answer)]).toEqual([404, `There is no such ${thing}.`]);
    }
  });

  it.each(["POST", "PUT", "PATCH", "DELETE", "OPTIONS"] as const)(
    "%s to a page that is only looked at finds nothing, with or without a token",
    async (method) => {
      expect((await owner.send({ method, url: "/week", headers: {} })).statusCode).toBe(404);
    },
  );

  it("answers HEAD with the headers of the page alone", async () => {
    const answer = await owner.send({ method: "HEAD", url: "/week", headers: {} });
    expect([answer.statusCode, answer.body]).toEqual([200, ""]);
  });
});

describe("a body that is no form", () => {
  const form = () => ({ _csrf, form_token: randomUUID(), productId: "1", units: "3" });

  it.each([
    ["application/json", () => JSON.stringify(form())],
    ["application/json", () => "{"],
    ["text/plain", () => new URLSearchParams(form()).toString()],
    ["application/xml", () => "<form/>"],
    ["multipart/form-data; boundary=x", () => "--x--"],
  ])("of type %s is not looked at", async (type, payload) => {
    const answer = await sendBody("/shelf/ready-stock", type, payload());
    expect([answer.statusCode, headline(answer)]).toEqual([415, "This page takes forms only."]);
    expect(await application.database.sql`select 1 from lots`).toHaveLength(0);
  });

  it("of more than a megabyte is not taken in", async () => {
    const answer = await sendBody(
      "/shelf/ready-stock",
      "application/x-www-form-urlencoded",
      `note=${"x".repeat(1_100_000)}`,
    );
    expect([answer.statusCode, headline(answer)]).toEqual([413, "That is more than can be sent at once."]);
  });
});

describe("a request that never ends", () => {
  it("is cut off after two minutes", () => {
    expect(application.app.server.requestTimeout).toBe(120_000);
  });
});

describe("a file that arrives broken", () => {
  const part = (head: string, content: string) =>
    `--B\r\nContent-Disposition: form-data; ${head}\r\n\r\n${content}\r\n`;
  const token = () => part('name="_csrf"', _csrf);
  const file = part('name="file"; filename="week.csv"', "order,customer");

  it.each([
    ["ends in the middle", "multipart/form-data; boundary=B", () => token() + file.slice(0, -8)],
    ["has no boundary", "multipart/form-data", () => `${token()}${file}--B--\r\n`],
    ["is something else", "multipart/form-data; boundary=B", () => "zzz"],
  ])("because it %s is told to be sent again", async (_why, type, payload) => {
    const answer = await sendBody("/orders/import", type, payload());
    expect([answer.statusCode, headline(answer)]).toEqual([
      400,
      "The file did not arrive whole. Go back and send it again.",
    ]);
  });

  it("is one too many where one is asked for", async () => {
    const answer = await sendBody(
      "/orders/import",
      "multipart/form-data; boundary=B",
      `${token()}${file}${file}--B--\r\n`,
    );
    expect([answer.statusCode, headline(answer)]).toEqual([413, "That is more than can be sent at once."]);
  });
});

describe("an order of tens of thousands of lines", () => {
  it("is refused in one sentence, and as many lines as an order may have are shown again", async () => {
    const lines = "product=1&units=x&".repeat(50_000);
    const answer = await sendBody(
      "/orders/new",
      "application/x-www-form-urlencoded",
      `${new URLSearchParams({ _csrf, form_token: randomUUID(), save: "confirm" })}&${lines}`,
    );
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("One order takes at most 500 lines.");
    expect(answer.body.match(/<select id="lines/g)).toHaveLength(501);
  });
});

describe("a statement that fails", () => {
  it("is logged with what went wrong, and without what was being written", async () => {
    const lines: string[] = [];
    const planner = createPlanner();
    const logging = await buildApp({
      ...{ db: application.database.db, clock: application.clock, planner },
      log: { level: "error", stream: { write: (line: string) => void lines.push(line) } },
      ...{ sessionSecret: "a secret for tests only, long enough", secureCookies: false, trustProxy: false },
    });
    await application.database
      .sql`alter table people add constraint nobody_more check (name <> 'Moss Tansy')`;
    const newcomer = { name: "Moss Tansy", email: "moss@halfmold.example", password: "lavender before dark" };
    const answer = await logging.inject({
      method: "POST",
      url: "/setup/people",
      headers: { "content-type": "application/x-www-form-urlencoded", cookie: owner.cookie },
      payload: new URLSearchParams({ _csrf, form_token: randomUUID(), ...newcomer }).toString(),
    });
    await logging.close();
    await planner.close();
    expect(answer.statusCode).toBe(500);
    expect(lines.join("")).toMatch(/nobody_more.*insert into .*people.*23514/s);
    expect(lines.join("")).not.toMatch(/argon2|moss@|Moss Tansy/);
  });
});

describe("while the database cannot be reached", () => {
  const planner = createPlanner();
  let nowhere: Connection;
  let broken: Awaited<ReturnType<typeof buildApp>>;
  beforeAll(async () => {
    nowhere = connect("postgres://nobody@127.0.0.1:1/nothing", { connections: 1 });
    broken = await buildApp({
      ...{ db: nowhere.db, clock: application.clock, planner, log: false },
      ...{ sessionSecret: "a secret for tests only, long enough", secureCookies: false, trustProxy: false },
    });
  });
  afterAll(async () => {
    await broken.close();
    await planner.close();
    await nowhere.close();
  });

  it.each(["/week", "/sign-in", "/nowhere"])(
    "%s says so in words and tells nothing of the inside",
    async (url) => {
      for (const headers of [{}, { cookie: owner.cookie }]) {
        const answer = await broken.inject({ url, headers });
        expect([answer.statusCode, headline(answer)]).toEqual([
          500,
          "Something went wrong on our side. Nothing was changed; please try again.",
        ]);
        expect(answer.headers["content-security-policy"]).toContain("default-src 'none'");
        expect(answer.body).not.toMatch(/ECONNREFUSED|127\.0\.0\.1|Failed query/);
      }
    },
  );

  it("is not healthy", async () => {
    expect((await broken.inject({ url: "/health" })).statusCode).toBe(503);
  });
});

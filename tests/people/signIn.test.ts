import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { firstOwner, ownerAccount, signedIn, useApplication } from "../build/application.ts";
import type { Visitor } from "../build/visitor.ts";

const application = useApplication();

describe("before there is anybody", () => {
  it("leads every visitor to the welcome page", async () => {
    const answer = await application.stranger().get("/orders");
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/welcome"]);
  });

  it("answers wrong input beside its field, keeps what was typed, and makes nobody", async () => {
    const answer = await application
      .stranger()
      .post("/welcome", { name: "Wren", email: "not an address", password: "short" }, { from: "/welcome" });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("Give an e-mail address");
    expect(answer.body).toContain("Use at least 8 characters");
    expect(answer.body).toContain('value="not an address"');
    expect(await application.database.sql`select 1 from people`).toHaveLength(0);
  });

  it("refuses a form without the page's token", async () => {
    const answer = await application.app.inject({
      method: "POST",
      url: "/welcome",
      headers: { "content-type": "application/x-www-form-urlencoded" },
      payload: new URLSearchParams(ownerAccount).toString(),
    });
    expect(answer.statusCode).toBe(403);
  });
});

describe("once the owner has an account", () => {
  let owner: Visitor;
  beforeAll(async () => {
    owner = await firstOwner(application);
  });

  it("has exactly one owner and shows her the choice of a workshop", async () => {
    const people = await application.database.sql`select role from people`;
    expect(people.map((person) => person.role)).toEqual(["owner"]);
    const answer = await owner.get("/setup/people");
    expect([answer.statusCode, answer.headers.location]).toEqual([303, "/welcome/workshop"]);
  });

  it("keeps the password only as argon2id", async () => {
    const [person] = await application.database.sql`select password_hash from people`;
    expect(person?.password_hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  });

  it("does not let a second visitor make another owner", async () => {
    const late = application.stranger();
    const answer = await late.post("/welcome", { ...ownerAccount, email: "other@halfmold.example" });
    expect(answer.headers.location).toBe("/sign-in");
    expect(await application.database.sql`select 1 from people`).toHaveLength(1);
  });

  it("sends strangers to sign in and then on to where they wanted", async () => {
    const stranger = application.stranger();
    const asked = await stranger.get("/orders?state=draft");
    expect(asked.headers.location).toBe("/sign-in?next=%2Forders%3Fstate%3Ddraft");
    const answer = await stranger.post("/sign-in", { ...ownerAccount, next: "/orders?state=draft" });
    expect(answer.headers.location).toBe("/orders?state=draft");
  });

  it("never leads to another site after signing in", async () => {
    for (const next of ["//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example"]) {
      const answer = await application.stranger().post("/sign-in", { ...ownerAccount, next });
      expect(answer.headers.location).toBe("/week");
    }
  });

  it("answers a wrong password and an unknown address alike", async () => {
    const wrong = await application
      .stranger()
      .post("/sign-in", { ...ownerAccount, password: "wrong", next: "" });
    const unknown = await application
      .stranger()
      .post("/sign-in", { email: "nobody@halfmold.example", password: "wrong", next: "" });
    expect([wrong.statusCode, unknown.statusCode]).toEqual([422, 422]);
    expect(wrong.body).toContain("Address and password do not match.");
    expect(unknown.body).toContain("Address and password do not match.");
  });

  it("ends the sign-in on the server when signing out", async () => {
    const visitor = await signedIn(application, ownerAccount);
    const before = await application.database.sql`select 1 from sign_ins where person_id is not null`;
    await visitor.post("/sign-out", {}, { from: "/welcome/workshop" });
    const after = await application.database.sql`select 1 from sign_ins where person_id is not null`;
    expect(after.length).toBe(before.length - 1);
  });
});

describe("with a workshop", () => {
  const helper = { name: "Fig Underhill", email: "fig@halfmold.example", password: "black tea and oat" };
  let owner: Visitor;
  beforeAll(async () => {
    await application.database.sql`insert into workshop (id, name, time_zone, trays, mixers, bowl_milligrams,
      min_bowl_milligrams, bowl_minutes, mix_minutes, clean_minutes, horizon_days, created_at)
      values (1, 'Tidepool & Thimble', 'UTC', 8, 1, 2600000, 900000, 30, 20, 12, 14, now())`;
    owner = await signedIn(application, ownerAccount);
  });

  it("lets a helper in once, however often the form is sent", async () => {
    const formToken = randomUUID();
    const sendings = await Promise.all(
      [1, 2, 3].map(() => owner.post("/setup/people", helper, { from: "/setup/people", formToken })),
    );
    expect(sendings.map((answer) => answer.statusCode)).toEqual([303, 303, 303]);
    expect(await application.database.sql`select 1 from people where role = 'helper'`).toHaveLength(1);
    expect(await application.database.sql`select 1 from changes where what = 'let in'`).toHaveLength(2);
  });

  it("keeps setup and people from the helper", async () => {
    const fig = await signedIn(application, helper);
    const answer = await fig.get("/setup/people");
    expect(answer.statusCode).toBe(403);
    expect(answer.body).toContain("for the owner of the workshop");
  });

  it("signs a helper out everywhere when she has left", async () => {
    const fig = await signedIn(application, helper);
    const [row] = await application.database.sql`select id from people where role = 'helper'`;
    await owner.post(`/setup/people/${row?.id}/goodbye`, {}, { from: "/setup/people" });
    const answer = await fig.get("/nowhere");
    expect(answer.headers.location).toContain("/sign-in");
  });

  it("shows what people typed as text", async () => {
    await owner.post(
      "/setup/people",
      { name: "<script>alert(1)</script>", email: "x@halfmold.example", password: "long enough" },
      { from: "/setup/people" },
    );
    const page = await owner.get("/setup/people");
    expect(page.body).toContain("&lt;script>alert(1)&lt;/script>");
    expect(page.body).not.toContain("<script>alert");
    expect(page.headers["content-security-policy"]).toContain("script-src 'self'");
  });
});
